package bank_test

import (
	"errors"
	"math"
	"testing"

	"ribband/core/bank"
)

func TestCurve(t *testing.T) {
	c := mustCurve(trial())
	for _, p := range trial().Points {
		if w, err := c.PowerW(p.SpeedKn); err != nil || !near(w, p.PowerW, 1e-12) {
			t.Errorf("%v kn: %v W, %v", p.SpeedKn, w, err)
		}
	}
	// Between points of a straight line a monotone cubic is that line: computed.
	straight := mustCurve(bank.Trial{DisplacementKg: 900,
		Points: []bank.Point{{SpeedKn: 1, PowerW: 100}, {SpeedKn: 2, PowerW: 200}, {SpeedKn: 3, PowerW: 300},
			{SpeedKn: 4, PowerW: 400}}})
	if w, _ := straight.PowerW(2.7); !near(w, 270, 1e-12) {
		t.Errorf("on a straight line: %v", w)
	}
	if from, to := c.Range(); from != 2 || to != 5.5 {
		t.Errorf("from %v to %v", from, to)
	}
}

// Nothing is guessed beyond the table.
func TestOutsideTheTable(t *testing.T) {
	c := mustCurve(trial())
	for _, v := range []float64{1.999, 5.501, 0, -3, math.NaN(), math.Inf(1)} {
		w, err := c.PowerW(v)
		var outside *bank.OutsideError
		if !errors.As(err, &outside) || w != 0 || outside.FromKn != 2 || outside.ToKn != 5.5 {
			t.Errorf("%v kn: %v, %v", v, w, err)
		}
	}
	_, err := c.PowerW(6)
	wantError(t, err, "power at 6 kn: the trial table goes from 2 to 5.5 kn and says nothing beyond; choose a speed "+
		"in it, or try the hull at that speed and add the point")
}

func TestTrialFaults(t *testing.T) {
	for _, c := range []struct {
		name string
		harm func(t *bank.Trial)
		want string
	}{
		{"falls with speed", func(t *bank.Trial) { t.Points[3].PowerW = 500 },
			"trial point 4: the power does not rise with speed: 500 W at 4.5 kn after 600 W at 4 kn; check both " +
				"readings, or leave the worse one out"},
		{"flat", func(t *bank.Trial) { t.Points[1].PowerW = 90 },
			"trial point 2: the power does not rise with speed: 90 W at 3 kn after 90 W at 2 kn; check both " +
				"readings, or leave the worse one out"},
		{"out of order", func(t *bank.Trial) { t.Points[2], t.Points[3] = t.Points[3], t.Points[2] },
			"trial point 4: 4 kn comes after 4.5 kn; sort the points by speed, 0.01 kn apart or more"},
		{"a speed twice", func(t *bank.Trial) { t.Points[2].SpeedKn = 3 },
			"trial point 3: 3 kn comes after 3 kn; sort the points by speed, 0.01 kn apart or more"},
		{"too few", func(t *bank.Trial) { t.Points = t.Points[:3] },
			"trial: the table has 3 points; give 4 or more, from slow to hull speed"},
		{"none", func(t *bank.Trial) { t.Points = nil },
			"trial: the table has 0 points; give 4 or more, from slow to hull speed"},
		{"negative power", func(t *bank.Trial) { t.Points[0].PowerW = -90 },
			"trial point 1: the power is -90 W; give 1 to 1e+06 W"},
		{"at rest", func(t *bank.Trial) { t.Points[0].SpeedKn = 0 },
			"trial point 1: the speed is 0 kn; give 0.1 to 60 kn"},
		{"not a number", func(t *bank.Trial) { t.Points[5].PowerW = math.NaN() },
			"trial point 6: the power is NaN W; give 1 to 1e+06 W"},
		{"displacement in tonnes", func(t *bank.Trial) { t.DisplacementKg = 0.9 },
			"trial: the displacement is 0.9 kg; give 50 to 50000 kg"},
	} {
		table := trial()
		c.harm(&table)
		if fs := table.Validate(); len(fs) != 1 || fs[0].Error() != c.want {
			t.Errorf("%s: %v\nwant %s", c.name, fs, c.want)
		}
		if _, err := table.Curve(); err == nil {
			t.Errorf("%s: a curve without an error", c.name)
		}
	}
}
