package deals

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Arrival says what an import does with a record.
type Arrival string

const (
	Added    Arrival = "added"    // the device had nothing of it
	Same     Arrival = "same"     // the device has it as it is
	Older    Arrival = "older"    // the device has gone on from it
	Newer    Arrival = "newer"    // it goes on from what the device has, and takes its place
	Diverged Arrival = "diverged" // both have gone on: it is kept beside the device's as a revision
)

// Outcome is what becomes of one record of a file. Put is what the device has to store for it; nil for nothing.
type Outcome struct {
	Arrival Arrival
	Record  *Record // as it came
	Put     *Record
	// Double is another record with the same number and revision that was issued, too: two customers may hold papers
	// of one number. "" for none.
	Double string
}

// Merge says what an import of records does to a device that has others. It never destroys: a record takes the place
// of another only where that other is what it went on from, unchanged; where both have gone on, both are kept. It gives
// the same outcomes whoever imports, and importing a file twice does no more than once.
func Merge(have, in []Record) []Outcome {
	// What the file adds counts as there for the records behind it, so that a file that has one record under two names
	// does not add it twice.
	byID := map[string]*Record{}
	for i := range have {
		byID[have[i].ID] = &have[i]
	}
	var list []Outcome
	for i := range in {
		o := arrive(byID, &in[i])
		if o.Put != nil {
			byID[o.Put.ID] = o.Put
		}
		list = append(list, o)
	}
	papers := issued(byID)
	for i := range list {
		if p := list[i].Put; p != nil {
			list[i].Double = papers.double(p)
		}
	}
	return list
}

func arrive(byID map[string]*Record, r *Record) Outcome {
	o := Outcome{Record: r}
	mine := byID[r.ID]
	if mine == nil {
		put := r.marked()
		put.Version = 0 // of this device's writes
		o.Arrival, o.Put = Added, &put
		return o
	}
	// Times do not tell which is newer: clocks of devices differ, and both may have gone on. What each has been through
	// does, since an export leaves its digest on both sides.
	here, there := mine.Digest(), r.Digest()
	switch {
	case here == there:
		o.Arrival = Same
	case slices.Contains(mine.Bases, there):
		o.Arrival = Older
	case slices.Contains(r.Bases, here):
		put := r.marked()
		put.Version = mine.Version // the store counts on from what it has
		o.Arrival, o.Put = Newer, &put
	default:
		o.Arrival = Diverged
		put := r.marked()
		// named by what it holds, so that the same file does not add it again
		put.ID, put.Origin, put.Version = r.ID+"-"+there[:8], cmp.Or(mine.Origin, mine.ID), 0
		if r.State == Draft {
			put.Revision = mine.Revision + 1
		}
		if kept := byID[put.ID]; kept != nil {
			o.Arrival = Same // or gone on from since
			return o
		}
		o.Put = &put
	}
	return o
}

// papers are the records with a quotation that was issued, by its number and revision: the first two by name, since
// who looks for another than itself needs no third.
type papers map[string][]string

// issued finds them. An import may bring thousands of records, so they are gone through once.
func issued(byID map[string]*Record) papers {
	p := papers{}
	for id, r := range byID {
		if r.State != Draft && number(r) != "" {
			ids := append(p[paperOf(r)], id)
			slices.Sort(ids)
			p[paperOf(r)] = ids[:min(2, len(ids))]
		}
	}
	return p
}

// double finds another issued record of the same number and revision.
func (p papers) double(r *Record) (id string) {
	if r.State == Draft || number(r) == "" {
		return ""
	}
	for _, other := range p[paperOf(r)] {
		if other != r.ID {
			return other
		}
	}
	return ""
}

// paperOf is what a customer may hold only one of.
func paperOf(r *Record) string { return fmt.Sprintf("%d %s", r.Revision, number(r)) }

// number is the number of a quotation, as two people would compare it.
func number(r *Record) string { return strings.ToLower(strings.TrimSpace(r.Form[fieldNumber])) }
