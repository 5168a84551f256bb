package plan_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/plan"
)

func crawford(first, rate float64) plan.Learning { return plan.Learning{First: first, Rate: rate} }

func wright(first, rate float64) plan.Learning {
	return plan.Learning{First: first, Rate: rate, Reading: plan.Wright}
}

// Source: the standard table of unit values for 80 %.
func TestUnitModel(t *testing.T) {
	l := crawford(100, 0.8)
	for i, want := range []float64{100, 80, 70.210, 64, 59.564, 56.168, 53.449, 51.2, 49.295, 47.651} {
		near(t, fmt.Sprintf("boat %d", i+1), l.Unit(i+1), want, 0.001)
	}
	near(t, "boat 16", l.Unit(16), 40.96, 0.001)
	for x, want := range map[int]float64{2: 180, 3: 250.21, 4: 314.21, 5: 373.77, 6: 429.94, 8: 534.59, 10: 631.54} {
		near(t, fmt.Sprintf("the first %d", x), l.Total(x), want, 0.01)
	}
}

// Source: an accountancy study text, p. 324, whose one slip (254.76 for 245.76) is not copied.
func TestCumulativeAverageModel(t *testing.T) {
	l, last := wright(100, 0.8), 0.0
	added, boats := []float64{100, 60, 96, 153.6, 245.76}, []float64{1, 1, 2, 4, 8}
	perUnit := []float64{100, 60, 48, 38.4, 30.72}
	for i, x := range []int{1, 2, 4, 8, 16} {
		total := []float64{100, 160, 256, 409.6, 655.36}[i]
		near(t, fmt.Sprintf("the first %d", x), l.Total(x), total, 1e-9)
		near(t, "average", l.Total(x)/float64(x), []float64{100, 80, 64, 51.2, 40.96}[i], 1e-9)
		near(t, "added", l.Total(x)-last, added[i], 1e-9)
		near(t, "per added boat", (l.Total(x)-last)/boats[i], perUnit[i], 1e-9)
		last = l.Total(x)
	}
	near(t, "the second of 50 h at 80 %", wright(50, 0.8).Unit(2), 30, 1e-9)
}

// Source: an accountancy study text (45 h, and the two rates) and an exercise (90 %, 7 batches; figures quoted).
func TestRatesOfExercises(t *testing.T) {
	// 45 x 100^-0.152 has its exponent rounded: the rate is 2^-0.152
	l := wright(45, 0.9000019)
	near(t, "average of 100", l.Total(100)/100, 22.3467, 0.001)
	near(t, "total of 100", l.Total(100), 2234.67, 0.05)
	near(t, "16 batches", plan.AverageRate(1500, 9000, 16), 0.7825, 0.0005)
	near(t, "8 units", plan.AverageRate(12.5, 34.3, 8), 0.70, 0.0005)
	near(t, "7 batches on average", wright(100, 0.9).Total(7)/7, 74.395, 0.005)
	near(t, "7 batches", wright(100, 0.9).Total(7), 520.76, 0.05)
}

// Sources: H. Kerzner, Project Management (unit 100); W. J. Stevenson, Operations Management, supplement to chapter 7
// (2000 h); textbooks' exercises; the last a pair that shows how far the readings are apart.
func TestUnitModelOfTextbooks(t *testing.T) {
	near(t, "the first by the hundredth", plan.FirstOf(120, 0.75, 100), 811.4, 0.5)
	near(t, "boat 10", crawford(2000, 0.8).Unit(10), 953, 0.5)
	near(t, "the first ten", crawford(2000, 0.8).Total(10), 12630.7, 0.5)
	near(t, "12 h, 80 %", crawford(12, 0.8).Unit(10), 5.72, 0.01)
	near(t, "11 h, 90 %", crawford(11, 0.9).Unit(20), 6.98, 0.01)
	near(t, "120 h, exponent -0.322", crawford(120, 0.79996).Unit(230), 20.83, 0.01)
	near(t, "15 by unit", crawford(250, 0.85).Total(15), 2465.3, 0.5)
	near(t, "15 by average", wright(250, 0.85).Total(15), 1987.4, 0.5)
}

// The hours of boats add up to the total, and fall from boat to boat, in both readings.
func TestLearningAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := plan.Learning{First: rapid.Float64Range(1, 5000).Draw(t, "first"), Rate: rapid.Float64Range(0.5,
			1).Draw(t, "rate"),
			Reading: rapid.SampledFrom([]plan.Reading{plan.Crawford, plan.Wright}).Draw(t, "reading")}
		sum, last := 0.0, l.First
		for x := 1; x <= 40; x++ {
			unit := l.Unit(x)
			if unit > last+l.First*1e-9 {
				t.Fatalf("boat %d takes %v h, the one before it %v", x, unit, last)
			}
			sum, last = sum+unit, unit
			if d := sum - l.Total(x); d > 1e-6 || d < -1e-6 {
				t.Fatalf("%d boats take %v h, their total is %v", x, sum, l.Total(x))
			}
		}
		first := plan.FirstOf(crawford(l.First, l.Rate).Unit(17), l.Rate, 17)
		if d := first/l.First - 1; d > 1e-9 || d < -1e-9 {
			t.Fatalf("the first is %v h, want %v", first, l.First)
		}
	})
}

func TestLearningRefusesNonsense(t *testing.T) {
	for _, l := range []plan.Learning{crawford(-1, 0.8), crawford(100, 0.49), crawford(100, 1.01), crawford(100, 80)} {
		if l.Check() == nil {
			t.Errorf("%+v passes", l)
		}
	}
	if err := wright(100, 0.8).Check(); err != nil {
		t.Error(err)
	}
}

// Set-up shared by a batch: gun and gelcoat of one colour made ready once. Common practice, no source.
func TestBatch(t *testing.T) {
	b := plan.Batch{SetUp: 3, Each: 2}
	if b.Total(0) != 0 || b.Total(1) != 5 || b.Total(4) != 11 || b.Share(1) != 5 || b.Share(4) != 2.75 {
		t.Errorf("%v %v %v %v %v", b.Total(0), b.Total(1), b.Total(4), b.Share(1), b.Share(4))
	}
}
