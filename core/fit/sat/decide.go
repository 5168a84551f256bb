package sat

// Prefer says which value a variable is tried with first. Each call of the solver starts from these preferences, so
// that models stay near them; within a call a variable is tried with the value that it had last. Without a preference
// the first try is false.
//
// Source: saving phases: Pipatsrisawat and Darwiche, SAT 2007; from memory.
func (s *Solver) Prefer(lits ...Lit) {
	s.known(lits)
	for _, l := range lits {
		s.vars[l.Var()].preferred = phaseOf(l)
	}
}

func phaseOf(l Lit) int8 {
	if l > 0 {
		return 1
	}
	return -1
}

// recall sets the phases back to the preferred ones.
func (s *Solver) recall() {
	for v := range s.vars {
		if p := s.vars[v].preferred; p != 0 {
			s.vars[v].phase = p
		}
	}
}

// guess is the busiest open variable in its phase, or 0 if none is open.
func (s *Solver) guess() Lit {
	for len(s.order.heap) > 0 {
		v := s.order.pop()
		if l := Lit(v); s.value[l.index()] == 0 {
			return l * Lit(s.vars[v].phase)
		}
	}
	return 0
}

// order is a heap of variables by activity, ties by number. A variable becomes more active with each conflict that it
// takes part in, and activity fades with the conflicts: instead of making all of them smaller, the increment grows.
//
// Source: Moskewicz et al. 2001, in the form of Eén and Sörensson 2003; from memory. A tie goes to the lower number, so
// that models do not hang on how the heap happens to lie.
type order struct {
	activity  []float64 // by variable
	heap      []int32
	at        []int32 // by variable: where in the heap, or -1
	increment float64
}

const (
	fade    = 0.95
	tooMuch = 1e100 // all activities are scaled down before they overflow
)

func newOrder() order { return order{activity: []float64{0}, at: []int32{-1}, increment: 1} }

func (o *order) add(v int) {
	o.activity, o.at = append(o.activity, 0), append(o.at, -1)
	o.insert(v)
}

func (o *order) decay() { o.increment /= fade }

func (o *order) bump(v int) {
	o.activity[v] += o.increment
	if o.activity[v] > tooMuch {
		for i := range o.activity {
			o.activity[i] /= tooMuch
		}
		o.increment /= tooMuch
	}
	if o.at[v] >= 0 {
		o.up(int(o.at[v]))
	}
}

func (o *order) insert(v int) {
	if o.at[v] >= 0 {
		return
	}
	o.at[v] = int32(len(o.heap))
	o.heap = append(o.heap, int32(v))
	o.up(len(o.heap) - 1)
}

func (o *order) pop() int {
	top, last := o.heap[0], len(o.heap)-1
	o.put(0, o.heap[last])
	o.heap = o.heap[:last]
	o.at[top] = -1
	if last > 0 {
		o.down(0)
	}
	return int(top)
}

// before puts the more active variable first.
func (o *order) before(a, b int32) bool {
	if x, y := o.activity[a], o.activity[b]; x != y {
		return x > y
	}
	return a < b
}

func (o *order) put(i int, v int32) { o.heap[i], o.at[v] = v, int32(i) }

func (o *order) up(i int) {
	v := o.heap[i]
	for i > 0 && o.before(v, o.heap[(i-1)/2]) {
		o.put(i, o.heap[(i-1)/2])
		i = (i - 1) / 2
	}
	o.put(i, v)
}

func (o *order) down(i int) {
	v := o.heap[i]
	for 2*i+1 < len(o.heap) {
		child := 2*i + 1
		if child+1 < len(o.heap) && o.before(o.heap[child+1], o.heap[child]) {
			child++
		}
		if !o.before(o.heap[child], v) {
			break
		}
		o.put(i, o.heap[child])
		i = child
	}
	o.put(i, v)
}
