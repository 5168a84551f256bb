// Package pack is the compiled book: what one desk needs of one edition, and nothing else. The engine runs on packs
// only.
//
// A pack has parts. [Public] is for everybody; [Selling] is by what somebody quotes, the yard's own people and its
// dealers; [Costs] is what prices and margins follow from, for the yard's own people; [Work] is what the yard alone
// reads. What a desk can do follows from the parts that its pack holds, see
// [Pack.Can]. Each type belongs to the part that reaches it, so that a field is published with the part on whose type
// it stands, and with no other. Package core/publish makes packs from books, part by part and field by field.
//
// Everything that refers to something else does so by index into the lists of the pack. [Decode] checks every index and
// every formula, so that no pack, however damaged, makes the engine panic.
package pack

import (
	"encoding/json"
	"fmt"
	"slices"

	"ribband/core/formula"
)

// Format is the version of the encoding. A pack of another version is refused.
const Format = 1

// Pack is one edition of a book as one desk sees it.
type Pack struct {
	Format int `json:"format"`
	// for whom it is published; what it can do follows from the parts
	Desk Desk `json:"desk"`
	Public
	Selling *Selling `json:"selling,omitempty"` // nil on the buyer's desk
	Costs   *Costs   `json:"costs,omitempty"`   // nil on a dealer's desk, too
	Work    *Work    `json:"work,omitempty"`    // the yard's alone
	// the show's desk where it may read launch weeks
	Planning *ShowPlanning `json:"planning,omitempty"`

	// What the parts know together, in the order of indices; see [Pack.Assemble]. Not encoded.
	Figures  []Figure  `json:"-"`
	Circuits []Circuit `json:"-"`

	// What is in the files of the pictures, by name, for whoever makes a site of the pack. Not encoded: they lie beside
	// it.
	Photos map[string][]byte `json:"-"`

	// Of a pack in another language: the one in the book's first language that it was made of; see [Pack.In].
	first *Pack
}

// Assemble puts together what several parts hold of one list: the figures of the public part, then those of the costs;
// and the circuits in the order of the book. It is called whenever the parts of a pack have been set or changed.
func (p *Pack) Assemble() {
	p.Figures, p.Circuits = p.Public.Figures, p.Public.Circuits
	if p.Costs == nil {
		return
	}
	// in lists of its own, so that nothing of the costs can come into the public part
	p.Figures = slices.Concat(p.Public.Figures, p.Costs.Figures)
	p.Circuits = slices.Clone(p.Public.Circuits)
	for _, x := range p.Costs.Circuits { // in ascending order of their places
		p.Circuits = slices.Insert(p.Circuits, x.Place, x.Circuit)
	}
}

// Space is the size of the pack as formulas see it.
func (p *Pack) Space() formula.Space {
	return formula.Space{Options: len(p.Options), Slots: len(p.Slots), Hull: len(p.HullFields), Use: len(p.Use),
		Figures: len(p.Figures)}
}

// Encode writes the pack. The same pack gives the same bytes, so that a site published twice is the same site.
func (p *Pack) Encode() ([]byte, error) { return json.Marshal(p) }

// maxBytes bounds a pack read from outside: a hundred times a large book's.
const maxBytes = 64 << 20

// Decode reads what Encode writes and checks it.
func Decode(text []byte) (*Pack, error) {
	if len(text) > maxBytes {
		return nil, fmt.Errorf("reading a pack: %d bytes; at most %d", len(text), maxBytes)
	}
	p := &Pack{}
	if err := json.Unmarshal(text, p); err != nil {
		return nil, fmt.Errorf("reading a pack: %w", err)
	}
	// before anything else: another format may mean something else by the same words
	if p.Format != Format {
		return nil, fmt.Errorf("reading a pack: it is of format %d, this engine reads format %d; publish the book "+
			"again", p.Format, Format)
	}
	if err := p.check(); err != nil {
		return nil, fmt.Errorf("reading a pack: %w", err)
	}
	return p, nil
}
