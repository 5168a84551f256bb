package works_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/works"
)

// addsUp says where lines, causes, shops and tasks of a boat do not hold the same hours.
func addsUp(b *works.Boat) error {
	byCause, byShop := map[works.Cause]measure.Hours{}, make([]measure.Hours, len(b.ByShop))
	var lines, tasks measure.Hours
	for _, l := range b.Lines {
		if l.Shop == works.Outside {
			if l.Hours != 0 || l.Quantity <= 0 {
				return fmt.Errorf("outside work %+v has hours, or nothing of it", l)
			}
			continue
		}
		lines, byCause[l.For], byShop[l.Shop] = lines+l.Hours, byCause[l.For]+l.Hours, byShop[l.Shop]+l.Hours
	}
	var causes measure.Hours
	for _, c := range b.ByCause {
		if causes += c.Hours; byCause[c.Cause] != c.Hours {
			return fmt.Errorf("cause %+v takes %s h, its lines %s", c.Cause, c.Hours, byCause[c.Cause])
		}
	}
	for shop, s := range b.ByShop {
		if s.Total() != byShop[shop] {
			return fmt.Errorf("shop %d works %s h, its lines %s", shop, s.Total(), byShop[shop])
		}
	}
	seen := make([]bool, len(b.Lines))
	for _, t := range b.Tasks() {
		tasks += t.Hours
		for _, i := range t.Lines {
			if l := b.Lines[i]; seen[i] || l.Operation != t.Operation || l.Shop != t.Shop {
				return fmt.Errorf("line %d stands in two tasks, or in that of another operation or shop", i)
			}
			seen[i] = true
		}
	}
	if total := b.Hours().Total(); lines != total || causes != total || tasks != total || slices.Contains(seen, false) {
		return fmt.Errorf("lines %s h, causes %s h, tasks %s h (%v), want %s h", lines, causes, tasks, seen, total)
	}
	return nil
}

// closed is which waits for which, also by way of others: Warshall's algorithm.
//
// Source: S. Warshall, A theorem on Boolean matrices, Journal of the ACM 9 (1962), 11-12.
func closed(n int, waits func(i int) []int) [][]bool {
	m := make([][]bool, n)
	for i := range m {
		m[i] = make([]bool, n)
		for _, j := range waits(i) {
			m[i][j] = true
		}
	}
	for k := range m {
		for i := range m {
			for j := range m {
				m[i][j] = m[i][j] || m[i][k] && m[k][j]
			}
		}
	}
	return m
}

// inOrder says where the tasks of a boat do not wait for exactly what the book says, also by way of operations that the
// boat does not have.
func inOrder(n *works.Network, b *works.Boat) error {
	tasks := b.Tasks()
	book := closed(len(n.Operations), func(i int) (list []int) {
		for _, a := range n.Operations[i].After {
			list = append(list, a.Operation)
		}
		return list
	})
	own := closed(len(tasks), func(i int) (list []int) {
		for _, l := range tasks[i].After {
			list = append(list, l.Task)
		}
		return list
	})
	for i, t := range tasks {
		for j, u := range tasks {
			want := t.Operation != works.NoOperation && u.Operation != works.NoOperation &&
				book[t.Operation][u.Operation]
			if own[i][j] != want {
				return fmt.Errorf("task %d (operation %d) waits for %d (%d): %v", i, t.Operation, j, u.Operation,
					own[i][j])
			}
			if want && j >= i {
				return fmt.Errorf("task %d stands before %d, after which it is done", i, j)
			}
		}
	}
	return nil
}

// longest are the longest waits on any way from one to another, h, -1 where there is no way: longest paths by the
// recurrence of Floyd and Warshall, in a network without circles.
//
// Source: R. W. Floyd, Algorithm 97, Communications of the ACM 5 (1962), 345.
func longest(n int, waits func(set func(later, earlier int, hours float64))) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = slices.Repeat([]float64{-1}, n)
	}
	waits(func(later, earlier int, hours float64) { m[later][earlier] = max(m[later][earlier], hours) })
	for k := range m {
		for i := range m {
			for j := range m {
				if m[i][k] >= 0 && m[k][j] >= 0 {
					m[i][j] = max(m[i][j], m[i][k]+m[k][j])
				}
			}
		}
	}
	return m
}

// waited says where the tasks of a boat do not wait as long for each other as the book says, in which the wait after an
// operation that the boat does not have counts for nothing; where a window is not that of the book; and where equipment
// is occupied that serves another hull, or given free too early.
func waited(n *works.Network, b *works.Boat, hull int) error {
	tasks := b.Tasks()
	at := map[int]int{} // tasks by operation
	for i, t := range tasks {
		at[t.Operation] = i
	}
	book := longest(len(n.Operations), func(set func(int, int, float64)) {
		for i := range n.Operations {
			for _, a := range n.Operations[i].After {
				if _, has := at[a.Operation]; has {
					set(i, a.Operation, a.Wait)
				} else {
					set(i, a.Operation, 0)
				}
			}
		}
	})
	own := longest(len(tasks), func(set func(int, int, float64)) {
		for i := range tasks {
			for _, l := range tasks[i].After {
				set(i, l.Task, l.Wait.Float())
			}
		}
	})
	for i, t := range tasks {
		if t.Operation == works.NoOperation {
			continue
		}
		for j, u := range tasks {
			if u.Operation != works.NoOperation && own[i][j] != book[t.Operation][u.Operation] {
				return fmt.Errorf("task %d waits %v h after %d, want %v h", i, own[i][j], j,
					book[t.Operation][u.Operation])
			}
		}
		windows := 0
		for _, a := range n.Operations[t.Operation].After {
			if k, has := at[a.Operation]; has && a.Within != nil {
				windows++
				if !slices.ContainsFunc(t.After, func(l works.Link) bool {
					return l.Task == k && l.Bounded && l.Within.Float() == *a.Within
				}) {
					return fmt.Errorf("task %d has not the window after %d: %+v", i, k, t.After)
				}
			}
		}
		for _, l := range t.After {
			if l.Bounded {
				windows--
			}
		}
		if windows != 0 {
			return fmt.Errorf("task %d has windows that the book does not: %+v", i, t.After)
		}
		held := 0
		for _, h := range n.Operations[t.Operation].Holds {
			if until, has := at[h.Until]; h.Equipment == hull { // a mould each
				if held++; len(t.Holds) < held || t.Holds[held-1].Equipment != hull ||
					has && !slices.Equal(t.Holds[held-1].Until, []int{until}) {
					return fmt.Errorf("task %d holds %+v, want the mould until %d", i, t.Holds, until)
				}
			}
		}
		if len(t.Holds) != held || t.Elapsed*measure.Hours(t.Crew) < t.Hours ||
			(t.Elapsed-1)*measure.Hours(t.Crew) >= t.Hours && t.Elapsed > 0 {
			return fmt.Errorf("task %d: %+v, want %d holds", i, t, held)
		}
	}
	return nil
}

// anyNetwork is the invented yard with other operations in another order, none in a circle, and items that take any
// of them.
func anyNetwork(t *rapid.T) *pack.Pack {
	p := yard()
	count := rapid.IntRange(1, 14).Draw(t, "operations")
	rank := make([]int, count)
	for i := range rank {
		rank[i] = i
	}
	rank = rapid.Permutation(rank).Draw(t, "rank")
	p.Costs.Operations, p.Work.Operations = make([]pack.Operation, count),
		make([]pack.OperationWork, count)
	for i := range p.Costs.Operations {
		p.Costs.Operations[i].Shop = rapid.IntRange(0, len(p.Costs.Shops)-1).Draw(t, "shop")
		for j := range count {
			if rank[j] < rank[i] && rapid.IntRange(0, 3).Draw(t, "after") == 0 {
				a := pack.Predecessor{Operation: j, Wait: float64(rapid.IntRange(0, 8).Draw(t, "wait")) / 4}
				if rapid.Bool().Draw(t, "bounded") {
					within := a.Wait + 500
					a.Within = &within
				}
				p.Work.Operations[i].After = append(p.Work.Operations[i].After, a)
			}
		}
		p.Work.Operations[i].Crew = rapid.IntRange(1, 3).Draw(t, "crew")
	}
	for i, j := range rank { // whoever comes later may give free
		if k := slices.IndexFunc(rank, func(r int) bool { return r > j }); k >= 0 && rapid.Bool().Draw(t, "holds") {
			p.Work.Operations[i].Holds = []pack.Hold{{Equipment: 0, Until: k}, {Equipment: 1, Until: k}}
		}
	}
	takes := func() (list []pack.BOMLine) {
		amounts := []string{"n0", "n1.25", "h0 n3 /", "u0 n2 *", "c0 n0.5 *", "c1 h0 * n7 /"}
		for range rapid.IntRange(0, 4).Draw(t, "takes") {
			list = append(list, hours(rapid.IntRange(0, count-1).Draw(t, "operation"),
				rapid.SampledFrom(amounts).Draw(t, "amount"), 0))
		}
		return list
	}
	for i := range p.Costs.Hulls {
		p.Costs.Hulls[i].Operations = takes()
	}
	for i := range p.Costs.Options {
		p.Costs.Options[i].Operations = takes()
	}
	return p
}

func anyBoat(t *rapid.T, hull int) *formula.State {
	any := func(most int) int { return rapid.IntRange(0, most).Draw(t, "count") }
	st := boat(hull, any(1), any(3), any(1))
	st.Use[0] = rapid.Float64Range(0, 10).Draw(t, "locker")
	return st
}

func TestPropertyHoursAddUpAndStandInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hull := rapid.IntRange(0, 1).Draw(t, "hull")
		n, st := works.Compile(anyNetwork(t)), anyBoat(t, hull)
		extras := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) works.Extra {
			return works.Extra{Hours: map[int]measure.Hours{
				rapid.IntRange(0, 2).Draw(t, "shop"): measure.Hours(rapid.Int64Range(0, 50_000_000).Draw(t, "hours"))}}
		}), 0, 2).Draw(t, "extras")
		b, err := n.Boat(st, extras)
		if err != nil {
			t.Fatal(err)
		}
		if err := addsUp(b); err != nil {
			t.Fatal(err)
		}
		if err := inOrder(n, b); err != nil {
			t.Fatal(err)
		}
		if err := waited(n, b, hull); err != nil {
			t.Fatal(err)
		}
		if sum, err := n.Hours(st); err != nil || sum != b.Hours().Base+b.Hours().Options {
			t.Fatalf("%s h, %v; want %v", sum, err, b.Hours())
		}
	})
}

// The hours that one boat takes more are the difference of the two, shop by shop.
func TestPropertyMoreIsTheDifference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, hull := works.Compile(anyNetwork(t)), rapid.IntRange(0, 1).Draw(t, "hull")
		now, then := anyBoat(t, hull), anyBoat(t, hull)
		if err := moreIsTheDifference(n, now, then); err != nil {
			t.Fatal(err)
		}
	})
}

func moreIsTheDifference(n *works.Network, now, then *formula.State) error {
	a, err1 := n.Boat(now, nil)
	b, err2 := n.Boat(then, nil)
	more, err3 := n.More(then, now, formula.Changed(now, then))
	if err1 != nil || err2 != nil || err3 != nil {
		return fmt.Errorf("%v, %v, %v", err1, err2, err3)
	}
	for shop, h := range more {
		if want := b.ByShop[shop].Total() - a.ByShop[shop].Total(); h != want {
			return fmt.Errorf("shop %d works %s h more, want %s", shop, h, want)
		}
	}
	return nil
}

// On every boat of the demo book the hours add up and stand in order, cost puts each of them at the rate of its shop,
// and what a boat takes over its standard build is what the effect of an option says.
func TestBoatsOfTheDemoBook(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for name, s := range enginetest.ManyBoats(t, e, 9) {
		a := enginetest.Answer(t, e, s)
		for what, err := range map[string]error{"sums": addsUp(a.Work), "order": inOrder(e.Work, a.Work),
			"cost": costedAsWorked(e, a), "effects": moreIsTheDifference(e.Work, a.Standard.State, a.Build.State)} {
			if err != nil {
				t.Errorf("%s: %s: %v", name, what, err)
			}
		}
	}
}

func costedAsWorked(e *engine.Engine, a *engine.Answer) error {
	if len(a.Cost.Work) != len(a.Work.Lines) {
		return fmt.Errorf("labour of %d lines, work of %d", len(a.Cost.Work), len(a.Work.Lines))
	}
	minor, err := money.NewRounding(e.Pack.Rounding, e.Pricing.Currency().Minor())
	if err != nil {
		return err
	}
	for i, l := range a.Cost.Work {
		// one of the two is nothing
		rate, amount := money.Amount{}, int64(l.Hours)+int64(l.Quantity)
		if l.Shop == works.Outside {
			rate = e.Pack.Costs.Operations[l.Operation].Outside.Price
		} else {
			rate = e.Pack.Costs.Shops[l.Shop].Rate
		}
		if l.Line != a.Work.Lines[i] || !l.Amount.Equal(minor.Round(rate.Scaled(amount, measure.Exponent))) {
			return fmt.Errorf("%+v costs %s at %s", l.Line, l.Amount, rate)
		}
	}
	return nil
}
