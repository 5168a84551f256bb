package publish

import (
	"reflect"
	"slices"

	"ribband/core/book"
	"ribband/core/pack"
)

// The sound part of a book. Boats can be built and priced of a book with faults as long as what is faulty is left out:
// an option that is in no standard build, a rule, a hull. A hull whose standard build has something faulty is left out
// with it, so that nothing is said of a boat that the book does not mean.

// aside are the keys of a book that no boat follows from: what is wrong there keeps nothing from being tried.
var aside = []string{"yard", "edition", "stages", "brief", "glossary", "languages", "translations", "delivery",
	"exclusions", "warranty", "terms", "acceptance", "cautions", "quotation_numbers", "validity_days", "payment_days",
	"discounts",
	"dealers"}

// removable are the lists of which an entry can be left out: what names it is left out next, since it names nothing.
var removable = []string{"hulls", "slots", "rules", "materials", "operations", "shops", "cuts", "offsets", "trials",
	"laminates"}

// maxRounds bounds how often the rest is looked through; each round leaves out what named something of the last.
const maxRounds = 20

// soundPart is a book without what is faulty, and its pack; nil where no boat is left, or what is faulty concerns all
// boats.
func soundPart(b *book.Book, faults []book.Diagnostic) (*book.Book, *pack.Pack) {
	p := &parting{book: b.Copy(), from: b}
	// they name slots, figures and operations, and no boat follows from them
	p.book.Brief, p.book.Stages = book.Brief{}, nil
	for range maxRounds {
		if !p.without(faults) || len(p.book.Hulls) == 0 {
			return nil, nil
		}
		// whatever is wrong now follows from what was taken out, or cannot be built either
		yard, found := Compile(p.book)
		faults = book.Errors(append(append(p.book.Validate(), found...), checkUnits(p.book)...))
		faults = slices.DeleteFunc(faults, func(d book.Diagnostic) bool {
			s, ok := b.SpotOf(d.Position)
			return ok && slices.Contains(aside, s.Key)
		})
		if len(faults) == 0 {
			return p.book, yard
		}
	}
	return nil, nil
}

// parting takes things out of a copy of a book.
type parting struct {
	book, from *book.Book
	// begins of what is taken out
	out map[book.Position]bool
}

// without takes out the entries in which faults stand; false where a fault concerns every boat.
func (p *parting) without(faults []book.Diagnostic) bool {
	p.out = map[book.Position]bool{}
	for _, d := range faults {
		s, ok := p.from.SpotOf(d.Position)
		switch {
		case ok && slices.Contains(aside, s.Key):
		// of a slot that could not be read nobody knows which boats had it
		case !ok, !s.Entry, !slices.Contains(removable, s.Key), s.Lost && s.Key == "slots":
			return false
		default:
			p.out[s.At] = true
		}
	}
	p.hulls()
	b := p.book
	b.Slots = kept(b.Slots, p.stays)
	for i := range b.Slots {
		b.Slots[i].Options = kept(b.Slots[i].Options, p.stays)
	}
	b.Slots = slices.DeleteFunc(b.Slots, func(s book.Slot) bool { return len(s.Options) == 0 })
	b.Rules, b.Materials, b.Operations = kept(b.Rules, p.stays), kept(b.Materials, p.stays), kept(b.Operations, p.stays)
	b.Shops, b.Cuts, b.Laminates = kept(b.Shops, p.stays), kept(b.Cuts, p.stays), kept(b.Laminates, p.stays)
	p.names()
	return true
}

// kept is a list without the entries that do not stay.
func kept[T any](list []T, stays func(reflect.Value) bool) []T {
	return slices.DeleteFunc(list, func(x T) bool { return !stays(reflect.ValueOf(x)) })
}

// stays says whether an entry is not taken out.
func (p *parting) stays(entry reflect.Value) bool { return !p.out[book.Start(entry)] }

// hulls takes out the hulls of which the standard build, the lines or the lay-up have something faulty.
func (p *parting) hulls() {
	b, unsound := p.book, map[string]bool{}
	// as everywhere in a book, no names stand for all hulls
	of := func(names []book.Text) {
		for i := range b.Hulls {
			if id := b.Hulls[i].ID.Value; len(names) == 0 || slices.ContainsFunc(names, named(id)) {
				unsound[id] = true
			}
		}
	}
	// an option that is missing from a standard build makes another boat of it, and often one that clashes
	for _, s := range b.Slots {
		whole := !p.stays(reflect.ValueOf(s))
		for i := range b.Hulls {
			hull := &b.Hulls[i]
			for _, n := range s.StandardOf(hull.ID.Value) {
				o := slices.IndexFunc(s.Options, func(o book.Option) bool { return o.ID.Value == n.Option.Value })
				if whole || o < 0 || !p.stays(reflect.ValueOf(s.Options[o])) {
					of([]book.Text{hull.ID})
				}
			}
		}
	}
	// the shell weighs less without a lay-up, and floats on no lines without its offsets
	for i := range b.Laminates {
		if !p.stays(reflect.ValueOf(b.Laminates[i])) {
			of(b.Laminates[i].Hulls)
		}
	}
	for i := range b.Offsets {
		if !p.stays(reflect.ValueOf(b.Offsets[i])) {
			of([]book.Text{b.Offsets[i].Hull})
		}
	}
	for i := range b.Trials {
		if !p.stays(reflect.ValueOf(b.Trials[i])) {
			of([]book.Text{b.Trials[i].Hull})
		}
	}
	b.Hulls = slices.DeleteFunc(b.Hulls, func(h book.Hull) bool {
		return unsound[h.ID.Value] || !p.stays(reflect.ValueOf(h))
	})
}

// named says whether a text is a name.
func named(id string) func(book.Text) bool { return func(t book.Text) bool { return t.Value == id } }

// names takes out what names the hulls and options that are gone, where that may be left out by itself. An entry that
// was for these hulls alone goes as a whole: without names it would be for all.
func (p *parting) names() {
	b := p.book
	hulls, options := map[string]bool{}, map[string]bool{}
	for _, h := range b.Hulls {
		hulls[h.ID.Value] = true
	}
	for _, s := range b.Slots {
		for _, o := range s.Options {
			options[o.ID.Value] = true
		}
	}
	// what could be had alone is had no more, and what it asked of another option is asked no more
	gone := func(known map[string]bool) func(book.Text) bool {
		return func(t book.Text) bool { return !known[t.Value] }
	}
	none := func(list *[]book.Text) bool {
		had := len(*list) > 0
		*list = slices.DeleteFunc(*list, gone(hulls))
		return had && len(*list) == 0
	}
	links := func(list []book.Link) []book.Link {
		for i := range list {
			list[i].AnyOf = slices.DeleteFunc(list[i].AnyOf, gone(options))
		}
		return slices.DeleteFunc(list, func(l book.Link) bool { return len(l.AnyOf) == 0 })
	}
	counts := func(list []book.Count) []book.Count {
		return slices.DeleteFunc(list, func(c book.Count) bool { return !options[c.Option.Value] })
	}
	b.Slots = slices.DeleteFunc(b.Slots, func(s book.Slot) bool { return none(&s.Hulls) })
	for i := range b.Slots {
		s := &b.Slots[i]
		s.Options = slices.DeleteFunc(s.Options, func(o book.Option) bool { return none(&o.Hulls) })
		for k := range s.Options {
			s.Options[k].Requires, s.Options[k].Excludes = links(s.Options[k].Requires), links(s.Options[k].Excludes)
		}
		s.Standard.All = counts(s.Standard.All)
		s.Standard.ByHull = slices.DeleteFunc(s.Standard.ByHull,
			func(x book.Pair[[]book.Count]) bool { return !hulls[x.Key.Value] })
		for k := range s.Standard.ByHull {
			s.Standard.ByHull[k].Value = counts(s.Standard.ByHull[k].Value)
		}
	}
	// tables and layouts of what is gone would name nothing
	b.Equipment = slices.DeleteFunc(b.Equipment, func(e book.Equipment) bool { return none(&e.Hulls) })
	b.Laminates = slices.DeleteFunc(b.Laminates, func(l book.Laminate) bool { return none(&l.Hulls) })
	b.Offsets = slices.DeleteFunc(b.Offsets, func(o book.Offsets) bool { return !hulls[o.Hull.Value] })
	b.Trials = slices.DeleteFunc(b.Trials, func(t book.Trial) bool { return !hulls[t.Hull.Value] })
	for i := range b.Cuts {
		for k := range b.Cuts[i].Stocks {
			s := &b.Cuts[i].Stocks[k]
			s.Options = slices.DeleteFunc(s.Options, gone(options))
		}
		b.Cuts[i].Stocks = slices.DeleteFunc(b.Cuts[i].Stocks,
			func(s book.CutStock) bool { return len(s.Options) == 0 })
	}
	b.Cuts = slices.DeleteFunc(b.Cuts, func(c book.Cut) bool { return len(c.Stocks) == 0 })
}
