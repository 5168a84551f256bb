package figures

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/formula"
	"ribband/core/pack"
)

func reading(lists ...[]int) []formula.Reads {
	var reads []formula.Reads
	for _, l := range lists {
		reads = append(reads, formula.Reads{Figures: l})
	}
	return reads
}

func TestCircle(t *testing.T) {
	for _, c := range []struct {
		name  string
		reads []formula.Reads
		want  []int // each of them is on the circle
	}{
		{"nothing", nil, []int{-1}},
		{"a chain", reading([]int{1}, []int{2}, nil), []int{-1}},
		{"two ways to one", reading([]int{1, 2}, []int{3}, []int{3}, nil), []int{-1}},
		{"itself", reading(nil, []int{1}), []int{1}},
		{"two", reading([]int{1}, []int{0}), []int{0, 1}},
		{"three", reading([]int{1}, []int{2}, []int{0}), []int{0, 1, 2}},
	} {
		if got := Circle(c.reads); !slices.Contains(c.want, got) {
			t.Errorf("%s: figure %d, want one of %v", c.name, got, c.want)
		}
	}
}

// The figure named was the one where the search began, though it only led to the circle.
func TestCircleNamesAFigureOnIt(t *testing.T) {
	if got := Circle(reading([]int{1}, []int{2}, []int{1})); got != 1 && got != 2 {
		t.Errorf("figure %d is not on the circle of 1 and 2", got)
	}
}

func TestCompileRefusesCircles(t *testing.T) {
	formulas := func(texts ...string) *pack.Pack {
		p := &pack.Pack{Public: pack.Public{Hulls: []pack.Hull{{}}}}
		for i, text := range texts {
			p.Figures = append(p.Figures, pack.Figure{ID: string(rune('a' + i)), Formula: lowered(t, text)})
		}
		return p
	}
	byHull := formulas("f1", "")
	byHull.Hulls[0].Carries = []pack.Contribution{{Figure: 1, Amount: lowered(t, "f0")}}
	byOption := formulas("n1", "")
	byOption.Options = []pack.Option{{Carries: []pack.Contribution{{Figure: 1, Amount: lowered(t, "f1")}}}}
	for _, c := range []struct {
		name string
		pack *pack.Pack
		want string
	}{
		{"a formula of itself", formulas("n1", "f1 n1 +"), "ordering the figures: b depends on itself"},
		{"formulas of each other", formulas("f2", "f2", "f1"), "ordering the figures: c depends on itself"},
		{"by what a hull carries", byHull, "ordering the figures: a depends on itself"},
		{"by what an option carries", byOption, "ordering the figures: b depends on itself"},
	} {
		if _, err := Compile(c.pack); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

// Each figure comes once, after all that it reads; where that cannot be, the figure named leads back to itself.
func TestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "figures")
		reads := make([]formula.Reads, n)
		for i := range reads {
			reads[i].Figures = rapid.SliceOfN(rapid.IntRange(0, n-1), 0, 2).Draw(t, "reads")
		}
		order, circle := sorted(reads)
		if circle >= 0 {
			if !leads(reads, circle, circle) {
				t.Fatalf("%+v: %d is said to depend on itself", reads, circle)
			}
			return
		}
		for i := range reads {
			if leads(reads, i, i) {
				t.Fatalf("%+v: %d depends on itself, which was not found", reads, i)
			}
			for _, j := range reads[i].Figures {
				if slices.Index(order, j) > slices.Index(order, i) {
					t.Fatalf("%+v: %d stands before %d, which it reads: %v", reads, i, j, order)
				}
			}
		}
		if slices.Sort(order); len(order) != n || len(slices.Compact(order)) != n {
			t.Fatalf("%v is not each of %d figures once", order, n)
		}
	})
}

// leads says whether a figure reads another, in however many steps.
func leads(reads []formula.Reads, from, to int) bool {
	seen := map[int]bool{}
	next := slices.Clone(reads[from].Figures)
	for len(next) > 0 {
		i := next[0]
		next = next[1:]
		if i == to {
			return true
		}
		if !seen[i] {
			seen[i] = true
			next = append(next, reads[i].Figures...)
		}
	}
	return false
}
