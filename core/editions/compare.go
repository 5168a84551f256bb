package editions

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ribband/core/book"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/spec"
)

// Comparison is what a newer edition has otherwise than an older one. Each difference stands in one place: what came or
// went is not compared any further, and an option of a slot that went is not named beside it.
type Comparison struct {
	Standards []StandardMove `json:"standards,omitempty"`
	Options   []Move         `json:"options,omitempty"`
	Added     []Thing        `json:"added,omitempty"`
	Removed   []Thing        `json:"removed,omitempty"`
	Keys      []KeyMove      `json:"keys,omitempty"`
	Lost      []Lost         `json:"lost,omitempty"`
	Tried     Tried          `json:"tried"`
}

// StandardMove is a standard build that is not what it was.
type StandardMove struct {
	Was     Standard     `json:"was"`
	Now     Standard     `json:"now"`
	Figures []FigureMove `json:"figures,omitempty"` // those that differ
}

// FigureMove is a figure as it was stated and is.
type FigureMove struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Was   string `json:"was"`
	Now   string `json:"now"`
}

// Thing is something that a book has: a hull, slot, option, material, operation, rule or region.
type Thing struct {
	Kind  string `json:"kind"`
	ID    string `json:"id"`
	Title string `json:"title"` // of a rule, what a buyer is told
}

// KeyMove is a key that says something else, of a rule, slot or region that both books have; or other pictures of a
// hull or an option.
type KeyMove struct {
	Kind string `json:"kind"`
	ID   string `json:"id"`
	Key  string `json:"key"`
	Was  string `json:"was"`
	Now  string `json:"now"`
}

// Lost is a boat that the older book allows and the newer one does not. What else was tried and is lost for the same
// reason is counted and not listed.
type Lost struct {
	What   string    `json:"what"` // "option ID on HULL", or where the boat was found
	Why    string    `json:"why"`
	Proved bool      `json:"proved"` // else no boat was found, and there may be one
	Boat   spec.Spec `json:"boat"`
	Others int       `json:"others,omitempty"`
}

// Tried is what was asked of the newer book; boats are those that the older one allows.
type Tried struct {
	Specs   int `json:"specs"`
	Sample  int `json:"sample"`
	Options int `json:"options"` // options by hull, each in some boat
	Without int `json:"without"` // boats with something that was removed, which are not judged
}

// Trial is a boat to try: one of a file, by its name, or one of a sample, without any.
type Trial struct {
	Name string
	Spec spec.Spec
}

// Compare sets a newer edition beside an older one, and tries boats on it. The error says that a book has no answer on
// some hull.
func Compare(was, now Edition, trials []Trial) (*Comparison, error) {
	// by the texts of the books: a pack has neither the words of a formula nor the order in which they stand
	c := &comparer{was: was, now: now}
	c.things()
	c.keys()
	// options and standard builds as both books price them
	before, err := ProfileOf(was.Engine)
	if err != nil {
		return nil, fmt.Errorf("the older book: %w", err)
	}
	after, err := ProfileOf(now.Engine)
	if err != nil {
		return nil, fmt.Errorf("the newer book: %w", err)
	}
	c.Options = Moves(before, after)
	c.standards(before, after)
	// last, since it takes longest: what an option lost tells is not told again by the boats
	c.options()
	for _, t := range trials {
		if err := c.try(t); err != nil {
			return nil, fmt.Errorf("%s: %w", t.Name, err)
		}
	}
	return &c.Comparison, nil
}

// comparer compares.
type comparer struct {
	Comparison
	was, now Edition
}

// Standard builds stand first on the paper: what moves in them moves for everybody.

// standards notes the standard builds that differ.
func (c *comparer) standards(before, after *Profile) {
	for _, now := range after.Standards {
		i := find(before.Standards, now.Hull, func(s *Standard) string { return s.Hull })
		if i < 0 { // a new hull is named among what was added
			continue
		}
		// figures that only one of the two has are no move; the book says which it has
		m := StandardMove{Was: before.Standards[i], Now: now}
		for _, f := range now.Figures {
			j := find(m.Was.Figures, f.ID, func(x *Figure) string { return x.ID })
			if j >= 0 && m.Was.Figures[j].Text != f.Text {
				m.Figures = append(m.Figures, FigureMove{f.ID, f.Title, m.Was.Figures[j].Text, f.Text})
			}
		}
		was := &m.Was
		if len(m.Figures) > 0 || !was.Net.Equal(now.Net) || !was.Total.Equal(now.Total) || !was.Cost.Equal(now.Cost) ||
			was.Hours != now.Hours {
			c.Standards = append(c.Standards, m)
		}
	}
}

// An identifier that was changed is one thing that went and one that came: orders and links hold the old one, so that
// it is told.

// things notes what came and went.
func (c *comparer) things() {
	// by name, since a name is what orders and quotations hold
	was, now := thingsOf(c.was.Book), thingsOf(c.now.Book)
	for _, t := range now {
		if !holds(was, t) {
			c.Added = append(c.Added, t.Thing)
		}
	}
	for _, t := range was {
		if !holds(now, t) {
			c.Removed = append(c.Removed, t.Thing)
		}
	}
}

// placed is a thing with what it belongs to: it is not named where that is not in both books.
type placed struct {
	Thing
	in []Thing
}

// holds says whether a list of things has one, or lacks what it belongs to.
func holds(list []placed, t placed) bool {
	// a book has some thousand of them: looking through them takes no time that anybody would see
	has := func(x Thing) bool {
		return slices.ContainsFunc(list, func(p placed) bool { return p.Kind == x.Kind && p.ID == x.ID })
	}
	// a slot that came or went is named, and its options are not
	for _, x := range t.in {
		if !has(x) {
			return true
		}
	}
	return has(t.Thing)
}

// thingsOf are the things of a book, in its order.
func thingsOf(b *book.Book) (list []placed) {
	add := func(kind string, id, title book.Text, in ...Thing) {
		list = append(list, placed{Thing{kind, id.Value, title.Value}, in})
	}
	for _, h := range b.Hulls {
		add("hull", h.ID, h.Title)
	}
	// what belongs to something else says so
	for i := range b.Slots {
		s := &b.Slots[i]
		add("slot", s.ID, s.Title)
		slot := Thing{Kind: "slot", ID: s.ID.Value}
		for j := range s.Options {
			o := &s.Options[j]
			add("option", o.ID, o.Title, slot)
			option := Thing{Kind: "option", ID: o.ID.Value}
			// made for a hull or not: named beside the option only where both stay
			for _, h := range b.Hulls {
				if made(o.Hulls, h.ID) && made(s.Hulls, h.ID) {
					on := book.Text{Value: o.ID.Value + " on " + h.ID.Value}
					add("option", on, o.Title, slot, option, Thing{Kind: "hull", ID: h.ID.Value})
				}
			}
			// what an option requires and excludes are rules without a name
			for i, links := range [][]book.Link{o.Requires, o.Excludes} {
				what := []string{"requires", "excludes"}[i]
				for _, l := range links {
					id := book.Text{Value: o.ID.Value + " " + what + " " + strings.Join(texts(l.AnyOf), ", ")}
					add("rule", id, l.Because, slot, option)
				}
			}
		}
	}
	for _, m := range b.Materials {
		add("material", m.ID, m.Title)
	}
	for _, o := range b.Operations {
		add("operation", o.ID, o.Title)
	}
	for _, r := range b.Rules {
		add("rule", r.ID, r.Because)
	}
	for _, r := range b.Regions {
		add("region", r.ID, r.Title)
	}
	return list
}

// texts are the values of a list.
func texts(list []book.Text) (values []string) {
	for _, t := range list {
		values = append(values, t.Value)
	}
	return values
}

// made says whether a list of hulls has one; an empty one has all.
func made(hulls []book.Text, hull book.Text) bool {
	return len(hulls) == 0 || slices.ContainsFunc(hulls, func(h book.Text) bool { return h.Value == hull.Value })
}

// What a boat is allowed or taxed by is compared key by key, since nothing else on the paper need show it: a boat that
// is allowed besides is lost nowhere, and a standard build is taxed in one region alone.

// keyed is a thing with keys that are compared: names and values by turns.
type keyed struct {
	kind, id string
	keys     []string
}

// Not compared are texts for the eye alone, such as titles and notes: translators change them by the hundred. Pictures
// are few, and a wrong one sells the wrong boat.

// pictured are pictures by file and the beginning of the digest of what the page shows: a file may be replaced under
// its name.
func pictured(list []book.Picture) string {
	var files []string
	for i := range list {
		file := list[i].File.Value
		if shown := list[i].Shown(); len(shown) > 0 {
			file += fmt.Sprintf(" (%.3x)", sha256.Sum256(shown[0].Bytes))
		}
		files = append(files, file)
	}
	return strings.Join(files, ", ")
}

// keysOf are the rules, slots and regions of a book with what is compared of them, and the pictures.
func keysOf(b *book.Book) (list []keyed) {
	for _, r := range b.Rules {
		list = append(list, keyed{"rule", r.ID.Value, []string{"when", r.When.Value, "need", r.Need.Value,
			"because", r.Because.Value, "advice", r.Advice.Value}})
	}
	// options of a slot are told one by one, as things and as moves; of their looks only pictures
	for i := range b.Slots {
		s := &b.Slots[i]
		list = append(list, keyed{"slot", s.ID.Value, []string{"choose", s.Choose.Value, "least", number(s.Least),
			"most", number(s.Most), "when", s.When.Value, "because", s.Because.Value}})
		for j := range s.Options {
			o := &s.Options[j]
			list = append(list, keyed{"option", o.ID.Value, []string{"pictures", pictured(o.Pictures)}})
		}
	}
	for _, h := range b.Hulls {
		list = append(list, keyed{"hull", h.ID.Value, []string{"pictures", pictured(h.Pictures)}})
	}
	for _, r := range b.Regions {
		rate := "" // a zero-rated region gives none
		if r.Tax.Rate.Given() {
			rate = r.Tax.Rate.Value.String()
		}
		list = append(list, keyed{"region", r.ID.Value, []string{"tax.name", r.Tax.Name.Value, "tax.rate", rate,
			"tax.mode", r.Tax.Mode.Value, "tax.condition", r.Tax.Condition.Value, "limits", r.Limits.Value}})
	}
	return list
}

// Numbers are compared as the book has them, so that 5 and 5.0 are one.

// number is a number as a book writes it, and nothing where it gives none.
func number(n book.Number) string {
	if !n.Given() {
		return ""
	}
	return strconv.FormatFloat(n.Value, 'f', -1, 64)
}

// keys notes what rules, slots and regions that both books have say otherwise. Blanks of a formula tell nothing.
func (c *comparer) keys() {
	was := keysOf(c.was.Book)
	for _, now := range keysOf(c.now.Book) {
		i := slices.IndexFunc(was, func(x keyed) bool { return x.kind == now.kind && x.id == now.id })
		if i < 0 { // it is named among what was added
			continue
		}
		// both lists are made by one function, so that their keys stand in one order
		for k := 0; k < len(now.keys); k += 2 {
			a, b := strings.Fields(was[i].keys[k+1]), strings.Fields(now.keys[k+1])
			if !slices.Equal(a, b) {
				c.Keys = append(c.Keys, KeyMove{now.kind, now.id, now.keys[k], strings.Join(a, " "),
					strings.Join(b, " ")})
			}
		}
	}
}

// try judges a boat that the older book allows by the newer one.
func (c *comparer) try(t Trial) error {
	// only what could be had can be lost
	a, err := c.was.Engine.Answer(t.Spec)
	if err != nil || len(a.Build.Clashes)+len(a.Notes) > 0 {
		return nil // no boat of the older book: some specs of a folder clash on purpose
	}
	if t.Name == "" {
		c.Tried.Sample++
	} else {
		c.Tried.Specs++
	}
	if find(c.now.Engine.Pack.Hulls, t.Spec.Hull, func(h *pack.Hull) string { return h.ID }) < 0 {
		c.Tried.Without++
		return nil
	}
	// a boat of the sample is settled in every slot, so that its clash is a proof; of a spec the search has to say
	b, err := c.now.Engine.Answer(t.Spec)
	switch {
	case err != nil:
		return err
	case len(b.Notes) > 0: // what it lacks is named among what was removed
		c.Tried.Without++
	case len(b.Build.Clashes) > 0:
		what := "a boat of the sample"
		if t.Name != "" {
			what = t.Name
		}
		c.lose(Lost{What: what, Why: because(c.now.Engine, b.Build), Proved: b.Build.Status == fit.Infeasible,
			Boat: t.Spec})
	}
	return nil
}

// lose notes a lost boat, or counts it where one is lost for the same reason already.
func (c *comparer) lose(l Lost) {
	// one boat shows a reason; forty alike would hide the next
	i := slices.IndexFunc(c.Lost, func(x Lost) bool { return x.Why == l.Why })
	if i < 0 {
		c.Lost = append(c.Lost, l)
		return
	}
	c.Lost[i].Others++
}

// because are the reasons of a boat's clashes.
func because(e *engine.Engine, b *fit.Build) string {
	var list []string
	for _, c := range b.Clashes {
		// a search for an option asks by a rule of its own, which has no words
		if text := e.Text(engine.Because(c)); text != "" && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return strings.Join(list, " ")
}

// A use is not varied: a boat that can be had for another use alone is not looked for, and the paper says so.

// options asks the newer book for each option that the older one allows on a hull, for the use that each assumes. The
// boat of the older book is tried first: where it is allowed still, nothing has to be searched.
func (c *comparer) options() {
	was, now := c.was.Engine, c.now.Engine
	for h := range was.Pack.Hulls {
		hull := find(now.Pack.Hulls, was.Pack.Hulls[h].ID, func(x *pack.Hull) string { return x.ID })
		for o := range was.Pack.Options {
			option := find(now.Pack.Options, was.Pack.Options[o].ID, func(x *pack.Option) string { return x.ID })
			// what went is named already
			if hull < 0 || option < 0 || !was.Made(o, h) || !now.Made(option, hull) {
				continue
			}
			// what the older book never had is no loss
			b, _ := had(was, h, o)
			if len(b.Clashes) > 0 {
				continue
			}
			c.Tried.Options++
			settled := fit.Choices{Settled: slices.Repeat([]bool{true}, len(was.Pack.Slots)), Counts: b.State.Counts}
			s := was.SpecOf(h, was.StandardUse(), settled)
			a, err := now.Answer(s)
			if err == nil && len(a.Build.Clashes)+len(a.Notes) == 0 {
				continue
			}
			found, status := had(now, hull, option)
			if len(found.Clashes) == 0 {
				continue
			}
			// the older boat says which rule keeps it; what it lacks besides is named among what was removed
			why := because(now, found)
			if err == nil && len(a.Build.Clashes) > 0 {
				why = because(now, a.Build)
			}
			c.Lost = append(c.Lost, Lost{What: fmt.Sprintf("option %s on %s", was.Pack.Options[o].ID,
				was.Pack.Hulls[h].ID), Why: why, Proved: status == fit.Infeasible, Boat: s})
		}
	}
}
