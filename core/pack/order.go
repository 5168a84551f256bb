package pack

// BuildOrder are the operations in an order in which they can be done: none before those that it comes after, otherwise
// in the order of the book. Operations that wait for each other in a circle, which the checker refuses, stand last.
//
// Source: topological order, A. B. Kahn, Communications of the ACM 5 (1962), 558-562.
func (w *Work) BuildOrder() []int {
	order, done := make([]int, 0, len(w.Operations)), make([]bool, len(w.Operations))
	ready := func(i int) bool {
		for _, a := range w.Operations[i] {
			if !done[a] {
				return false
			}
		}
		return true
	}
	for i := 0; i < len(done); i++ {
		if !done[i] && ready(i) {
			done[i] = true
			order = append(order, i)
			i = -1 // what stands before it in the book may be ready now
		}
	}
	for i := range done {
		if !done[i] {
			order = append(order, i)
		}
	}
	return order
}
