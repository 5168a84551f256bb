package launch_test

import (
	"math"
	"os"
	"slices"
	"sync"
	"testing"

	"ribband/core/calendar"
	"ribband/core/engine"
	"ribband/core/launch"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/publish"
	"ribband/core/spec"
	"ribband/core/works"
)

// demo is the yard's pack of the demo book.
var demo = sync.OnceValues(func() (*pack.Pack, error) {
	packs, _, _, err := publish.Load(os.DirFS("../../rules"))
	return packs[pack.Yard], err
})

// planned is the engine of the demo yard with a load, which a test takes people and places of.
func planned(t *testing.T, desk pack.Desk, take func(p *pack.Pack, l *pack.Load)) *engine.Engine {
	t.Helper()
	whole, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	p, work := *whole, *whole.Work
	p.Work = &work
	people := len(work.Shops)
	for _, s := range work.Shops {
		people += len(s.Skills)
	}
	// a Monday, as one of the demo's orders has it
	work.Load = &pack.Load{Day: "2027-03-01", Orders: 3, Built: make([]int, len(p.Hulls)), Taken: plan.Taken{
		Resources: make([]plan.Level, people), Holders: make([]plan.Level, len(work.Equipment))}}
	if take != nil {
		take(&p, work.Load)
	}
	e, err := engine.Compile(publish.For(&p, desk))
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// launched is the boat of a hull with some options, by slot.
func launched(t *testing.T, e *engine.Engine, hull string, choices map[string]map[string]int) (*engine.Answer,
	*launch.Boat) {
	t.Helper()
	a, err := e.Answer(spec.Spec{Format: spec.Format, Hull: hull, Choices: choices})
	if err != nil {
		t.Fatal(err)
	}
	b, err := e.LaunchOf(a)
	if err != nil {
		t.Fatal(err)
	}
	return a, b
}

// shop is the resource of a shop's people, and its index.
func shop(p *pack.Pack, id string) (resource, index int) {
	for i, s := range p.Costs.Shops {
		if s.ID == id {
			return resource, i
		}
		resource += 1 + len(p.Work.Shops[i].Skills)
	}
	return -1, -1
}

// In a yard that has nothing else to do a boat waits for its own work and material alone; the hours of its weeks are
// those of its operations.
func TestBoatInAnEmptyYard(t *testing.T) {
	e := planned(t, pack.Yard, nil)
	for i := range e.Pack.Hulls {
		a, b := launched(t, e, e.Pack.Hulls[i].ID, nil)
		for k, s := range b.Steps {
			if (s.Waits == launch.ForEquipment || s.Waits == launch.ForPeople) && s.Task < 0 {
				t.Errorf("%s: operation %d waits for %q of others", a.Spec.Hull, k, s.Means)
			}
		}
		if len(b.Late) > 0 {
			t.Errorf("%s: %v come too late", a.Spec.Hull, b.Late)
		}
		// the plan counts begun quarter-hours of the crew, never fewer hours than the book
		weeks, err := e.LaunchWeeks(a)
		if err != nil {
			t.Fatal(err)
		}
		for k, byShop := range a.Work.ByShop {
			worked, least, most := 0.0, byShop.Total().Float(), byShop.Total().Float()
			for _, w := range weeks {
				worked += w.Shops[k].Boat
				if w.Shops[k].Others != 0 || w.Shops[k].Boat > w.Shops[k].Open {
					t.Errorf("%s: shop %d in %s: %+v", a.Spec.Hull, k, w.Week, w.Shops[k])
				}
			}
			for _, task := range b.Tasks {
				if task.Shop == k {
					most += 0.25 * float64(task.Crew)
				}
			}
			if worked < least || worked > most {
				t.Errorf("%s: shop %d works %v h, the book has %v", a.Spec.Hull, k, worked, least)
			}
		}
	}
}

// Whoever is at other boats is named, and the launch moves as far as he is away.
func TestBoatWaitsForPeopleOfOthers(t *testing.T) {
	_, free := launched(t, planned(t, pack.Yard, nil), "sedge-46", nil)
	const weeks = 8
	title := ""
	busy := planned(t, pack.Yard, func(p *pack.Pack, l *pack.Load) {
		r, i := shop(p, "lamination")
		title = p.Costs.Shops[i].Title
		// by the worked time of the shop: as many quarter-hours as eight weeks of one man have
		worked := plan.Time(4*weeks) * plan.Time(p.Work.Shops[i].HoursWeek()/float64(p.Work.Shops[i].People))
		l.Taken.Resources[r] = plan.Level{At: []plan.Time{0, worked}, Units: []int{p.Work.Shops[i].People, 0}}
	})
	_, b := launched(t, busy, "sedge-46", nil)
	if by := b.Launch.Since(free.Launch); by < 7*(weeks-3) || by > 7*(weeks+1) {
		t.Errorf("it is launched on %s, and in an empty yard on %s", b.Launch, free.Launch)
	}
	if !slices.ContainsFunc(b.Chain, func(i int) bool {
		return b.Steps[i].Waits == launch.ForPeople && b.Steps[i].Task < 0 && b.Steps[i].Means == title
	}) {
		t.Errorf("nothing on the way to the launch waits for the people of %s", title)
	}
}

// A mould that another boat has is named, too.
func TestBoatWaitsForEquipmentOfOthers(t *testing.T) {
	title, until := "", calendar.Day{}
	e := planned(t, pack.Yard, func(p *pack.Pack, l *pack.Load) {
		for k, x := range p.Work.Equipment {
			if x.ID == "hull-mould-46" {
				title = x.Title
				l.Taken.Holders[k] = plan.Level{At: []plan.Time{0, 20 * plan.Week}, Units: []int{x.Count, 0}}
			}
		}
		day, _ := calendar.ParseDay(l.Day)
		until = day.Add(140)
	})
	if title == "" {
		t.Fatal("the demo has no such mould")
	}
	_, b := launched(t, e, "sedge-46", nil)
	i := slices.IndexFunc(b.Steps, func(s launch.Step) bool { return s.Waits == launch.ForEquipment })
	if i < 0 || b.Steps[i].Means != title || b.Steps[i].Start.Before(until) || !b.Launch.Week().Monday().Add(7).Before(
		until.Add(140)) {
		t.Errorf("it is launched on %s; step %d of %d: %+v", b.Launch, i, len(b.Steps), b.Steps)
	}
}

// The show's desk, which has no work, says the same of a launch as the yard's; where the book does not let it, neither
// it nor the buyer's says anything.
func TestDesksSayTheSame(t *testing.T) {
	yard, show := planned(t, pack.Yard, nil), planned(t, pack.Show, nil)
	for i := range yard.Pack.Hulls {
		choices := map[string]map[string]int{"delivery": {"delivery-collect": 1}}
		_, a := launched(t, yard, yard.Pack.Hulls[i].ID, choices)
		_, b := launched(t, show, yard.Pack.Hulls[i].ID, choices)
		if a.Launch != b.Launch || a.P80 != b.P80 || !slices.Equal(a.Chain, b.Chain) {
			t.Errorf("%s: the yard says %s and %s, the show %s and %s", yard.Pack.Hulls[i].ID, a.Launch, a.P80,
				b.Launch, b.P80)
		}
	}
	if show.Pack.Work != nil || len(show.Pack.Planning.Operations[0].Steps) > 0 {
		t.Error("the show's desk has the work")
	}
	if planned(t, pack.Buyer, nil).Plans() {
		t.Error("the buyer's desk plans")
	}
	if planned(t, pack.Show, func(p *pack.Pack, _ *pack.Load) { p.Work.Launch = pack.Yard }).Plans() {
		t.Error("the show's desk plans, and the book does not let it")
	}
}

// What a buyer may be told is whole weeks, and never later than what the yard itself expects of a boat.
func TestPublicWeeksAreNotLaterThanTheYards(t *testing.T) {
	e := planned(t, pack.Yard, nil)
	weeks, err := e.PublicLaunches()
	if err != nil {
		t.Fatal(err)
	}
	p := *e.Pack
	p.LaunchWeeks = weeks
	buyer, err := engine.Compile(publish.For(&p, pack.Buyer))
	if err != nil {
		t.Fatal(err)
	}
	later := 0
	for _, w := range weeks.Options {
		if w > 0 {
			later++
		}
	}
	if later == 0 || later == len(weeks.Options) {
		t.Errorf("%d of %d options are a week later", later, len(weeks.Options))
	}
	for _, file := range []string{"osier-76-fullest", "reed-65-fullest", "sedge-46-plainest", "rush-54-fullest"} {
		text, err := os.ReadFile("../../testdata/specs/" + file + ".json")
		if err != nil {
			t.Fatal(err)
		}
		s, err := spec.Decode(text)
		if err != nil {
			t.Fatal(err)
		}
		own, err := e.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		b, err := e.LaunchOf(own)
		if err != nil {
			t.Fatal(err)
		}
		theirs, err := buyer.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		week, day, ok := buyer.EarliestLaunch(theirs)
		if !ok || day != e.PlanDay() || b.Launch.Week().Since(week) < 0 || b.Launch.Week().Since(week) > 8 {
			t.Errorf("%s: a buyer is told %s, the yard expects %s", file, week, b.Launch)
		}
	}
}

// The days beside an option are the difference between the launches of the two boats.
func TestEffectsAreDifferencesOfLaunches(t *testing.T) {
	e := planned(t, pack.Yard, nil)
	column := slices.IndexFunc(e.Columns(), func(c engine.Column) bool { return c.Kind == engine.InDays })
	if column < 0 {
		t.Fatal("there is no column of launches")
	}
	moved := 0
	a, was := launched(t, e, "reed-65", nil)
	for _, def := range e.Pack.Options {
		slot := e.Pack.Slots[def.Slot].ID
		if !slices.Contains([]string{"training", "bow-thruster", "enclosure", "commissioning", "lining"}, slot) {
			continue
		}
		then, now := launched(t, e, "reed-65", map[string]map[string]int{slot: {def.ID: 1}})
		effect := e.Effect(a, then.Build)
		if want := float64(now.Launch.Since(was.Launch)); !effect[column].Known || effect[column].Number != want {
			t.Errorf("%s: %+v, want %v days", def.ID, effect[column], want)
		} else if want != 0 {
			moved++
		}
	}
	if moved < 3 {
		t.Errorf("only %d options move the launch", moved)
	}
}

// The first boats of a hull take longer, down to the hours of the book.
//
// Source: T. P. Wright, Factors affecting the cost of airplanes (1936), as J. R. Crawford reads it: hours fall to the
// rate each time the number of boats doubles, so that three doublings before the steady boat they are 1/0.9^3.
func TestFirstBoatsOfAHullTakeLonger(t *testing.T) {
	e := planned(t, pack.Yard, func(p *pack.Pack, l *pack.Load) {
		for range p.Hulls {
			p.Work.Learning = append(p.Work.Learning, pack.Learning{Rate: 0.9, Built: 0, Steady: 8})
		}
		l.Built = []int{0, 3, 7, 20} // before the boat that is asked for
	})
	yard := launch.NewYard(e.Work, e.Pack.Planned(), e.PlanDay())
	for number, want := range map[int]float64{1: 1 / (0.9 * 0.9 * 0.9), 2: 1 / (0.9 * 0.9), 4: 1 / 0.9, 8: 1, 30: 1} {
		if got := yard.Hours(0, number); math.Abs(got-want) > 1e-12 {
			t.Errorf("boat %d takes %v times the hours, want %v", number, got, want)
		}
	}
	plain := planned(t, pack.Yard, nil)
	for i, factor := range []float64{1 / (0.9 * 0.9 * 0.9), 1 / 0.9, 1, 1} {
		worked := func(e *engine.Engine) (sum float64) {
			a, _ := launched(t, e, e.Pack.Hulls[i].ID, nil)
			weeks, err := e.LaunchWeeks(a)
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range weeks {
				for _, s := range w.Shops {
					sum += s.Boat
				}
			}
			return sum
		}
		// begun quarter-hours of a crew count, so that the two differ by more than the factor says
		if got := worked(e) / worked(plain); math.Abs(got-factor) > 0.03 {
			t.Errorf("%s takes %v times the hours, want %v", e.Pack.Hulls[i].ID, got, factor)
		}
	}
}

// What a supplier does takes no hour of a shop and its days by the calendar of the yard; where it decides the launch,
// that comes as much later as the supplier takes longer.
func TestOutsideWork(t *testing.T) {
	choices := map[string]map[string]int{"top": {"top-canopy": 1}, "frame-material": {"frame-aluminium": 1}}
	const closed = "2027-04-05"
	after := func(days int) (a *engine.Answer, b *launch.Boat, e *engine.Engine, coat int) {
		e = planned(t, pack.Yard, func(p *pack.Pack, _ *pack.Load) {
			p.Work.Closed = append(slices.Clone(p.Work.Closed), pack.Period{First: closed, Last: closed})
			p.Work.Operations = slices.Clone(p.Work.Operations)
			for i, o := range p.Costs.Operations {
				if o.ID == "coat-frame" {
					coat, p.Work.Operations[i].Days = i, days
				}
			}
		})
		a, b = launched(t, e, "reed-65", choices)
		return a, b, e, slices.IndexFunc(b.Tasks, func(t works.Task) bool { return t.Operation == coat })
	}
	a, b, e, i := after(60)
	if i < 0 {
		t.Fatal("the demo has no such work")
	}
	// day by day, as a person counts them: from noon to noon a day of work more than whole ones
	s, working := b.Steps[i], 0
	for d := s.Start.Add(1); !s.Finish.Before(d); d = d.Add(1) {
		if weekday := d.Since(d.Week().Monday()); weekday < 5 && !shut(e.Pack.Work.Closed, d) {
			working++
		}
	}
	if working != 60 {
		t.Errorf("it is out from %s to %s, %d working days", s.Start, s.Finish, working)
	}
	if !slices.Contains(b.Chain, i) || len(b.Tasks[i].After) == 0 {
		t.Errorf("sixty days decide nothing: %+v", s)
	}
	_, later, _, _ := after(65)
	if by := later.Launch.Since(b.Launch); by != 7 {
		t.Errorf("five working days more move the launch by %d days", by)
	}
	weeks, err := e.LaunchWeeks(a)
	if err != nil {
		t.Fatal(err)
	}
	worked := 0.0
	for _, w := range weeks {
		for _, s := range w.Shops {
			worked += s.Boat
		}
	}
	if hours := a.Work.Hours().Total().Float(); worked < hours || worked > hours+float64(len(b.Tasks)) {
		t.Errorf("the shops work %v h, the book has %v", worked, hours)
	}
	if b.P80.Since(b.Launch.Week()) < 0 {
		t.Errorf("launched in %s, four of five by %s", b.Launch.Week(), b.P80)
	}
}

// shut says whether the yard is closed on a day.
func shut(closed []pack.Period, d calendar.Day) bool {
	on := d.String()
	return slices.ContainsFunc(closed, func(p pack.Period) bool { return p.First <= on && on <= p.Last })
}
