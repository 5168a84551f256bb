package count_test

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"ribband/core/fit/count"
)

func power(base, exponent int64) *big.Int {
	return new(big.Int).Exp(big.NewInt(base), big.NewInt(exponent), nil)
}

// fibonacci is the nth number: 0, 1, 1, 2, 3, 5.
func fibonacci(n int) *big.Int {
	a, b := new(big.Int), big.NewInt(1)
	for range n {
		a.Add(a, b)
		a, b = b, a
	}
	return a
}

func groups(number, size int) (f count.Formula) {
	for range number {
		var group []int
		for range size {
			f.Variables++
			group = append(group, f.Variables)
		}
		f.ExactlyOne(group...)
	}
	return f
}

// path has clauses of the given signs over each variable and the next.
func path(n, first, second int) count.Formula {
	f := count.Formula{Variables: n}
	for v := 1; v < n; v++ {
		f.Clauses = append(f.Clauses, []int{first * v, second * (v + 1)})
	}
	return f
}

// wide is one clause over all variables.
func wide(n int) count.Formula {
	f := count.Formula{Variables: n, Clauses: [][]int{nil}}
	for v := 1; v <= n; v++ {
		f.Clauses[0] = append(f.Clauses[0], v)
	}
	return f
}

// pigeons says that each of n+1 pigeons has one of n holes and no hole two pigeons.
func pigeons(n int) count.Formula {
	f := groups(n+1, n)
	for hole := 1; hole <= n; hole++ {
		var group []int
		for pigeon := range n + 1 {
			group = append(group, pigeon*n+hole)
		}
		f.AtMostOne = append(f.AtMostOne, group)
	}
	return f
}

// permutations says that each of n pegs has one of n holes and each hole one peg.
func permutations(n int) count.Formula {
	f := groups(n, n)
	for hole := 1; hole <= n; hole++ {
		var group []int
		for peg := range n {
			group = append(group, peg*n+hole)
		}
		f.ExactlyOne(group...)
	}
	return f
}

// The counts follow from the formulas by hand.
func TestClosedForms(t *testing.T) {
	for _, c := range []struct {
		name string
		f    count.Formula
		want *big.Int
	}{
		{"nothing", count.Formula{}, big.NewInt(1)},
		{"free variables", count.Formula{Variables: 300}, power(2, 300)},
		{"a clause that never holds", count.Formula{Variables: 3, Clauses: [][]int{{1}, {}}}, new(big.Int)},
		{"a literal and its opposite", count.Formula{Variables: 3, Clauses: [][]int{{1}, {-1}}}, new(big.Int)},
		{"a clause that always holds", count.Formula{Variables: 3, Clauses: [][]int{{2, 1, -2}}}, big.NewInt(8)},
		{"a literal twice in a clause", count.Formula{Variables: 3, Clauses: [][]int{{2, 2}}}, big.NewInt(4)},
		{"an empty group", count.Formula{Variables: 3, AtMostOne: [][]int{{}}}, big.NewInt(8)},
		{"a variable's both literals in a group", count.Formula{Variables: 3, AtMostOne: [][]int{{1, -1, 2}}},
			big.NewInt(4)},
		{"at most one of five", count.Formula{Variables: 5, AtMostOne: [][]int{{1, 2, 3, 4, 5}}}, big.NewInt(6)},
		{"slots", groups(70, 40), power(40, 70)},
		{"slots as pairs", pairwise(groups(20, 40)), power(40, 20)},
		{"a chain of implications", path(1000, -1, 1), big.NewInt(1001)},
		{"independent sets of a path", path(1000, -1, -1), fibonacci(1002)},
		{"a wide clause", wide(2000), new(big.Int).Sub(power(2, 2000), big.NewInt(1))},
		{"pigeons without room", pigeons(7), new(big.Int)},
		{"permutations", permutations(8), big.NewInt(40320)},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got, err := c.f.Count(count.Limits{}); err != nil || got.Cmp(c.want) != 0 {
				t.Errorf("%v models, %v; want %v", got, err, c.want)
			}
		})
	}
}

// The deepest search there is: a decision for each of the most variables, one in the other.
func TestDepthOfTheSearch(t *testing.T) {
	f := wide(count.MaxVariables)
	want := new(big.Int).Sub(power(2, count.MaxVariables), big.NewInt(1))
	if got, err := f.Count(count.Limits{}); err != nil || got.Cmp(want) != 0 {
		t.Errorf("not 2^%d-1 models: %v", count.MaxVariables, err)
	}
}

func TestWhatCannotBeRead(t *testing.T) {
	for _, c := range []struct {
		f    count.Formula
		want string
	}{
		{count.Formula{Variables: -1}, "count models: -1 variables; count 0 to 5000"},
		{count.Formula{Variables: 5001}, "count models: 5001 variables; count 0 to 5000"},
		{count.Formula{Variables: 2, Clauses: [][]int{{1}, {2, 0}}},
			"count models: Clauses[1] names 0; literals are 1 to 2 and their negatives"},
		{count.Formula{Variables: 2, Clauses: [][]int{{-3}}},
			"count models: Clauses[0] names -3; literals are 1 to 2 and their negatives"},
		{count.Formula{Variables: 2, Clauses: [][]int{{-1 << 63}}},
			"count models: Clauses[0] names -9223372036854775808; literals are 1 to 2 and their negatives"},
		{count.Formula{Variables: 2, AtMostOne: [][]int{{3}}},
			"count models: AtMostOne[0] names 3; literals are 1 to 2 and their negatives"},
		{count.Formula{Variables: 2, AtMostOne: [][]int{{1, 2, 1}}},
			"count models: AtMostOne[0] names a literal twice; name each once"},
	} {
		if n, err := c.f.Count(count.Limits{}); err == nil || err.Error() != c.want {
			t.Errorf("%v, %v; want %s", n, err, c.want)
		}
		if _, err := c.f.Marginals(count.Limits{}); err == nil ||
			!strings.HasPrefix(err.Error(), "count models by literal: ") {
			t.Errorf("by literal: %v", err)
		}
	}
}

func TestGivingUp(t *testing.T) {
	book := priceBook(1, 80, 2)
	decisions, cached, err := count.Effort(book, count.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := book.Count(count.Limits{Decisions: decisions}); err != nil {
		t.Errorf("with as many decisions as it takes: %v", err)
	}
	for name, attempt := range map[string]func() error{
		"decisions":     func() error { _, err := book.Count(count.Limits{Decisions: decisions - 1}); return err },
		"a search kept": func() error { _, err := book.Marginals(count.Limits{Cache: cached / 2}); return err },
		"rules across": func() error {
			_, err := priceBook(1, 400,
				100).Count(count.Limits{Decisions: 1000})
			return err
		},
	} {
		if err := attempt(); !errors.Is(err, count.ErrGaveUp) || !strings.Contains(err.Error(), "allow more") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAFullCacheIsEmptied(t *testing.T) {
	book := priceBook(1, 80, 2)
	free, cached, err := count.Effort(book, count.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	narrow, left, err := count.Effort(book, count.Limits{Cache: cached / 4})
	if err != nil || left > cached/4 || narrow < free {
		t.Errorf("%d decisions and %d bytes with a quarter of %d, %v; %d decisions with all", narrow, left, cached, err,
			free)
	}
}

func TestEffortIsTheSameEachTime(t *testing.T) {
	f := priceBook(3, 120, 5)
	first, bytes, err := count.Effort(f, count.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	for range 5 {
		if d, b, err := count.Effort(f, count.Limits{}); d != first || b != bytes || err != nil {
			t.Errorf("%d decisions and %d bytes, then %d and %d, %v", first, bytes, d, b, err)
		}
	}
}

func TestWithOfNoLiteral(t *testing.T) {
	m, err := count.Formula{Variables: 2}.Marginals(count.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	for _, literal := range []int{0, 3, -3} {
		if n := m.With(literal); n != nil {
			t.Errorf("%d: %v", literal, n)
		}
	}
}
