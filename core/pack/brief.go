package pack

import "ribband/core/formula"

// Brief is how boats are found for somebody who says what the boat must do.
type Brief struct {
	Slots []int `json:"slots"` // tried out; none of several
	// figure that is set against the price; -1 for none
	Most   int     `json:"most"`
	Step   float64 `json:"step,omitempty"` // of it, from one boat to the next
	Wishes []Wish  `json:"wishes"`
}

// Wish is something that may be asked for. Index is of the use field or the figure, by Kind.
type Wish struct {
	ID    string   `json:"id"`
	Title string   `json:"title"`
	Note  string   `json:"note,omitempty"`
	Kind  WishKind `json:"kind"`
	Index int      `json:"index,omitempty"`
	// of a figure, the price or a number of the use
	Bound Bound           `json:"bound,omitempty"`
	Need  formula.Program `json:"need"`
}

// WishKind says what a wish is about.
type WishKind string

const (
	WishUse    WishKind = "use"    // it states a field of the use
	WishFigure WishKind = "figure" // it bounds a figure by an amount
	WishNeed   WishKind = "need"   // a condition, without an amount
	WishPrice  WishKind = "price"  // the price as shown is at most an amount
)

// Bound is on which side of an amount a boat may lie.
type Bound string

const (
	AtLeast Bound = "at-least"
	AtMost  Bound = "at-most"
)

// brief checks the wishes. A wish with an amount has a bound, and one without has none: a choice of the use is neither
// more nor less than another.
func (c *checker) brief(b *Brief) {
	p := c.pack
	for _, s := range b.Slots {
		c.index("slot of the brief", s, len(p.Slots))
		if c.err == nil && p.Slots[s].Multiple {
			c.fail("the slot %s of the brief takes several", p.Slots[s].ID)
		}
	}
	if b.Most != -1 {
		c.index("figure of the brief", b.Most, len(p.Figures))
		if !(b.Step > 0) || !formula.Finite(b.Step) {
			c.fail("the step of the brief is %v", b.Step)
		}
	}
	for _, w := range b.Wishes {
		bounded := true
		switch w.Kind {
		case WishUse:
			c.index("use field of wish "+w.ID, w.Index, len(p.Use))
			bounded = c.err == nil && len(p.Use[w.Index].Choices) == 0
		case WishFigure:
			c.index("figure of wish "+w.ID, w.Index, len(p.Figures))
		case WishNeed:
			c.program("wish "+w.ID, w.Need, formula.Truth, false)
			bounded = false
		case WishPrice:
		default:
			c.fail("wish %s is of kind %.40q", w.ID, w.Kind)
		}
		if c.err == nil && bounded != (w.Bound == AtLeast || w.Bound == AtMost) || w.Kind == WishPrice &&
			w.Bound != AtMost {
			c.fail("wish %s has the bound %.40q", w.ID, w.Bound)
		}
	}
}
