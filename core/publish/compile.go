// Package publish makes packs from a book: it checks and lowers every formula, and gives each desk what it may see.
//
// [Compile] makes the yard's pack, which holds everything; [Tabulate] lists its sell prices. [For] makes another desk's
// from it: the show's without suppliers, and the buyer's, which keeps the prices and has no cost, rate, margin or hour
// in it. The package runs natively only.
//
// A book with an error gives no pack at all. What is likely a slip is a warning, found by trying formulas out on the
// standard builds and on each option of its own; what holds of every boat is proved by core/proof, whose findings
// [Prove] brings to their places in the book. It reads no clock and asks no network: the same book gives the same
// packs, to the byte.
package publish

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/formula/source"
	"ribband/core/pack"
	"ribband/core/suggest"
)

// Compile makes the yard's pack of a book, and reports every formula that is wrong. The pack can be used where neither
// that nor [book.Book.Validate] finds anything; of another book it is for nothing, and names that lead nowhere are
// passed over. Lowering is the last time that the text of a formula is read: the pack has it as postfix, which every
// desk runs and none can misread. Names become indices, so that a pack names nothing twice. What is wrong is collected,
// and the compiler goes on, since an owner mends a file at a time.
func Compile(b *book.Book) (*pack.Pack, []book.Diagnostic) {
	c := &compiler{book: inBuildOrder(b), pack: &pack.Pack{Format: pack.Format, Desk: pack.Yard,
		Public: pack.Public{RegionField: -1}, Selling: &pack.Selling{}, Costs: &pack.Costs{}, Work: &pack.Work{}}}
	// everything has its index before the first formula is lowered: formulas read in all directions
	c.index()
	c.scope = c.formulaScope()
	// each part by itself; what formulas read is known by now
	c.terms()
	c.uses()
	c.figures()
	c.selling()
	c.costs()
	c.work()
	c.stock()
	c.hulls()
	c.slots()
	c.rules()
	c.laminates()
	c.cuts()
	c.circuits()
	c.brief()
	// last, since both ask what the lowered formulas read
	c.figureCircle()
	c.yardOnly()
	takeDigests(c.pack)
	c.pack.Leave(nil)
	return c.pack, c.diagnostics
}

// inBuildOrder is the book with its slots in the order of the sections, whatever the order of the files, and the
// figures that no buyer knows behind the others, where their indices are none of his. Files are read in the order of
// their paths, which says nothing of a boat; papers and page go through it as it is built.
func inBuildOrder(b *book.Book) *book.Book {
	place := map[string]int{}
	// a section that is not there was reported, and counts as the first
	for i, s := range b.Sections {
		place[s.ID.Value] = i
	}
	// the book itself stays as it was read: its digest goes by its own order
	sorted := *b
	sorted.Slots = slices.Clone(b.Slots)
	slices.SortStableFunc(sorted.Slots, func(x, y book.Slot) int {
		return place[x.Section.Value] - place[y.Section.Value]
	})
	last := func(f book.Figure) int {
		if figures.YardOnly(figures.ID(f.Computed.Value)) {
			return 1
		}
		return 0
	}
	sorted.Figures = slices.Clone(b.Figures)
	slices.SortStableFunc(sorted.Figures, func(x, y book.Figure) int { return last(x) - last(y) })
	return &sorted
}

// compiler walks the book once, in its order.
type compiler struct {
	// in build order; what [book.Book.Validate] has checked is relied upon
	book *book.Book
	// the yard's, in the making
	pack *pack.Pack
	// what formulas may name
	scope       *source.Scope
	diagnostics []book.Diagnostic
	// index of each identifier, by kind: those of different kinds may be alike
	ids map[string]map[string]int
}

// error notes what no desk could compute: the compiler has no warnings.
func (c *compiler) error(at book.Position, advice, format string, args ...any) {
	c.diagnostics = append(c.diagnostics, book.Diagnostic{Position: at, Message: fmt.Sprintf(format, args...),
		Advice: advice})
}

// index numbers everything as the pack will. Indices are what a pack is held together by: they count from 0 in the
// order of the book, options through all slots.
func (c *compiler) index() {
	b := c.book
	c.ids = map[string]map[string]int{}
	add := func(kind string, id book.Text) {
		if c.ids[kind] == nil {
			c.ids[kind] = map[string]int{}
		}
		c.ids[kind][id.Value] = len(c.ids[kind])
	}
	for _, x := range b.Sections {
		add("section", x.ID)
	}
	for _, x := range b.HullFields {
		add("hull field", x.ID)
	}
	for _, x := range b.Use {
		add("use", x.ID)
	}
	for _, x := range b.Figures {
		add("figure", x.ID)
	}
	for _, x := range b.Regions {
		add("region", x.ID)
	}
	for _, x := range b.Shops {
		add("shop", x.ID)
	}
	for _, x := range b.Operations {
		add("operation", x.ID)
	}
	for _, x := range b.Materials {
		add("material", x.ID)
	}
	for _, x := range b.Hulls {
		add("hull", x.ID)
	}
	for _, x := range b.Cuts {
		add("cut", x.ID)
	}
	for _, x := range b.Circuits {
		add("circuit", x.ID)
	}
	for _, s := range b.Slots {
		add("slot", s.ID)
		for _, o := range s.Options {
			add("option", o.ID)
		}
	}
}

// formulaScope is what names a formula may read, with their indices.
func (c *compiler) formulaScope() *source.Scope {
	s := &source.Scope{
		Options: map[string]source.Option{}, Slots: map[string]source.Slot{}, Use: map[string]source.Use{},
		Hulls: c.ids["hull"], Hull: c.ids["hull field"], Figures: c.ids["figure"],
	}
	for i, slot := range c.book.Slots {
		s.Slots[slot.ID.Value] = source.Slot{Index: i, Multiple: slot.Choose.Value == "multiple"}
		for _, o := range slot.Options {
			s.Options[o.ID.Value] = source.Option{Index: c.ids["option"][o.ID.Value], Slot: i}
		}
	}
	for i, u := range c.book.Use {
		s.Use[u.ID.Value] = source.Use{Index: i, Choices: c.choices(u)}
	}
	return s
}

// choices are the words that a choice of the use may be, by their index; nil where it is a number.
func (c *compiler) choices(u book.UseField) map[string]int {
	// the regions are asked by the same index for tax and limits
	if u.Choices.FromRegions {
		return c.ids["region"]
	}
	if len(u.Choices.List) == 0 {
		return nil
	}
	m := map[string]int{}
	for i, x := range u.Choices.List {
		m[x.ID.Value] = i
	}
	return m
}

// lower checks a formula of the book and gives its lowered form.
func (c *compiler) lower(f book.Formula, kind formula.Kind) formula.Program {
	// an empty program stands for what the book leaves out: each reader says what that means
	if f.Empty() {
		return formula.Program{}
	}
	// wrong formulas give an empty program, too, so that the compiler can go on; nothing is made of the pack
	p, err := source.Lower(f.Value, c.scope, kind)
	if err != nil && !c.lost(f, err.Offset) {
		c.diagnostics = append(c.diagnostics, book.Diagnostic{Position: f.Position(err.Offset),
			Width: f.Token(err.Offset), Advice: err.Advice,
			Message: fmt.Sprintf("in %q: %s", suggest.Clip(f.Value, 80), err.Message)})
	}
	return p
}

// lost says whether the name at a byte of a formula stands where the book could not be read.
func (c *compiler) lost(f book.Formula, offset int) bool {
	name := []rune(f.Value[min(offset, len(f.Value)):])
	word := strings.Trim(string(name[:min(len(name), f.Token(offset))]), `"'`)
	if _, field, ok := strings.Cut(word, "."); ok {
		word = field
	}
	return c.book.Follows(word)
}

// place registers where something stands, with the text of its formula. The yard's papers name it beside each amount,
// so that an owner finds what a cost comes from.
func (c *compiler) place(at book.Position, text string) int {
	w := c.pack.Work
	w.Sources = append(w.Sources, pack.Source{File: at.File, Line: at.Line, Column: at.Column, Text: text})
	return len(w.Sources) - 1
}
