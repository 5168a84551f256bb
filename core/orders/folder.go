package orders

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"ribband/core/suggest"
)

// Folder is the orders of a yard, and what was wrong with files in the place of more.
type Folder struct {
	Orders []*Order // by number
	Faults []Fault  // by file
}

// Fault is a file that is no order, or not one that can stand beside the others, or what is wrong in an order that is
// planned all the same. The others are kept: a yard with one damaged file still has eleven boats to build.
type Fault struct {
	File string
	Err  error // with the place in it and the remedy
}

func (f Fault) Error() string { return fmt.Sprintf("%s: %v", f.File, f.Err) }

// ending is that of the files of orders; whatever else lies in the folder is none of this package's business.
const ending = ".json"

// Read reads the files of a folder, by their names. A file bears the number of its order, so that two files with one
// number are seen, and a file that was copied to begin another order with it.
func Read(files map[string][]byte) *Folder {
	// by name, so that of two orders of one quotation the same one is always the first
	f := &Folder{}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		number, ok := strings.CutSuffix(name, ending)
		if !ok {
			continue
		}
		o, err := Decode(files[name])
		if err == nil && o.Number != number {
			err = fmt.Errorf(
				"reading an order: number: it says %q; an order stands in the file of its number: call the "+
					"file %s%s, or give it the number %q",
				o.Number,
				o.Number,
				ending,
				number,
			)
		}
		if err != nil {
			f.Faults = append(f.Faults, Fault{name, err})
			continue
		}
		f.Orders = append(f.Orders, o)
	}
	f.twice()
	f.serials()
	slices.SortStableFunc(f.Faults, func(x, y Fault) int { return strings.Compare(x.File, y.File) })
	return f
}

// twice refuses an order of a quotation that another order has already: it would be built twice.
func (f *Folder) twice() {
	// by the number of the quotation; its revisions are one boat
	by := map[string]*Order{}
	f.Orders = slices.DeleteFunc(f.Orders, func(o *Order) bool {
		q := o.quotes[0]
		first, taken := by[q.Number]
		if !taken {
			by[q.Number] = o
			return false
		}
		f.Faults = append(
			f.Faults,
			Fault{o.Number + ending, fmt.Errorf("reading an order: quotation: %s stands in %s%s "+
				"already; take one of the two away", q.Number, first.Number, ending)},
		)
		return true
	})
}

// Day is the day from which the rest is planned where nobody says another: the one after the last of which the orders
// tell. It follows from them alone, so that the same orders give the same plan.
func (f *Folder) Day() Day {
	var last Day
	// the plan begins when all of this is over
	note := func(d Day) {
		if last.Before(d) {
			last = d
		}
	}
	for _, o := range f.Orders {
		note(o.Accepted)
		for _, c := range o.Changes {
			note(c.Accepted)
		}
		for _, s := range o.Done {
			note(s.Begun)
			note(s.Done)
		}
		for _, p := range o.Paid {
			note(p.On)
		}
		if o.Built != nil {
			note(o.Built.HandedOver)
		}
	}
	return last.Add(1)
}

// Find finds an order by its number.
func Find(list []*Order, number string) (*Order, error) {
	var known []string
	for _, o := range list {
		if known = append(known, o.Number); o.Number == number {
			return o, nil
		}
	}
	return nil, fmt.Errorf("there is no order %.60q; %s", number,
		suggest.Nearest(number, known, "see the folder of orders"))
}

// OfQuotation is the order that was made of a quotation, whichever revision; nil for none.
func OfQuotation(list []*Order, number string) *Order {
	// the number of the first stands for all: revisions have the same
	if i := slices.IndexFunc(list, func(o *Order) bool { return o.quotes[0].Number == number }); i >= 0 {
		return list[i]
	}
	return nil
}

// ByNumber puts orders into the order of their numbers, in which a folder has them.
func ByNumber(x, y *Order) int { return strings.Compare(x.Number, y.Number) }
