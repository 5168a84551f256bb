package publish

import (
	"os"
	"reflect"
	"slices"
	"testing"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/engine"
	"ribband/core/figures"
)

// The circuits of a boat with an option on which none depends are those of the standard build: as they are, and as they
// are bought. That is why such boats need not be looked at.
func TestOtherOptionsLeaveCircuitsAlone(t *testing.T) {
	b, _, err := source.Read(os.DirFS("../../rules"))
	if err != nil {
		t.Fatal(err)
	}
	t.Run("demo", func(t *testing.T) { leaveCircuitsAlone(t, b) })
	// and where an option of elsewhere takes the wires, and another opens the slot that has a circuit
	inSlot := func(id string) *book.Slot {
		return &b.Slots[slices.IndexFunc(b.Slots, func(s book.Slot) bool { return s.ID.Value == id })]
	}
	inSlot("navigation-lights").When.Value = `chosen("sun-pad") == ""`
	ladder := &inSlot("ladder").Options[0].Materials
	for h := range b.Hulls {
		*ladder = append(*ladder, b.Hulls[h].Materials...)
		b.Hulls[h].Materials = slices.DeleteFunc(b.Hulls[h].Materials,
			func(q book.Quantity) bool { what, _ := q.OfCircuit(); return what != "" })
	}
	t.Run("planted", func(t *testing.T) { leaveCircuitsAlone(t, b) })
}

func leaveCircuitsAlone(t *testing.T, b *book.Book) {
	yard, _ := Compile(b)
	e, err := engine.Compile(yard)
	if err != nil {
		t.Fatal(err)
	}
	figs, err := figures.Compile(yard)
	if err != nil {
		t.Fatal(err)
	}
	s := circuitSearch{engine: e, figures: figs, book: b}
	decisive := s.decisive()
	others, changing := 0, 0
	for h := range yard.Hulls {
		standard := e.Fit.Complete(h, e.StandardUse(), e.Fit.NewChoices(), 1)
		for o := range yard.Options {
			if !yard.Made(o, h) {
				continue
			}
			c := e.Fit.NewChoices()
			c.Counts[o], c.Settled[yard.Options[o].Slot] = 1, true
			build := e.Fit.CompleteFrom(standard, c, 1)
			same := reflect.DeepEqual(e.CircuitFaults(build), e.CircuitFaults(standard))
			for i := range yard.Circuits {
				same = same && reflect.DeepEqual(e.Takeoffs.At(build.State, i), e.Takeoffs.At(standard.State, i))
			}
			switch {
			case !decisive[yard.Options[o].Slot] && !same:
				t.Errorf("%s on %s changes a circuit", yard.Options[o].ID, yard.Hulls[h].ID)
			case !decisive[yard.Options[o].Slot]:
				others++
			case !same:
				changing++
			}
		}
	}
	t.Logf("%d boats with another option, %d that change a circuit", others, changing)
	if others < 100 || changing < 50 {
		t.Errorf("only %d boats with another option, and %d that change a circuit", others, changing)
	}
}
