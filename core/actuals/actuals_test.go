package actuals_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"ribband/core/actuals"
)

// world are the hours of boats under another chance than the demo's.
func world(t testing.TB, boats []built, number uint64) []actuals.Booking {
	return read(t, csv(yard(), boats, number))
}

func TestPlantedBiasIsFound(t *testing.T) {
	r := actuals.Compare(yard(), demo(t))
	if r.Boats != 40 {
		t.Fatalf("%d boats", r.Boats)
	}
	found := 0
	for kind, ids := range planted {
		for id, want := range ids {
			b, ok := r.Find(kind, id)
			if !ok {
				t.Fatalf("no %s", id)
			}
			found++
			if !b.In95.Has(want) || !b.Off() {
				t.Errorf("%s: %v in %v, off %v; want %v", id, b.Ratio, b.In95, b.Off(), want)
			}
		}
	}
	if off := r.Off(); len(off) != found {
		t.Errorf("to be changed: %+v; want the %d planted", off, found)
	}
	if math.Abs(r.OfBoats-ofBoats) > 0.015 {
		t.Errorf("boats differ by %v, want %v", r.OfBoats, ofBoats)
	}
	ops, held := 0, 0
	for _, b := range r.Biases {
		if b.Kind != actuals.OfOperation {
			continue
		}
		want := math.Hypot(chance(&yard().Work.Operations[opOf(t, b.ID)]), ofBoats)
		if ops++; b.SpreadIn80.Has(want) {
			held++
		}
		if b.ID == varied && !b.SpreadIn80.Has(want) {
			t.Errorf("%s spreads by %v, want %v", b.ID, b.SpreadIn80, want)
		}
	}
	if 10*held < 7*ops {
		t.Errorf("of %d spreads %d lie within 80 %%", ops, held)
	}
}

// Over several worlds the intervals hold what was planted as often as they promise, and of what is as the book says
// no more is accused.
func TestIntervalsKeepTheirPromise(t *testing.T) {
	const worlds = 4
	var null, out80, out95, accused, known, covered int
	for n := range worlds {
		r := actuals.Compare(yard(), world(t, demoBoats()[:40], uint64(100+n)))
		for _, b := range r.Biases {
			want := truth(b.Kind, b.ID)
			switch {
			case b.Kind == actuals.OfShop: // it holds operations that are off
			case want != 1:
				known++
				if b.In95.Has(want) {
					covered++
				}
			default:
				null++
				if !b.In80.Has(1) {
					out80++
				}
				if !b.In95.Has(1) {
					out95++
				}
				if b.Off() {
					accused++
				}
			}
		}
	}
	t.Logf("of %d that are as the book says %d and %d lie beyond, %d are accused; of %d planted %d are held", null,
		out80, out95, accused, known, covered)
	if 5*out80 > null || 20*out95 > null || 100*accused > null {
		t.Errorf("of %d, %d are beyond 80 %%, %d beyond 95 %%, %d accused", null, out80, out95, accused)
	}
	// of 16 with a chance of 95 % each, fewer than 13 are held once in 150 times
	if known != worlds*4 || covered < 13 {
		t.Errorf("of %d planted %d are held", known, covered)
	}
}

// raw are the ratios of a spreadsheet: the mean log ratio of each operation.
func raw(list []actuals.Booking) map[int]float64 {
	sum, n := map[int]float64{}, map[int]float64{}
	for i := range list {
		b := &list[i]
		sum[b.Operation] += math.Log(b.Booked.Float() / b.Planned.Float())
		n[b.Operation]++
	}
	for op := range sum {
		sum[op] /= n[op]
	}
	return sum
}

// Of boats that were not used, pooled ratios foretell the hours better than raw ones and than the book; the fewer boats
// there were to learn from, the more.
func TestPoolingForetellsOtherBoats(t *testing.T) {
	e := yard()
	held := world(t, demoBoats()[40:], 7)
	for _, boats := range []int{4, 12, 40} {
		list := world(t, demoBoats()[:boats], 8)
		r, ratios := actuals.Compare(e, list), raw(list)
		var pooled, unpooled, book float64
		for i := range held {
			b := &held[i]
			ratio := math.Log(b.Booked.Float() / b.Planned.Float())
			pooled += math.Pow(math.Log(b.Booked.Float()/r.Expected(b).Float()), 2)
			unpooled += math.Pow(ratio-ratios[b.Operation], 2)
			book += ratio * ratio
		}
		n := float64(len(held))
		t.Logf("%d boats: pooled %.5f, raw %.5f, book %.5f", boats, pooled/n, unpooled/n, book/n)
		if pooled >= unpooled || pooled >= book {
			t.Errorf("%d boats: pooled %v, raw %v, book %v", boats, pooled/n, unpooled/n, book/n)
		}
	}
}

func TestMoreBoatsNarrowTheIntervals(t *testing.T) {
	for _, id := range []string{"laminate-hull", "sew-canvas", "build-loom"} {
		last := math.Inf(1)
		for _, boats := range []int{8, 40} {
			r := actuals.Compare(yard(), world(t, demoBoats()[:boats], 9))
			b, ok := r.Find(actuals.OfOperation, id)
			if !ok {
				continue
			}
			wide := b.In80.High - b.In80.Low
			if wide >= last || wide <= 0 || b.In95.Low > b.In80.Low || b.In95.High < b.In80.High {
				t.Errorf("%s, %d boats: %v %v, before %v wide", id, boats, b.In80, b.In95, last)
			}
			last = wide
		}
	}
}

// The order of the rows says nothing.
func TestOrderOfRows(t *testing.T) {
	list := demo(t)[:600]
	one := fmt.Sprint(actuals.Compare(yard(), list).Biases)
	slices.Reverse(list)
	if other := fmt.Sprint(actuals.Compare(yard(), list).Biases); one != other {
		t.Error("another order of rows gives another result")
	}
}

func TestNothingBooked(t *testing.T) {
	r := actuals.Compare(yard(), nil)
	if len(r.Biases) != 0 || len(r.Off()) != 0 || r.Expected(&actuals.Booking{Planned: 5}) != 5 {
		t.Errorf("%+v", r)
	}
}
