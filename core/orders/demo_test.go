package orders_test

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/quote"
	"ribband/core/spec"
	"ribband/core/works"
)

var update = flag.Bool("update", false, "write the demo's orders anew")

const demoFolder = "../../testdata/orders"

// demoOrder is an order of the demo. People, dates and boats are invented.
type demoOrder struct {
	number, accepted, promised, customer, spec string
}

var demoOrders = []demoOrder{
	{"2026-031", "2026-10-12", "2027-W08", "Ottilie Sandmark", "osier-76-plainest"},
	{"2026-032", "2026-10-19", "2027-W08", "Ruben Hallgarth", "rush-54-plainest"},
	{"2026-033", "2026-11-02", "2027-W09", "Boat hire Tarnwick", "sedge-46-plainest"},
	{"2026-034", "2026-11-02", "2027-W10", "Boat hire Tarnwick", "sedge-46-plainest"},
	{"2026-035", "2026-11-16", "2027-W15", "Ada Quistorp", "reed-65-fullest"},
	{"2026-036", "2026-11-30", "2027-W19", "Mirjam and Joost Elzenaar", "osier-76-fullest"},
	{"2026-037", "2026-12-07", "2027-W21", "Ferry house Lower Sluice", "reed-65-plainest"},
	{"2027-001", "2027-01-11", "2027-W23", "Konrad Weidenthal", "sedge-46-fullest"},
	{"2027-002", "2027-01-18", "2027-W23", "Imke Farwater", "rush-54-fullest"},
	{"2027-003", "2027-01-25", "2027-W24", "Lock keepers' guild of Heronmere", "osier-76-plainest"},
	{"2027-004", "2027-02-01", "2027-W25", "Edda Binsfeld", "reed-65-plainest"},
	{"2027-005", "2027-02-08", "2027-W26", "Piet Rietveen", "rush-54-plainest"},
}

// demoBegin and demoDay are when the demo's yard began its first order, and the day up to which its work is entered.
const demoBegin, demoDay = "2027-01-04", "2027-02-12"

func day(t testing.TB, text string) orders.Day {
	t.Helper()
	d, err := orders.ParseDay(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// fresh is an order of the demo of which nothing is done.
func (d *demoOrder) fresh(t testing.TB, specs map[string]spec.Spec) *orders.Order {
	t.Helper()
	e := enginetest.Demo()[pack.Show]
	q, err := quote.Freeze(
		e,
		enginetest.Answer(t, e, specs[d.spec]),
		quote.Details{Number: "Q-" + d.number, Revision: 1,
			Date: d.accepted, Customer: quote.Party{Name: d.customer}},
	)
	if err != nil {
		t.Fatal(err)
	}
	week, err := orders.ParseWeek(d.promised)
	if err != nil {
		t.Fatal(err)
	}
	o := &orders.Order{Kind: orders.Kind, Format: orders.Format, Number: d.number, Accepted: day(t, d.accepted),
		Promised: week, Quotation: q.Encode()}
	return reread(t, o)
}

// reread is an order as its file has it.
func reread(t testing.TB, o *orders.Order) *orders.Order {
	t.Helper()
	text, err := o.Encode()
	if err != nil {
		t.Fatal(err)
	}
	again, err := orders.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	return again
}

// worked is the demo on its day: what a plan from its begin would have done by then is done, with hours that are a
// little other than the book's.
func worked(t testing.TB, e *engine.Engine, list []*orders.Order) {
	t.Helper()
	l, faults := orders.NewLoad(e, list, day(t, demoBegin))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s, err := plan.Solve(&l.Plan, plan.Objective{}, plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	now := plan.Time(day(t, demoDay).Add(1).Since(l.From)) * plan.Day
	for _, b := range l.Boats {
		for i, task := range b.Tasks {
			start, finish := s.Start[b.First+i], s.Finish[b.First+i]
			if start >= now || task.Operation == works.NoOperation {
				continue
			}
			step := orders.Step{
				Operation: e.Work.Operations[task.Operation].ID,
				Begun:     l.From.Add(int(start / plan.Day)),
			}
			share := 88 + (7*i+5*b.First)%31 // per cent: some quicker, some slower
			if finish <= now {
				step.Done = l.From.Add(int((finish - 1) / plan.Day))
			} else {
				share /= 2
			}
			step.Hours = task.Hours * measure.Hours(share) / 100 / 100_000 * 100_000 // to a tenth of an hour
			b.Order.Done = append(b.Order.Done, step)
		}
	}
}

// The folder of orders is what the present book makes of the demo's table.
func TestDemoOrders(t *testing.T) {
	specs := enginetest.DemoSpecs(t)
	var list []*orders.Order
	for i := range demoOrders {
		list = append(list, demoOrders[i].fresh(t, specs))
	}
	worked(t, enginetest.Demo()[pack.Yard], list)
	for _, o := range list {
		text, err := o.Encode()
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(demoFolder, o.Number+".json")
		if *update {
			if err := os.WriteFile(name, text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(name); err != nil || !bytes.Equal(got, text) {
			t.Errorf("%s is not what the book gives (%v); run with -update and read the difference", name, err)
		}
	}
}

// demoFiles reads the demo's orders.
func demoFiles(t testing.TB) *orders.Folder {
	t.Helper()
	files := map[string][]byte{}
	names, err := filepath.Glob(filepath.Join(demoFolder, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		if files[filepath.Base(name)], err = os.ReadFile(name); err != nil {
			t.Fatal(err)
		}
	}
	return orders.Read(files)
}

// demoLoad is the demo's orders on a day after the last that was entered.
func demoLoad(t testing.TB) *orders.Load {
	t.Helper()
	f := demoFiles(t)
	l, faults := orders.NewLoad(enginetest.Demo()[pack.Yard], f.Orders, f.Day())
	if faults = slices.Concat(f.Faults, faults); len(faults) > 0 || len(l.Boats) != len(demoOrders) {
		t.Fatal(len(l.Boats), faults)
	}
	return l
}

// The plan of the demo holds by the checker that shares no code with the planner, has every hour that is left, and is
// the same again.
func TestPlanOfTheDemo(t *testing.T) {
	l := demoLoad(t)
	p, err := l.Make(plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	again, err := demoLoad(t).Make(plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	for i, b := range p.Boats {
		if x := again.Boats[i]; x.Launch != b.Launch || x.P80 != b.P80 || len(x.Chain) != len(b.Chain) {
			t.Errorf("%s is launched on %s, planned again on %s", b.Number, b.Launch, x.Launch)
		}
		if open := day(t, demoDay).Before(b.Launch); b.P80.Since(b.P50) < 0 || open && len(b.Chain) == 0 {
			t.Errorf("%s: P50 %s, P80 %s, a chain of %d", b.Number, b.P50, b.P80, len(b.Chain))
		}
	}
	if err := orders.Verify(p); err != nil {
		t.Error(err)
	}
	if p.Bottleneck == "" {
		t.Error("a loaded yard waits for nothing")
	}
}

// What is worked in the shops is all that the boats still take: no hour is lost, and none is worked twice.
func TestEveryHourIsPlanned(t *testing.T) {
	l := demoLoad(t)
	p, err := l.Make(plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	planned, want := 0.0, 0.0
	for _, s := range p.Shops {
		for _, w := range s.Weeks {
			planned += w.Work
		}
	}
	for _, b := range l.Boats {
		for i, task := range b.Tasks {
			if a := l.Plan.Activities[b.First+i]; a.State != plan.Done {
				want += float64(a.Duration) / 4 * float64(task.Crew)
			} else if want += orders.InTheWeek(l, b.First+i) * float64(task.Crew); a.Finish < a.Start {
				t.Errorf("%s is done before it begins", a.Title)
			}
		}
	}
	if math.Abs(planned-want) > 1e-6 {
		t.Errorf("%v h are planned of %v h", planned, want)
	}
}
