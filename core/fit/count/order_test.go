package count

import (
	"math/rand"
	"slices"
	"testing"
)

// fillOf counts the pairs of neighbours of a vertex that are not joined.
func fillOf(g *graph, v int32) (missing int) {
	for x := range g.near[v].members {
		for y := range g.near[v].members {
			if x < y && !g.near[x].has(y) {
				missing++
			}
		}
	}
	return missing
}

func TestFillIsKeptThroughElimination(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 200 {
		n := 2 + r.Intn(90)
		g := newGraph(n)
		for range r.Intn(3 * n) {
			if x, y := r.Int31n(int32(n)), r.Int31n(int32(n)); x != y {
				g.near[x].put(y)
				g.near[y].put(x)
			}
		}
		g.countFill()
		gone := map[int32]bool{}
		for _, v := range r.Perm(n) {
			for w := range int32(n) {
				if want := fillOf(g, w); !gone[w] && g.fill[w] != want {
					t.Fatalf("fill of %d is %d, should be %d, after %v", w, g.fill[w], want, gone)
				}
			}
			g.eliminate(int32(v))
			gone[int32(v)] = true
		}
	}
}

// Two groups that one clause ties: their other members go first, and the search starts with the tie.
func TestOrderStartsWithWhatHoldsAllTogether(t *testing.T) {
	f := Formula{Variables: 9}
	f.ExactlyOne(1, 2, 3, 4)
	f.ExactlyOne(6, 7, 8, 9)
	f.Clauses = append(f.Clauses, []int{-4, 5}, []int{-5, 6})
	rank, err := Order(f)
	if err != nil {
		t.Fatal(err)
	}
	for _, outer := range []int{1, 2, 3} {
		if slices.Max(rank[3:]) < rank[outer-1] {
			t.Errorf("variable %d is picked first: %v", outer, rank)
		}
	}
	if seen := slices.Sorted(slices.Values(rank)); !slices.Equal(seen, upTo(9)) {
		t.Errorf("no permutation: %v", rank)
	}
}
