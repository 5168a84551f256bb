package book

import "slices"

// Brief is how the yard finds boats for somebody who says what the boat must do: which slots are tried out, what may be
// wished for, and which figure is set against the price.
type Brief struct {
	// Slots whose options are tried out; the others hold what the standard build has, or what goes with these.
	Slots []Text `yaml:"slots,required"`
	// Figure of which the dearer boats have more.
	Most Text `yaml:"most"`
	// By how much, at least, from one boat to the next.
	Step Number `yaml:"step"`
	// What a buyer may ask for, in the order in which it is shown.
	Wishes []Wish `yaml:"wishes,required"`
}

// Wish is something that may be asked for: exactly one of a use, a figure with a bound, a condition, and a limit to the
// price.
type Wish struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What it is called beside its field.
	Title Text `yaml:"title,required"`
	// A sentence about it.
	Note Text `yaml:"note"`
	// Use field that the wish states.
	Use Text `yaml:"use"`
	// Figure that the wish bounds.
	Figure Text `yaml:"figure"`
	// At least or at most, of a figure or of a number of the use.
	Bound Text `yaml:"bound"`
	// Condition that the boat meets.
	Need Formula `yaml:"need"`
	// The price, with tax as shown, is at most so much.
	Price bool `yaml:"price"`
}

// brief checks what is looked for and where.
func (v *validation) brief() {
	b := &v.book.Brief
	for _, s := range b.Slots {
		if !v.known("slot", s) {
			continue
		}
		i := slices.IndexFunc(v.book.Slots, func(x Slot) bool { return x.ID.Value == s.Value })
		if v.book.Slots[i].Choose.Value == "multiple" {
			v.error(s.At, "name slots of one or at most one",
				"the slot %s takes several options, which are not tried out", s)
		}
	}
	if b.Most.Value != "" {
		v.known("figure", b.Most)
		if b.Step.Value <= 0 {
			v.error(b.Most.At, "add step: 1", "the figure %s has no step above zero", b.Most)
		}
	}
	prices := 0
	for _, w := range b.Wishes {
		v.register("wish", w.ID, hyphenID)
		v.wish(w)
		if w.Price {
			if prices++; prices > 1 {
				v.error(w.ID.At, "keep one of them", "a second wish limits the price")
			}
		}
	}
}

func (v *validation) wish(w Wish) {
	if kinds := count(w.Use.Value != "", w.Figure.Value != "", !w.Need.Empty(), w.Price); kinds != 1 {
		v.error(w.ID.At, "write use, figure with bound, need, or price: true",
			"the wish %s says nothing that can be asked for, or more than one thing", w.ID)
		return
	}
	bounded := w.Figure.Value != ""
	if bounded {
		v.known("figure", w.Figure)
	}
	if w.Use.Value != "" {
		if !v.known("use field", w.Use) {
			return
		}
		i := slices.IndexFunc(v.book.Use, func(u UseField) bool { return u.ID.Value == w.Use.Value })
		choices := v.book.Use[i].Choices
		bounded = len(choices.List) == 0 && !choices.FromRegions
	}
	switch word := w.Bound.Value; {
	case bounded && word != "at least" && word != "at most":
		v.error(orAt(w.Bound.At, w.ID.At), "write bound: at least, or bound: at most",
			"the wish %s does not say whether it is at least or at most so much", w.ID)
	case !bounded && word != "":
		v.error(w.Bound.At, "leave it out: only figures and numbers of the use have a bound",
			"the wish %s has a bound", w.ID)
	}
}

// orAt is the first place, or the second where there is none.
func orAt(at, other Position) Position {
	if at.Line > 0 {
		return at
	}
	return other
}
