package clauses_test

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/fit/clauses"
	"ribband/core/fit/count"
	"ribband/core/fit/sat"
	"ribband/core/pack"
)

// The counter, always and never are held to all fillings of small books, judged by package fit.
func TestCountAgainstAllFillings(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 2))
	none, some, lazy := 0, 0, 0
	for range 150 {
		z := anyPuzzle(t, r)
		if z.fillings() > 700 {
			continue
		}
		for _, most := range []int{1000, 12} {
			c := clauses.CompileWithin(z.pack, z.figures, 0, use, most)
			if len(c.LazySlots()) > 0 {
				continue // package fit knows no slots whose condition is open
			}
			if len(c.Lazy()) > 0 {
				lazy++
			}
			want, always, never := z.without(t, c.Lazy()).enumerated()
			got, err := c.Count(count.Limits{})
			if err != nil || got.Cmp(big.NewInt(int64(want))) != 0 {
				t.Fatalf("%v boats, %v; want %d of\n%v", got, err, want, z.pack.Rules)
			}
			if a, err := c.Always(sat.Limits{}); err != nil || !slices.Equal(a, always) {
				t.Fatalf("always %v, %v; want %v", a, err, always)
			}
			if n, err := c.Never(sat.Limits{}); err != nil || !slices.Equal(n, never) {
				t.Fatalf("never %v, %v; want %v", n, err, never)
			}
			if want == 0 {
				none++
			} else {
				some++
			}
		}
	}
	t.Logf("%d books without a boat, %d with; %d with lazy rules", none, some, lazy)
	if none < 20 || some < 80 || lazy < 40 {
		t.Error("these make no test")
	}
}

// without is the book without some of its rules.
func (z *puzzle) without(t *testing.T, rules []int) *puzzle {
	t.Helper()
	p := *z.pack
	p.Rules = nil
	for i, r := range z.pack.Rules {
		if !slices.Contains(rules, i) {
			p.Rules = append(p.Rules, r)
		}
	}
	return &puzzle{&p, z.figures, fit.Compile(&p, z.figures), z.slots}
}

func (z *puzzle) enumerated() (n int, always, never []int) {
	with := make([]int, len(z.pack.Options))
	z.boats(z.fit.NewChoices(), func(counts []int) {
		n++
		for o, held := range counts {
			with[o] += min(held, 1)
		}
	})
	for o, w := range with {
		if w == n {
			always = append(always, o)
		}
		if w == 0 {
			never = append(never, o)
		}
	}
	return n, always, never
}

// A model of the clauses is a boat: every rule that is not lazy holds in it, and of the lazy ones nothing is said.
func TestDemoModelsAreBoats(t *testing.T) {
	z := demo()
	for hull := range z.pack.Hulls {
		c := clauses.Compile(z.pack, z.figures, hull, z.standardUse())
		s := sat.New(0)
		if err := s.AddFormula(c.Formula()); err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(uint64(hull), 5))
		for range 60 {
			assumed := selectors(c, z.pack)
			for range 3 {
				assumed = append(assumed, c.AtLeast(r.IntN(len(z.pack.Options)), 1))
			}
			if s.Solve(assumed...) != sat.Sat {
				continue
			}
			b := z.fit.Complete(hull, z.standardUse(), z.allSettled(c, s.Model()), 1)
			for _, x := range b.Clashes {
				if notLazy(c)(x) {
					t.Errorf("a model for the %s breaks %s %d: %s", z.pack.Hulls[hull].ID, x.Kind, x.Index, x.Reason)
				}
			}
		}
	}
}

// notLazy says whether clauses should have kept a boat from a clash.
func notLazy(c *clauses.Clauses) func(x fit.Clash) bool {
	return func(x fit.Clash) bool {
		return x.Kind != fit.Unsound && !(x.Kind == fit.Broken && slices.Contains(c.Lazy(), x.Index))
	}
}

func selectors(c *clauses.Clauses, p *pack.Pack) (lits []sat.Lit) {
	for i := range p.Rules {
		lits = append(lits, c.Selector(i))
	}
	return lits
}

// allSettled are the contents of a model.
func (z *puzzle) allSettled(c *clauses.Clauses, m sat.Model) fit.Choices {
	all := z.fit.NewChoices()
	for s := range all.Settled {
		all.Settled[s] = true
	}
	for o := range all.Counts {
		for n := 1; n <= z.pack.Options[o].Most; n++ {
			if m.Holds(c.AtLeast(o, n)) {
				all.Counts[o] = n
			}
		}
	}
	return all
}

// The numbers of boats of the demo book are goldens of no kind: they change with the book. What can be said without
// them is that there are some, fewer than fillings without rules, and fewer with a use that asks for more.
func TestDemoCounts(t *testing.T) {
	z := demo()
	free := *z.pack
	free.Rules = nil
	for hull := range z.pack.Hulls {
		c := clauses.Compile(z.pack, z.figures, hull, z.standardUse())
		n, err := c.Count(count.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		all, err := clauses.Compile(&free, z.figures, hull, z.standardUse()).Count(count.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d rules of %d are lazy; %s boats, %s without rules", z.pack.Hulls[hull].ID, len(c.Lazy()),
			len(z.pack.Rules), n, all)
		if n.Sign() <= 0 || n.Cmp(all) >= 0 {
			t.Errorf("%s boats of %s", n, all)
		}
	}
}
