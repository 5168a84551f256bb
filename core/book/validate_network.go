package book

// network checks the order of the operations: that none waits for itself, that what is held is given free by a later
// operation, and that no window closes before what has to be done in between can be done.
func (v *validation) network() {
	n := precedence{v: v, index: map[string]int{}}
	for i, o := range v.book.Operations {
		if _, twice := n.index[o.ID.Value]; !twice {
			n.index[o.ID.Value] = i
		}
	}
	if n.circles() {
		return // nothing can be said of an order that there is not
	}
	for i := range v.book.Operations {
		o := &v.book.Operations[i]
		for _, h := range o.Holds {
			until, known := n.index[h.Until.Value]
			if known && until != i && n.waits(until)[i] == nil {
				v.error(h.Until.At, "name an operation that comes after it, directly or by way of others",
					"%s holds %s until %s, which does not come after it", o.ID, h.Equipment, h.Until)
			}
		}
		n.windows(i)
	}
}

// precedence is the order of the operations by index.
type precedence struct {
	v      *validation
	index  map[string]int
	before []map[int]*float64 // see [precedence.waits]
}

// circles reports the first operation of each circle of operations that wait for each other.
func (n *precedence) circles() (found bool) {
	list := n.v.book.Operations
	const entered, left = 1, 2
	state := make([]int, len(list))
	var visit func(i int) bool
	visit = func(i int) bool {
		if state[i] != 0 {
			return state[i] == entered
		}
		state[i] = entered
		defer func() { state[i] = left }()
		for _, a := range list[i].After {
			if j, known := n.index[a.Operation.Value]; known && visit(j) {
				n.v.error(a.Operation.At, "take one of the links out",
					"the operation %s waits for itself, by way of %s", list[i].ID, a.Operation)
				found = true
				return false
			}
		}
		return false
	}
	for i := range list {
		visit(i)
	}
	return found
}

// waits are the operations that come before one, each with the longest time by the clock that has to pass between the
// two for waits alone, h.
func (n *precedence) waits(i int) map[int]*float64 {
	list := n.v.book.Operations
	if n.before == nil {
		n.before = make([]map[int]*float64, len(list))
	}
	if n.before[i] != nil {
		return n.before[i]
	}
	found := map[int]*float64{}
	longer := func(j int, hours float64) {
		if found[j] == nil || *found[j] < hours {
			found[j] = &hours
		}
	}
	for _, a := range list[i].After {
		j, known := n.index[a.Operation.Value]
		if !known {
			continue
		}
		longer(j, a.WaitHours.Value)
		for k, hours := range n.waits(j) {
			longer(k, a.WaitHours.Value+*hours)
		}
	}
	n.before[i] = found
	return found
}

// windows reports an operation that has to begin within a time after another, in which others have to be waited for
// that take longer.
func (n *precedence) windows(i int) {
	o := &n.v.book.Operations[i]
	for _, a := range o.After {
		j, known := n.index[a.Operation.Value]
		if !known || !a.WithinHours.Given() || a.WithinHours.Value < a.WaitHours.Value {
			continue
		}
		if hours := *n.waits(i)[j]; hours > a.WithinHours.Value {
			n.v.error(a.WithinHours.At, "make it longer, or take out what has to be waited for in between",
				"%s has to begin within %g h after %s, and what comes in between makes it wait %g h", o.ID,
				a.WithinHours.Value, a.Operation, hours)
		}
	}
}
