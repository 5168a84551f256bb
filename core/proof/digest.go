package proof

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"

	"ribband/core/pack"
)

// digests say what the answers of a proof depend on. Each leaves out what its answers cannot follow from: so an edit of
// a price or a word leaves nearly every answer as it is.
type digests struct {
	boats string // of what boats there are and what is computed of them, but for the rules
	rules string // of that with the rules
	parts string // of what cuts and circuits are measured by, without prices
	words string // that clashes are told in
}

// The indices of options and rules stand in nearly every formula, so that an option more changes both digests; nothing
// that was kept with the old numbers is then read with the new ones.

// digestOf is the SHA-256 of values as they are encoded, in hexadecimal.
func digestOf(values ...any) string {
	text, err := json.Marshal(values)
	if err != nil { // every type of a pack marshals
		panic(fmt.Sprintf("core/proof: taking a digest: %v", err))
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// newDigests takes them of a pack. What is left out is named, so that whatever is added to a pack counts until somebody
// decides otherwise.
func newDigests(p *pack.Pack) (d digests) {
	var private []any
	if p.Costs != nil {
		private = []any{p.Costs.Figures, p.Costs.Circuits, p.Costs.Glass}
		d.parts = digestOf(p.Costs.Cuts, p.Costs.Kept)
	}
	// Without the rules first: bounds know nothing of them, and most formulas are decided by bounds.
	plain := unworded(&p.Public)
	rules := plain.Rules
	plain.Rules = nil
	d.boats = digestOf(plain, private)
	d.rules = digestOf(d.boats, rules)
	d.words = digestOf(p.Hulls, p.Slots, p.Options, p.Rules)
	return d
}

// unworded is the public part without prices, words, and what else no boat depends on.
func unworded(p *pack.Public) pack.Public {
	out := *p
	out.Languages, out.Words, out.Yard, out.Edition, out.Glossary = nil, nil, pack.YardInfo{}, pack.Edition{}, nil
	out.Currency, out.Rounding, out.ValidityDays, out.SigningKeys, out.LockMinutes = "", "", 0, nil, 0
	out.Stages, out.Delivery, out.Exclusions, out.Warranty, out.Terms = nil, nil, nil, nil, nil
	out.Acceptance, out.Cautions, out.Sections, out.Prices, out.LaunchWeeks = "", nil, nil, nil, nil
	out.Brief = nil
	// what remains of these is what boats are made of
	out.Hulls, out.Slots = slices.Clone(p.Hulls), slices.Clone(p.Slots)
	out.Options, out.Rules, out.Regions = slices.Clone(p.Options), slices.Clone(p.Rules), slices.Clone(p.Regions)
	for i := range out.Hulls {
		h := &out.Hulls[i]
		h.Title, h.Note, h.Includes, h.About, h.Pictures = "", "", nil, nil, nil
	}
	for i := range out.Slots {
		s := &out.Slots[i]
		s.Title, s.Note, s.Because, s.NoDiscount = "", "", "", false
	}
	for i := range out.Options {
		o := &out.Options[i]
		o.Title, o.Note, o.Drawn, o.Colour, o.Surface, o.Cushion = "", "", "", "", "", nil
		o.About, o.Pictures = nil, nil
	}
	for i := range out.Rules {
		r := &out.Rules[i]
		r.Because, r.Advice = "", ""
	}
	for i := range out.Regions {
		r := &out.Regions[i]
		r.Title, r.TaxName, r.TaxRate, r.TaxMode, r.Condition = "", "", pack.Region{}.TaxRate, "", ""
	}
	return out
}

// keys are those under which an answer is kept: the last of them follows from everything that the question may read.
// The answer of bounds alone is kept under the first: no rule of the book is in it.
func (d *digests) keys(name string, more ...any) []string {
	short := func(x string) string { return name + " " + x[:24] }
	if len(more) == 0 {
		return []string{short(d.rules)}
	}
	return []string{short(digestOf(d.boats, more)), short(digestOf(d.rules, more))}
}
