package launch

import (
	"cmp"
	"fmt"
	"slices"

	"ribband/core/calendar"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/works"
)

// Planner says when further boats would be launched, by the orders that a pack was published with. It is made once for
// a pack, and not changed afterwards.
type Planner struct {
	yard     *Yard
	taken    *plan.Taken
	built    []int // of the hulls, ordered or built
	arrivals pack.Arrivals
}

// NewPlanner makes a planner; nil where the desk of the pack is not to know, or the pack was published without orders.
func NewPlanner(n *works.Network, p *pack.Pack) *Planner {
	planned := p.Planned()
	if n == nil || planned == nil || planned.Load == nil {
		return nil
	}
	day, err := calendar.ParseDay(planned.Load.Day)
	if err != nil { // the pack was checked
		return nil
	}
	return &Planner{NewYard(n, planned, day), &planned.Load.Taken, planned.Load.Built, p.Arrivals()}
}

// Day is the day on which the orders were planned, and on which a further one is taken as given.
func (p *Planner) Day() calendar.Day { return p.yard.Day }

// Boat is a boat among the orders of a yard.
type Boat struct {
	Tasks  []works.Task
	Steps  []Step // of the tasks
	Launch calendar.Day
	// weeks by which it is launched in so many of a hundred simulated builds, see Spread
	P50, P80 calendar.Week
	// of Steps, why it is not launched earlier: from the first to the last
	Chain []int
	// the material that comes last of all that the chain waits for; -1 for none
	Material int
	Late     []int // of Steps: they come later after their predecessor than they may
}

// Step is when a task is worked on, and what it waits for.
type Step struct {
	Start, Finish calendar.Day
	Begin, End    plan.Time // from the Monday of the plan's week on
	Waits         Waits
	Task          int    // of the same boat, that it waits for; -1 for none
	Means         string // whose people, or which equipment; "" for none
	Material      int    // that it waits for; -1 for none
}

// Waits is what a task waits for.
type Waits int

// What a task waits for.
const (
	ForNothing   Waits = iota
	ForWork            // of the same boat
	ForPeople          // who are at something else
	ForEquipment       // that another boat has
	ForMaterial        // that is on its way
	ForWindow          // of what comes after it: it must not be done too early
)

// Boat puts a boat in some state into what the orders leave free: see [plan.Insert]. Each shop works its operations in
// the order of the book. All material is ordered on the day of the plan.
func (p *Planner) Boat(w *works.Boat, st *formula.State) (*Boat, error) {
	// anew each time: a planner is shared, and keeps nothing of a boat
	tasks, comes := w.Tasks(), p.comes(st)
	factor := p.yard.Hours(st.HullID, p.built[st.HullID]+1)
	l := p.load(tasks, factor, comes)
	ins, err := plan.Insert(l, p.taken)
	if err != nil {
		return nil, fmt.Errorf("planning a launch: %w", err)
	}
	b := &Boat{Tasks: tasks, Launch: p.yard.DayOf(ins.Launches(l)[0]), Material: -1}
	for i := range tasks {
		b.Steps = append(b.Steps, p.step(l, ins, tasks, i, comes))
	}
	for _, x := range ins.Breaches {
		if x.Activity < len(tasks) {
			b.Late = append(b.Late, x.Activity)
		}
	}
	b.chain(l, ins)
	return b, p.spread(l, b, factor)
}

// How a launch is simulated: more runs move no week.
const (
	runs = 100
	dice = 1
)

// spread simulates the launch of a boat.
func (p *Planner) spread(l *plan.Load, b *Boat, factor float64) error {
	spreads := make([]plan.Spread, len(l.Activities)) // what is a moment has none
	for i := range b.Tasks {
		spreads[i] = SpreadOf(&b.Tasks[i], factor)
	}
	o, err := plan.SimulateInsertion(l, p.taken, spreads, plan.Simulation{Runs: runs, Number: dice})
	if err != nil {
		return fmt.Errorf("simulating a launch: %w", err)
	}
	b.P50, b.P80 = p.yard.DayOf(o.P50).Week(), p.yard.DayOf(o.P80).Week()
	return nil
}

// Launch is the day of a boat's launch alone.
func (p *Planner) Launch(w *works.Boat, st *formula.State) (calendar.Day, error) {
	l := p.load(w.Tasks(), p.yard.Hours(st.HullID, p.built[st.HullID]+1), p.comes(st))
	ins, err := plan.Insert(l, p.taken)
	if err != nil {
		return calendar.Day{}, fmt.Errorf("planning a launch: %w", err)
	}
	return p.yard.DayOf(ins.Launches(l)[0]), nil
}

// comes are the last materials to come of a boat's operations.
func (p *Planner) comes(st *formula.State) map[int]pack.Arrival {
	last := map[int]pack.Arrival{}
	enter := func(list []pack.Arrival) {
		for _, a := range list {
			if a.Days > last[a.Operation].Days {
				last[a.Operation] = a
			}
		}
	}
	// whatever is taken of it: what is ordered for a boat comes in one delivery
	enter(p.arrivals.Hulls[st.HullID])
	for o, n := range st.Counts {
		if n > 0 {
			enter(p.arrivals.Options[o])
		}
	}
	return last
}

// load is a boat as a load of its own: its tasks, the moments that give equipment free, and its launch.
func (p *Planner) load(tasks []works.Task, factor float64, comes map[int]pack.Arrival) *plan.Load {
	y := p.yard
	l := y.Load // a copy whose lists of means are shared: nothing here changes them
	all := make([]int, len(tasks))
	for i := range tasks {
		all[i] = i
		a := y.Task(&tasks[i], factor, 0, 0)
		if m, ok := comes[tasks[i].Operation]; ok {
			a.Earliest = max(a.Earliest, y.At(y.Day.Add(m.Days)))
		}
		l.Activities = append(l.Activities, a)
	}
	moment := func(title string, after []int) int {
		l.Activities = append(l.Activities, plan.Activity{Title: title, Calendar: y.Always(),
			After: plan.After(after...)})
		return len(l.Activities) - 1
	}
	for i := range tasks {
		y.Holdings(&l, &tasks[i], i, 0, moment)
	}
	l.Boats = []plan.Boat{{Launch: moment("launch", all), Due: plan.Never}}
	return &l
}

// step is a task of an inserted boat.
func (p *Planner) step(l *plan.Load, ins *plan.Insertion, tasks []works.Task, i int,
	comes map[int]pack.Arrival) Step {
	s := Step{Start: p.yard.DayOf(ins.Start[i] + 1), Finish: p.yard.DayOf(ins.Finish[i]), Begin: ins.Start[i],
		End: ins.Finish[i], Task: -1, Material: -1}
	w := ins.Waits[i]
	if w.Activity >= 0 && w.Activity < len(tasks) {
		s.Task = w.Activity
	}
	switch w.Cause {
	case plan.WaitsForPredecessor:
		s.Waits = ForWork
	case plan.WaitsForResource:
		s.Waits, s.Means = ForPeople, l.Resources[w.Resource].Title
	case plan.WaitsForHolder:
		s.Waits, s.Means = ForEquipment, l.Holders[w.Holder].Title
	case plan.WaitsForRelease:
		// or for the day of the plan, which is nothing to wait for
		if m, ok := comes[tasks[i].Operation]; ok {
			s.Waits, s.Material = ForMaterial, m.Material
		}
	case plan.WaitsForWindow:
		s.Waits = ForWindow
	}
	return s
}

// chain goes back from the launch over what each activity waits for.
func (b *Boat) chain(l *plan.Load, ins *plan.Insertion) {
	seen := make([]bool, len(l.Activities)) // a window may lead back to what waits for this one
	var back []int
	for i := l.Boats[0].Launch; i >= 0 && !seen[i]; i = ins.Waits[i].Activity {
		seen[i] = true
		if i < len(b.Tasks) { // a moment is when something is over, and nobody works on it
			back = append(back, i)
		}
	}
	for k := len(back) - 1; k >= 0; k-- {
		b.Chain = append(b.Chain, back[k])
		if m := b.Steps[back[k]].Material; m >= 0 {
			b.Material = m
		}
	}
}

// Chronological are the tasks in the order in which they begin; those that begin together as the book has them.
func (b *Boat) Chronological() []int {
	list := make([]int, len(b.Steps))
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(x, y int) int { return cmp.Compare(b.Steps[x].Begin, b.Steps[y].Begin) })
	return list
}
