package works

import (
	"ribband/core/measure"
	"ribband/core/pack"
)

// Task is an operation that a boat takes, with all that it is done for there; or an extra item's work in one shop.
// Outside work takes days and nobody: it has neither hours nor a crew.
type Task struct {
	Operation int           // index in the book; [NoOperation] for an extra item
	Shop      int           // [Outside] for outside work
	Days      int           // of outside work: working days until it is back
	Hours     measure.Hours // of one person, for all causes; zero only for an extra item, and of outside work
	Crew      int           // people at it at once
	Elapsed   measure.Hours // that the crew is at it: hours by crew, rounded up to a millionth
	Skill     int           // of its shop, that all of the crew have, counted from 1; 0 for none
	Spread    pack.Spread   // factors of the hours
	Lines     []int         // of [Boat.Lines], that it is made of
	After     []Link        // in the order of the tasks, each once
	Uses      []int         // equipment of the book that the boat occupies while it is worked on
	Holds     []Hold
}

// Link is a task of the same list, an earlier one, that must be done before, and the time by the clock between the end
// of that one and the begin of this one.
type Link struct {
	Task    int
	Wait    measure.Hours // at least
	Within  measure.Hours // at most, where it is bounded
	Bounded bool
}

// Hold is equipment that the boat occupies from the begin of a task until the end of all of others: of the operation
// that gives it free, or where the boat does not have that one, of what comes before it. None for until its own end.
type Hold struct {
	Equipment int
	Until     []int // tasks of the same list, in order
}

// Tasks is the network of a boat: its operations in the order in which they are done, then the work of its extra items,
// for which the book has no place in that order. What an operation waits for is looked for beyond operations that this
// boat does not have, so that the order of the book holds whatever is left out.
func (b *Boat) Tasks() []Task {
	n := b.network
	// an operation is done once for all that it is for, when everything for it can be done
	byOperation := make([][]int, len(n.Operations))
	var extras []Task
	// who adds an item at a show knows its hours, not how it is best worked: one person, as sure as anything here
	for i, l := range b.Lines {
		if l.Operation == NoOperation {
			extras = append(extras, Task{Operation: NoOperation, Shop: l.Shop, Hours: l.Hours, Crew: 1,
				Elapsed: l.Hours, Spread: n.spread, Lines: []int{i}})
			continue
		}
		byOperation[l.Operation] = append(byOperation[l.Operation], i)
	}
	at := make([]int, len(n.Operations)) // of its task; -1: the boat does not have it, or not yet
	for i := range at {
		at[i] = -1
	}
	var tasks []Task
	for _, op := range n.Order {
		if len(byOperation[op]) == 0 {
			continue
		}
		t := n.task(op, b.hull)
		// all that comes before stands in the list already: the order sees to it
		t.Lines, t.After = byOperation[op], n.before(op, at)
		for _, i := range t.Lines {
			t.Hours += b.Lines[i].Hours
		}
		// rounded up, so that no crew is ever ahead of its own work
		if t.Crew > 0 {
			t.Elapsed = (t.Hours + measure.Hours(t.Crew) - 1) / measure.Hours(t.Crew)
		}
		at[op] = len(tasks)
		tasks = append(tasks, t)
	}
	for i := range tasks { // what gives free comes later, so that all have to be there
		n.hold(&tasks[i], i, b.hull, at)
	}
	return append(tasks, extras...)
}

// task is an operation on a hull without what depends on the boat's other operations. A desk without the work knows of
// no crew and no spread.
func (n *Network) task(op, hull int) Task {
	def := &n.Operations[op]
	// a zero crew or spread is that of a desk without the work: hours by shop are right there all the same
	t := Task{Operation: op, Shop: def.Shop, Days: def.Days, Crew: max(1, def.Crew), Skill: def.Skill,
		Spread: def.Spread}
	if def.Shop == Outside {
		t.Crew = 0
	}
	if def.Spread == (pack.Spread{}) {
		t.Spread = pack.Exactly
	}
	// one of a kind for each hull is named, and the boat needs its own alone
	for _, e := range def.Uses {
		if n.equipment[e].Serves(hull) {
			t.Uses = append(t.Uses, e)
		}
	}
	return t
}

// hold enters what a task holds, and until when.
func (n *Network) hold(t *Task, self, hull int, at []int) {
	for _, h := range n.Operations[t.Operation].Holds {
		if !n.equipment[h.Equipment].Serves(hull) {
			continue
		}
		hold := Hold{Equipment: h.Equipment}
		if until := at[h.Until]; until >= 0 {
			hold.Until = []int{until}
		} else {
			for _, l := range n.before(h.Until, at) {
				if l.Task > self { // what is done by then anyway needs no waiting for
					hold.Until = append(hold.Until, l.Task)
				}
			}
		}
		t.Holds = append(t.Holds, hold)
	}
}

// before are the links of an operation: to the tasks of those that it comes after, and where the boat does not have one
// of these, to those of what that one comes after. At holds the tasks by operation.
//
// A wait belongs to what has to cure or dry, so that it is kept whatever follows; a bound belongs to the two that are
// linked, and goes with either. Of two ways to one task the longer wait holds.
func (n *Network) before(op int, at []int) (links []Link) {
	seen := make([]bool, len(n.Operations)) // two ways may lead back to one operation
	add := func(a *pack.Predecessor, direct bool) {
		l := Link{Task: at[a.Operation], Wait: clock(a.Wait)}
		if direct && a.Within != nil {
			l.Within, l.Bounded = clock(*a.Within), true
		}
		// in the order of the tasks; a boat has few links, and no sorting is worth its bytes in the page
		i := 0
		for i < len(links) && links[i].Task < l.Task {
			i++
		}
		if i == len(links) || links[i].Task != l.Task {
			links = append(links, l)
			copy(links[i+1:], links[i:])
			links[i] = l
			return
		}
		links[i].Wait = max(links[i].Wait, l.Wait)
		if l.Bounded {
			links[i].Within, links[i].Bounded = l.Within, true
		}
	}
	// operations whose predecessors are still to be looked at: this one, and those that the boat does not have
	open := []int{op}
	for len(open) > 0 {
		of := open[len(open)-1]
		open = open[:len(open)-1]
		for i := range n.Operations[of].After {
			switch a := &n.Operations[of].After[i]; {
			case at[a.Operation] >= 0:
				add(a, of == op)
			case !seen[a.Operation]:
				seen[a.Operation] = true
				open = append(open, a.Operation)
			}
		}
	}
	return links
}

// clock is a time of the book, h, which the reader of packs has found to be one.
func clock(h float64) measure.Hours {
	t, _ := measure.FromFloat[measure.Hours](h)
	return t
}
