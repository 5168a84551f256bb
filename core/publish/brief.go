package publish

import (
	"ribband/core/book"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
	"strings"
)

// brief lowers the wishes. All of them are for every desk, so that they may read only figures that every desk knows.
func (c *compiler) brief() {
	b := &c.book.Brief
	if len(b.Wishes) == 0 {
		return
	}
	// -1: no figure that the dearer boats have more of
	out := &pack.Brief{Most: -1, Step: b.Step.Value}
	for _, s := range b.Slots {
		out.Slots = append(out.Slots, c.ids["slot"][s.Value])
	}
	if b.Most.Value != "" {
		out.Most = c.ids["figure"][b.Most.Value]
		// the buyer's own page searches, with the buyer's pack
		c.forAll(b.Most, out.Most)
	}
	for _, w := range b.Wishes {
		x := pack.Wish{ID: w.ID.Value, Title: w.Title.Value, Note: w.Note.Value,
			Bound: pack.Bound(strings.ReplaceAll(w.Bound.Value, " ", "-"))}
		switch {
		case w.Use.Value != "":
			x.Kind, x.Index = pack.WishUse, c.ids["use"][w.Use.Value]
		case w.Figure.Value != "":
			x.Kind, x.Index = pack.WishFigure, c.ids["figure"][w.Figure.Value]
			c.forAll(w.Figure, x.Index)
		case w.Price:
			// nobody wishes to pay at least so much
			x.Kind, x.Bound = pack.WishPrice, pack.AtMost
		default:
			x.Kind, x.Need = pack.WishNeed, c.lower(w.Need, formula.Truth)
			// some of the figures that a condition reads may be the yard's alone
			for _, f := range x.Need.Reads().Figures {
				c.forAll(book.Text{Value: c.pack.Figures[f].ID, At: w.Need.At}, f)
			}
		}
		out.Wishes = append(out.Wishes, x)
	}
	c.pack.Brief = out
}

// forAll reports a figure that the buyer's desk does not have. Its pack holds such a figure as hidden and uncomputed,
// so that the wish would be met by nothing.
func (c *compiler) forAll(name book.Text, figure int) {
	if figure < len(c.pack.Figures) && figures.YardOnly(figures.ID(c.pack.Figures[figure].Computed)) {
		c.error(name.At, "wish for another figure", "the buyer's desk does not know the figure %s", name)
	}
}
