package sheet

import (
	"slices"

	"ribband/core/engine"
	"ribband/core/launch"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/works"
)

// The foreman reads of outside work what he has to do about it: what has to be ready, to whom it goes and with what,
// and by which day. When that is follows from the plan of the launch and from nothing else, so that page, sheet, card
// and order to the supplier say one day.

// SentPart is work that a supplier does, for the base boat or an option: what leaves the yard, and when it is back.
type SentPart struct {
	For       string           `json:"for"`       // identifier of the option, or [engine.BoatKey]
	ID        string           `json:"id"`        // of the operation
	Operation string           `json:"operation"` // title
	Supplier  string           `json:"supplier"`
	Quantity  measure.Quantity `json:"quantity"`
	Unit      string           `json:"unit"`            // a word of package measure
	Days      int              `json:"working_days"`    // until it is back
	After     []string         `json:"after,omitempty"` // titles of what has to be done before it goes out
	With      []CardMaterials  `json:"-"`               // what goes along with it
	Out       string           `json:"out,omitempty"`   // by the plan, ISO 8601; "" where there is none, as Back
	Back      string           `json:"back,omitempty"`
	Amount    money.Amount     `json:"amount"` // at the price of the supplier
	Trace     engine.Trace     `json:"trace"`

	task int // of the boat
}

// sentParts are the works of suppliers as they are done, each for one cause after the other.
func sentParts(e *engine.Engine, a *engine.Answer) (list []SentPart) {
	tasks := a.Work.Tasks()
	// in the order of the work, so that what goes out first stands first where no plan says a day
	for k := range tasks {
		t := &tasks[k]
		if t.Shop != works.Outside {
			continue
		}
		// what is not done yet would go out unfinished
		var after []string
		for _, l := range t.After {
			after = append(after, title(e, a.Work, &tasks[l.Task]))
		}
		// a supplier who builds something in has to be given it
		op := &e.Work.Operations[t.Operation]
		with := cardMaterials(e, a, t.Operation)
		for _, i := range t.Lines {
			l := &a.Cost.Work[i]
			list = append(list, SentPart{For: causeID(e, l.For), ID: op.ID, Operation: op.Title, Supplier: op.Supplier,
				Quantity: l.Quantity, Unit: e.Pack.Costs.Operations[t.Operation].Outside.Unit, Days: t.Days,
				After: after, With: with, Amount: l.Amount, Trace: e.Unfold(a.Build, l.At), task: k})
			with = nil // said once: it goes along with the piece, whatever causes the work
		}
	}
	return list
}

// Plan enters the days on which work goes out and is due back by the launch plan of the boat, and puts what goes out
// first before the rest.
func (y *Yard) Plan(b *launch.Boat) {
	// the tasks of the plan are those of the boat, in their order
	for i := range y.Sent {
		s := &b.Steps[y.Sent[i].task]
		y.Sent[i].Out, y.Sent[i].Back = s.Start.String(), s.Finish.String()
	}
	// two that go out together stay as they are done
	slices.SortStableFunc(y.Sent, func(p, q SentPart) int {
		return int(b.Steps[p.task].Begin - b.Steps[q.task].Begin)
	})
}
