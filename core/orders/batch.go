package orders

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"ribband/core/launch"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/plan"
)

// SetUp is an operation that is set up once for several boats, since they come one after the other.
type SetUp struct {
	Operation string        `json:"operation"` // title
	Orders    []string      `json:"orders"`    // in the order in which they are worked; the first one has the set-up
	Hours     measure.Hours `json:"hours"`     // of one person, that the others do not need
}

// A set-up is shared by boats of one hull, or of one colour, that come one after the other in a shop. Which ones do,
// the plan decides; how long the work is, the plan has to know. So it is planned without, then with the set-ups that
// this plan lets share, and what the second plan does not keep together is worked by itself again.

// tries bounds how often it is planned: each time fewer set-ups are shared.
const tries = 3

// solve plans a load with shared set-ups; the activities of the load have the hours that came of it.
func (l *Load) solve(effort plan.Effort) (*plan.Schedule, error) {
	l.setUps = nil
	alone, spreads := l.Plan.Activities, l.Spreads
	s, err := plan.Solve(&l.Plan, plan.Objective{}, effort)
	if err != nil {
		return nil, err
	}
	// the first plan is good without: whatever comes of the rest, there is one
	wanted := l.following(s)
	// fewer each time, so that it ends; a plan that keeps all that it was made with is the one
	for range tries {
		if len(wanted) == 0 {
			break
		}
		l.Plan.Activities, l.Spreads = slices.Clone(alone), slices.Clone(spreads)
		for i := range wanted {
			long := l.without(i)
			// as long as it takes at least with a set-up, less that
			saved := alone[i].Duration - long
			l.Plan.Activities[i].Duration = long
			l.Spreads[i] = plan.Spread{Low: max(1, spreads[i].Low-saved), Likely: max(1, spreads[i].Likely-saved),
				High: max(1, spreads[i].High-saved)}
		}
		shared, err := plan.Solve(&l.Plan, plan.Objective{}, effort)
		if err != nil {
			return nil, err
		}
		// what comes after another boat in this plan keeps what it saves; the rest needs its own set-up
		kept := l.following(shared)
		lost := false
		for i := range wanted {
			if _, ok := kept[i]; !ok {
				delete(wanted, i)
				lost = true
			}
		}
		if !lost {
			l.setUps = l.batches(wanted, kept)
			return shared, nil
		}
	}
	l.Plan.Activities, l.Spreads = alone, spreads
	return s, nil
}

// batches are the set-ups that are shared, in the order of the book: each row of boats with what it saves.
func (l *Load) batches(shared, after map[int]int) (list []SetUp) {
	// by the first of a row, which has the set-up
	of := map[int]int{} // set-up in the list, of an activity
	for _, i := range slices.Sorted(maps.Keys(after)) {
		// back to the first of its row that has the set-up
		first := i
		for _, ok := shared[first]; ok; _, ok = shared[first] {
			first = after[first]
		}
		if first == i {
			continue
		}
		t := &l.Boats[l.task[i].boat].Tasks[l.task[i].task]
		k, known := of[first]
		if !known {
			k = len(list)
			of[first] = k
			list = append(list, SetUp{Operation: l.engine.Work.Operations[t.Operation].Title})
			list[k].Orders = append(list[k].Orders, l.Boats[l.task[first].boat].Order.Number)
		}
		list[k].Orders = append(list[k].Orders, l.Boats[l.task[i].boat].Order.Number)
		saved, _ := measure.FromFloat[measure.Hours](l.engine.Work.Operations[t.Operation].SetUp)
		list[k].Hours += saved
	}
	return list
}

// following are the activities that come right after one of the same batch in a schedule, by that one.
func (l *Load) following(s *plan.Schedule) map[int]int {
	// a shop takes the boats in one order, whatever else it does in between
	byOperation := map[int][]int{}
	for i, of := range l.task {
		if of.task == noTask {
			continue
		}
		if op := l.Boats[of.boat].Tasks[of.task].Operation; op >= 0 && l.batched(op) {
			byOperation[op] = append(byOperation[op], i)
		}
	}
	after := map[int]int{}
	for op, list := range byOperation {
		slices.SortStableFunc(list, func(x, y int) int { return cmp.Compare(s.Start[x], s.Start[y]) })
		for k := 1; k < len(list); k++ {
			i, before := list[k], list[k-1]
			// what is begun has been set up; work that is done again after a change is set up for itself
			if l.Plan.Activities[i].State == plan.Open && l.task[i].boat != l.task[before].boat &&
				l.batch(op, i) == l.batch(op, before) {
				after[i] = before
			}
		}
	}
	return after
}

// batched says whether boats may share the set-up of an operation.
func (l *Load) batched(op int) bool {
	def := &l.engine.Work.Operations[op]
	return def.Batch != pack.NoBatch && def.SetUp > 0
}

// batch is what boats that share the set-up of an operation have in common: the hull, or what causes the work.
func (l *Load) batch(op, activity int) string {
	b := &l.Boats[l.task[activity].boat]
	if l.engine.Work.Operations[op].Batch == pack.SameHull {
		return fmt.Sprint(b.Answer.Hull)
	}
	// the same options, as often: gelcoat of one colour, cloth of one roll
	var causes []string
	for _, i := range b.Tasks[l.task[activity].task].Lines {
		causes = append(causes, fmt.Sprint(b.Answer.Work.Lines[i].For))
	}
	slices.Sort(causes)
	return strings.Join(causes, " ")
}

// without is how long an activity takes without its set-up: a quarter of an hour at least, since somebody has to begin.
func (l *Load) without(activity int) plan.Time {
	b := &l.Boats[l.task[activity].boat]
	t := &b.Tasks[l.task[activity].task]
	rest := float64(t.Elapsed.Float()*b.Factor) - l.engine.Work.Operations[t.Operation].SetUp/float64(t.Crew)
	return max(1, launch.Quarters(max(0, rest)))
}
