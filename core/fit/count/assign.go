package count

// literal is 2v where variable v, counted from 0, is true and 2v+1 where it is false.
type literal int32

func (l literal) not() literal    { return l ^ 1 }
func (l literal) variable() int32 { return int32(l) >> 1 }

// assignment is what is settled so far and what that makes of the clauses. It goes forward by assume and back by undo.
// Clauses are counted and not watched as in package sat: a component needs to know of every clause whether it is true,
// to say what is still open, so that counts are needed anyway.
type assignment struct {
	clauses, groups [][]literal
	clausesOf       [][]int32 // by literal: the clauses that hold it
	groupsOf        [][]int32 // by literal: the groups that hold it
	value           []int8    // by literal: 1 true, -1 false, 0 open
	trueIn, falseIn []int32   // by clause: how many of its literals are
	trail           []literal // what is true, in the order in which it became so
}

func newAssignment(variables int) assignment {
	return assignment{
		clausesOf: make([][]int32, 2*variables),
		groupsOf:  make([][]int32, 2*variables),
		value:     make([]int8, 2*variables),
	}
}

func (a *assignment) addClause(literals []literal) {
	for _, l := range literals {
		a.clausesOf[l] = append(a.clausesOf[l], int32(len(a.clauses)))
	}
	a.clauses = append(a.clauses, literals)
	a.trueIn, a.falseIn = append(a.trueIn, 0), append(a.falseIn, 0)
}

func (a *assignment) addGroup(literals []literal) {
	for _, l := range literals {
		a.groupsOf[l] = append(a.groupsOf[l], int32(len(a.groups)))
	}
	a.groups = append(a.groups, literals)
}

func (a *assignment) variables() int             { return len(a.value) / 2 }
func (a *assignment) isOpen(variable int32) bool { return a.value[2*variable] == 0 }

// assume makes a literal true, with all that follows by unit propagation. It is false where some clause or group cannot
// hold then; what was settled on the way stays on the trail until undo.
func (a *assignment) assume(l literal) bool {
	next := len(a.trail)
	return a.set(l) && a.propagate(next)
}

// propagate settles what follows from the trail, from a place on it to its end, which moves on.
func (a *assignment) propagate(next int) bool {
	for ; next < len(a.trail); next++ {
		if !a.follow(a.trail[next]) {
			return false
		}
	}
	return true
}

// set makes one literal true; it is false where that literal is false already.
func (a *assignment) set(l literal) bool {
	if a.value[l] != 0 {
		return a.value[l] > 0
	}
	a.value[l], a.value[l.not()] = 1, -1
	a.trail = append(a.trail, l)
	for _, c := range a.clausesOf[l] {
		a.trueIn[c]++
	}
	for _, c := range a.clausesOf[l.not()] {
		a.falseIn[c]++
	}
	return true
}

// follow sets what one true literal brings with it.
func (a *assignment) follow(l literal) bool {
	for _, g := range a.groupsOf[l] {
		for _, other := range a.groups[g] {
			if other != l && !a.set(other.not()) {
				return false
			}
		}
	}
	for _, c := range a.clausesOf[l.not()] {
		if !a.unit(c) {
			return false
		}
	}
	return true
}

// unit sets the last open literal of a clause in which none is true; it is false where all are false.
func (a *assignment) unit(clause int32) bool {
	open := len(a.clauses[clause]) - int(a.falseIn[clause])
	if a.trueIn[clause] > 0 || open > 1 {
		return true
	}
	for _, l := range a.clauses[clause] {
		if a.value[l] == 0 {
			return a.set(l)
		}
	}
	return false
}

// undo shortens the trail to a length.
func (a *assignment) undo(length int) {
	for _, l := range a.trail[length:] {
		a.value[l], a.value[l.not()] = 0, 0
		for _, c := range a.clausesOf[l] {
			a.trueIn[c]--
		}
		for _, c := range a.clausesOf[l.not()] {
			a.falseIn[c]--
		}
	}
	a.trail = a.trail[:length]
}
