package count_test

import (
	"fmt"
	"math/big"
	"math/rand"
	"strings"
	"testing"

	"ribband/core/fit/count"
)

// dimacs reads a formula in DIMACS CNF, as far as these tests need it.
func dimacs(t testing.TB, text string) count.Formula {
	t.Helper()
	var f count.Formula
	clauses := 0
	var clause []int
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "c") {
			continue
		}
		if strings.HasPrefix(line, "p") {
			if _, err := fmt.Sscanf(line, "p cnf %d %d", &f.Variables, &clauses); err != nil {
				t.Fatal(err)
			}
			continue
		}
		for _, word := range strings.Fields(line) {
			var literal int
			if _, err := fmt.Sscan(word, &literal); err != nil {
				t.Fatal(err)
			}
			if literal != 0 {
				clause = append(clause, literal)
				continue
			}
			f.Clauses = append(f.Clauses, clause)
			clause = nil
		}
	}
	if len(f.Clauses) != clauses || clause != nil {
		t.Fatalf("%d clauses, %d announced, and %v at the end", len(f.Clauses), clauses, clause)
	}
	return f
}

// pairwise writes the groups of a formula as a clause for each pair.
func pairwise(f count.Formula) count.Formula {
	g := count.Formula{Variables: f.Variables, Clauses: append([][]int(nil), f.Clauses...)}
	for _, group := range f.AtMostOne {
		for i, a := range group {
			for _, b := range group[:i] {
				g.Clauses = append(g.Clauses, []int{-a, -b})
			}
		}
	}
	return g
}

// brute counts the models one by one: all, and those in which each variable is true.
func brute(f count.Formula) (total int64, with []int64) {
	with = make([]int64, f.Variables)
	for model := range 1 << f.Variables {
		holds := func(literal int) bool {
			return literal > 0 && model>>(literal-1)&1 == 1 || literal < 0 && model>>(-literal-1)&1 == 0
		}
		if !allows(f, holds) {
			continue
		}
		total++
		for v := range with {
			with[v] += int64(model >> v & 1)
		}
	}
	return total, with
}

func allows(f count.Formula, holds func(int) bool) bool {
	held := func(literals []int) (n int) {
		for _, l := range literals {
			if holds(l) {
				n++
			}
		}
		return n
	}
	for _, clause := range f.Clauses {
		if held(clause) == 0 {
			return false
		}
	}
	for _, group := range f.AtMostOne {
		if held(group) > 1 {
			return false
		}
	}
	return true
}

// priceBook is an invented book of 70 slots, all to be filled, with about 300 options and up to so many rules. A rule
// says that an option needs one of some options of another slot, or that it does not go with one. In the given share of
// rules, in per cent, the other slot is any; otherwise it is at most four slots away. One build chosen beforehand is
// always allowed.
func priceBook(seed int64, rules, far int) count.Formula {
	r := rand.New(rand.NewSource(seed))
	var f count.Formula
	slots, chosen := make([][]int, 70), map[int]bool{}
	for i := range slots {
		size := 2 + r.Intn(4)
		if i%25 == 7 {
			size = 40 // colours
		}
		for range size {
			f.Variables++
			slots[i] = append(slots[i], f.Variables)
		}
		chosen[slots[i][r.Intn(size)]] = true
		f.ExactlyOne(slots[i]...)
	}
	holds := func(literal int) bool { return chosen[max(literal, -literal)] == (literal > 0) }
	for range rules {
		from, to := r.Intn(len(slots)), r.Intn(len(slots))
		if r.Intn(100) >= far {
			to = min(max(from+1+r.Intn(4), 0), len(slots)-1)
		}
		if from == to {
			continue
		}
		rule := []int{-slots[from][r.Intn(len(slots[from]))]}
		if r.Intn(3) == 0 {
			rule = append(rule, -slots[to][r.Intn(len(slots[to]))])
		} else {
			for _, i := range r.Perm(len(slots[to]))[:1+r.Intn(len(slots[to])-1)] {
				rule = append(rule, slots[to][i])
			}
		}
		if allows(count.Formula{Clauses: [][]int{rule}}, holds) {
			f.Clauses = append(f.Clauses, rule)
		}
	}
	return f
}

func number(t testing.TB, text string) *big.Int {
	t.Helper()
	n, ok := new(big.Int).SetString(text, 10)
	if !ok {
		t.Fatalf("%q is no number", text)
	}
	return n
}
