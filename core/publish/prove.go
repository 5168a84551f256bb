package publish

import (
	"fmt"
	"io/fs"
	"slices"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/spec"
)

// Diagnostic is one of a book, and where a proof found it the boat that shows it; nil where none does. What a proof
// could neither prove nor refute is a warning.
type Diagnostic struct {
	book.Diagnostic
	Witness *spec.Spec `json:"witness,omitempty" jsonschema:"description=a boat that shows it"`
}

// Prove proves the book in a folder, with what is kept of earlier proofs where how says so, given the yard's pack that
// [Load] made of it. Files are those that were parsed already. It takes too long for a page to wait for.
func Prove(folder fs.FS, files *source.Cache, yard *pack.Pack, how proof.How) (*proof.Proof, []Diagnostic, error) {
	// read again for the places alone, which no pack has
	read, diagnostics, err := files.Read(folder)
	// somebody wrote to the folder between the two
	if err != nil || len(book.Errors(diagnostics)) > 0 {
		return nil, nil, fmt.Errorf("proving a book: it is not the one that was loaded: %v %w", diagnostics, err)
	}
	engine, err := engine.Compile(yard)
	if err != nil {
		return nil, nil, fmt.Errorf("proving a book: %w", err)
	}
	p, err := proof.Prove(engine, how)
	if err != nil {
		return nil, nil, err
	}
	at := places(read)
	var list []Diagnostic
	for _, f := range p.Diagnostics {
		// what is proved is an error, and what is open a warning: it can be meant so
		grade := book.Error
		if f.Open {
			grade = book.Warning
		}
		list = append(list, Diagnostic{read.Excerpted(book.Diagnostic{Position: at.of(&f, yard), Grade: grade,
			Message: f.Message, Advice: f.Advice}), f.Witness})
	}
	// as Load does: errors first
	slices.SortStableFunc(list, func(a, b Diagnostic) int { return int(a.Grade) - int(b.Grade) })
	return p, list, nil
}

// positions are where things of a pack stand in its book. They have the order of the pack: by build order, and rules of
// links behind those of the book.
type positions struct {
	hulls, slots, options []book.Position
	// those of the book, then those of links
	rules         []book.Position
	figures, uses []book.Position
}

// places lists where everything stands, by its index in the pack.
func places(b *book.Book) (at positions) {
	b = inBuildOrder(b)
	for _, h := range b.Hulls {
		at.hulls = append(at.hulls, h.ID.At)
	}
	for _, r := range b.Rules {
		at.rules = append(at.rules, r.ID.At)
	}
	// options follow their slots, and links their options
	for _, s := range b.Slots {
		at.slots = append(at.slots, s.ID.At)
		for _, o := range s.Options {
			at.options = append(at.options, o.ID.At)
			for _, links := range [][]book.Link{o.Requires, o.Excludes} {
				// the compiler makes a rule of each link, in this order
				for _, l := range links {
					at.rules = append(at.rules, l.At)
				}
			}
		}
	}
	for _, f := range b.Figures {
		at.figures = append(at.figures, f.ID.At)
	}
	for _, u := range b.Use {
		at.uses = append(at.uses, u.ID.At)
	}
	return at
}

// of is where a diagnostic of the proof stands in the book.
func (at positions) of(f *proof.Diagnostic, p *pack.Pack) book.Position {
	list := at.options
	switch f.Kind {
	case proof.NoEffect:
		list = at.rules
	case proof.DeadEnd:
		list = at.uses
	case proof.OfBoats:
		list = at.hulls
	case proof.Unsafe:
		return at.formula(f.Formula, p)
	}
	// the index counts within its kind
	return list[f.Index]
}

// formula is where one stands, or else whose it is.
func (at positions) formula(f *proof.Formula, p *pack.Pack) book.Position {
	if f.At >= 0 {
		s := p.Work.Sources[f.At]
		return book.Position{File: s.File, Line: s.Line, Column: s.Column}
	}
	// a formula that the program made itself, of a link or of a laminate, stands where its owner does
	switch f.Owner {
	case proof.OfHull:
		return at.hulls[f.Index]
	case proof.OfSlot:
		return at.slots[f.Index]
	case proof.OfRule:
		return at.rules[f.Index]
	case proof.OfFigure:
		return at.figures[f.Index]
	}
	return at.options[f.Index]
}
