package fit_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
)

// priceList are prices of options that depend on nothing, or, where there is a surcharge, on whether another slot holds
// anything.
type priceList struct {
	pack      *pack.Pack
	option    []int64
	surcharge []int64 // on the option, where the first slot is filled
}

func (l *priceList) one(o int, first bool) int64 {
	if first {
		return l.option[o] + l.surcharge[o]
	}
	return l.option[o]
}

func (l *priceList) of(counts []int) (sum int64) {
	first := slices.ContainsFunc(counts[l.pack.Slots[0].First:l.pack.Slots[0].End], func(n int) bool { return n > 0 })
	for o, n := range counts {
		sum += int64(n) * l.one(o, first)
	}
	return sum
}

func (l *priceList) Net(st *formula.State) (int64, error) { return l.of(st.Counts), nil }

func (l *priceList) Least(o int, st *formula.State, free []bool) int64 {
	switch {
	case o < 0:
		return 0
	case free[0]:
		return min(l.one(o, false), l.one(o, true))
	}
	return l.one(o, st.Slots[0] > 0)
}

func (z *puzzle) anyPrices(r *rand.Rand) *priceList {
	l := &priceList{pack: z.pack}
	for range z.pack.Options {
		l.option, l.surcharge = append(l.option, int64(r.IntN(100))), append(l.surcharge, int64(r.IntN(3)*r.IntN(20)))
	}
	return l
}

// ways are the boats with the same content of the tried slots whose other slots deviate least: those a search may have
// taken.
type ways struct {
	deviations  int
	least, most int64
	some, all   bool // of them meet the wish
}

// tryAll finds the ways for each content of the tried slots by trying all fillings.
func (z *puzzle) tryAll(c fit.Choices, tried []bool, prices *priceList,
	meets func(counts []int) bool) map[string]*ways {
	found := map[string]*ways{}
	fixed := c.Clone()
	for s := range tried {
		fixed.Settled[s] = fixed.Settled[s] || tried[s]
	}
	z.fillings(c, func(s int) bool { return c.Settled[s] }, func(counts []int) bool {
		key := ""
		for o, n := range counts {
			if tried[z.pack.Options[o].Slot] {
				key += string(rune('0' + n))
			}
		}
		d, price, met := z.deviations(fixed, counts), prices.of(counts), meets(counts)
		switch w := found[key]; {
		case w == nil || d < w.deviations:
			found[key] = &ways{deviations: d, least: price, most: price, some: met, all: met}
		case d == w.deviations:
			w.least, w.most, w.some, w.all = min(w.least, price), max(w.most, price), w.some || met, w.all && met
		}
		return false
	})
	return found
}

// Every content of the tried slots is tried, with all that may go with it, against a search: what it finds is valid and
// meets the wish, nothing is cheaper, and where it finds nothing there is nothing. Where several boats deviate as
// little, any of them may go with a content, so that the price lies between bounds.
func TestOptimizeAgainstAllFillings(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 7))
	boats, none, open := 0, 0, 0
	for range 700 {
		z := anyPuzzle(t, r)
		c, prices, tried := z.anyChoices(r), z.anyPrices(r), make([]bool, len(z.pack.Slots))
		var ones []int
		for s := range tried {
			if !z.pack.Slots[s].Multiple {
				ones = append(ones, s)
				tried[s] = r.IntN(3) > 0
			}
		}
		for s, settled := range c.Settled {
			tried[s] = tried[s] && !settled
		}
		wish := anyCondition(r, len(z.pack.Options), ones, 2)
		meets := func(counts []int) bool {
			slots := make([]int, len(z.pack.Slots))
			for o, n := range counts {
				slots[z.pack.Options[o].Slot] += n
			}
			return wish.holds(counts, slots)
		}
		h := z.fit.Optimize(fit.Task{Hulls: []int{short}, Use: []float64{4}, Choices: c, Tried: tried,
			Wishes: []formula.Program{program(wish.text)}, Prices: prices})
		for !h.Step() {
		}
		lower, upper := int64(-1), int64(-1)
		for _, w := range z.tryAll(c, tried, prices, meets) {
			if w.some && (lower < 0 || w.least < lower) {
				lower = w.least
			}
			if w.all && (upper < 0 || w.most < upper) {
				upper = w.most
			}
		}
		found := h.Found()
		switch {
		case len(found) > 0:
			boats++
			f := found[0]
			if !z.valid(f.State.Counts) || !meets(f.State.Counts) || prices.of(f.State.Counts) != f.Net {
				t.Fatalf("%s is not valid, does not meet %q or does not cost %d", contents(z.pack, f.State.Counts),
					wish.text, f.Net)
			}
			if lower < 0 || f.Net < lower || upper >= 0 && f.Net > upper && h.Proved() {
				t.Fatalf("%s costs %d, and the cheapest lies between %d and %d", contents(z.pack, f.State.Counts),
					f.Net, lower, upper)
			}
			if b := z.fit.Complete(short, []float64{4}, f.Choices, fit.DefaultTries); !slices.Equal(b.State.Counts,
				f.State.Counts) {
				t.Fatalf("the choices give %s, want %s", contents(z.pack, b.State.Counts),
					contents(z.pack, f.State.Counts))
			}
		case !h.Proved():
			open++
		case upper >= 0:
			t.Fatalf("no boat is said to meet %q, and one for %d does", wish.text, upper)
		default:
			none++
		}
	}
	t.Logf("%d boats, %d times none, %d times not proved", boats, none, open)
	if boats < 150 || none < 150 || open > 10 {
		t.Errorf("%d boats, %d times none, %d times not proved", boats, none, open)
	}
}

// With an aim a search gives every boat that is cheaper than all lighter ones, the cheapest first.
func TestOptimizeTradesPriceForAFigure(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	compared, long := 0, 0
	for range 400 {
		z := anyPuzzle(t, r)
		c, tried, prices := z.fit.NewChoices(), make([]bool, len(z.pack.Slots)), &priceList{pack: z.pack}
		for range z.pack.Options {
			prices.option, prices.surcharge = append(prices.option, int64(r.IntN(1e6))), append(prices.surcharge, 0)
		}
		for s := range tried {
			tried[s] = !z.pack.Slots[s].Multiple
		}
		want, clear := z.front(c, tried, prices)
		if !clear {
			continue
		}
		h := z.fit.Optimize(fit.Task{Hulls: []int{short}, Use: []float64{4}, Choices: c, Tried: tried, Prices: prices,
			Aim: &fit.Aim{Figure: 0, Down: true, Step: 1}})
		for !h.Step() {
		}
		var got [][2]int64
		for _, f := range h.Found() {
			got = append(got, [2]int64{f.Net, int64(f.State.Figures[0]) - 300})
		}
		if h.Proved() && !slices.Equal(got, want) {
			t.Fatalf("price and mass: %v, want %v", got, want)
		}
		compared++
		if len(got) > 2 {
			long++
		}
	}
	t.Logf("%d puzzles, %d with more than two boats", compared, long)
	if compared < 200 || long < 40 {
		t.Errorf("%d puzzles were compared, %d of them with more than two boats", compared, long)
	}
}

// front is price and mass of all boats that no other beats in both; clear says that just one boat goes with each
// content of the tried slots.
func (z *puzzle) front(c fit.Choices, tried []bool, prices *priceList) (list [][2]int64, clear bool) {
	fixed := c.Clone()
	copy(fixed.Settled, tried)
	least, boats := map[string]int{}, map[string][2]int64{}
	clear = true
	ties := map[string]bool{}
	z.fillings(c, func(int) bool { return false }, func(counts []int) bool {
		key, kg := "", int64(0)
		for o, n := range counts {
			kg += int64(n * z.kg[o])
			if tried[z.pack.Options[o].Slot] {
				key += string(rune('0' + n))
			}
		}
		d := z.deviations(fixed, counts)
		if before, seen := least[key]; !seen || d < before {
			least[key], boats[key], ties[key] = d, [2]int64{prices.of(counts), kg}, false
		} else if d == before {
			ties[key] = true
		}
		return false
	})
	for key, b := range boats {
		clear = clear && !ties[key]
		if !beaten(b, boats) {
			list = append(list, b)
		}
	}
	slices.SortFunc(list, func(a, b [2]int64) int { return int(a[0] - b[0]) })
	return list, clear
}

func beaten(b [2]int64, boats map[string][2]int64) bool {
	for _, o := range boats {
		if o[0] < b[0] && o[1] <= b[1] || o[0] <= b[0] && o[1] < b[1] {
			return true
		}
	}
	return false
}
