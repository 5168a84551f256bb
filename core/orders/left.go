package orders

import (
	"fmt"
	"strings"

	"ribband/core/calendar"
	"ribband/core/pack"
)

// The book says how many of an option were left on the day of its edition. Orders since then have taken some of them,
// those of changes among them, and an earlier order that still builds one has it already: it is not of these.

// Ordered is how many of each option of a pack orders have taken since the day of its edition, by option.
func Ordered(list []*Order, p *pack.Pack) []int {
	counts := make([]int, len(p.Options))
	for option := range p.Options {
		for _, o := range list {
			counts[option] += o.taken(p, option)
		}
	}
	return counts
}

// taken is how many of an option an order has taken since the edition.
func (o *Order) taken(p *pack.Pack, option int) int {
	edition, err := calendar.ParseDay(p.Edition.Date)
	id := p.Options[option].ID
	n := countOf(o.Quote(), id)
	// a book without a day counts all
	if n > 0 && err == nil && o.since(id).Before(edition) {
		return 0
	}
	return n
}

// Short refuses an order, which is among the others, that has more of an option than the others have left of it.
func Short(order *Order, all []*Order, p *pack.Pack) error {
	for _, f := range p.Work.Few {
		own := order.taken(p, f.Option)
		if own == 0 {
			continue
		}
		left, others := f.Count, []string{}
		for _, o := range all {
			if n := o.taken(p, f.Option); n > 0 && o.Number != order.Number {
				left -= n
				others = append(others, o.Number)
			}
		}
		if left >= own {
			continue
		}
		gone := "the book has no more"
		if len(others) > 0 {
			gone = "the others are of " + strings.Join(others, ", ")
		}
		option := &p.Options[f.Option]
		return fmt.Errorf("%s takes %d of %q (%s), and %d of %d are left: %s; quote it with another option, or write "+
			"a larger stock: for %s in the book where one more is there", order.Number, own, option.Title, option.ID,
			max(0, left), f.Count, gone, option.ID)
	}
	return nil
}
