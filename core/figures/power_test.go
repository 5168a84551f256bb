package figures_test

import (
	"fmt"
	"math"
	"testing"

	"ribband/core/formula"
	"ribband/core/pack"
)

// with is the demo pack with another constant for a figure of the book.
func with(t *testing.T, id string, v float64) *pack.Pack {
	t.Helper()
	p := *demo
	p.Figures = append([]pack.Figure{}, demo.Figures...)
	for i := range p.Figures {
		if p.Figures[i].ID == id {
			program, err := formula.Parse(fmt.Sprintf("n%g", v))
			if err != nil {
				t.Fatal(err)
			}
			p.Figures[i].Formula = program
			return &p
		}
	}
	t.Fatalf("the demo book has no figure %s", id)
	return nil
}

// Once the current at full power was computed with 0.90, and range and top speed with 0.85; the charger's draw with
// 0.90, and its energy with 0.92. Each efficiency stands in the book once, and all that follows from it follows.
func TestOneEfficiencyForMotorAndCharger(t *testing.T) {
	for hull := range demo.Hulls {
		was := standard(t, compiled(t, demo), hull)
		ratio := func(p *pack.Pack, id string) float64 {
			return figure(t, standard(t, compiled(t, p), hull), id) / figure(t, was, id)
		}
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: %s is %.9g times what it was, want %.9g", demo.Hulls[hull].ID, what, got, want)
			}
		}
		motor := with(t, "motor_efficiency", 0.68)
		near("current at full power", ratio(motor, "motor_a"), 0.85/0.68)
		if r := ratio(motor, "main_fuse_a"); r <= 1 {
			t.Errorf("%s: a motor that takes more current has the same fuse", demo.Hulls[hull].ID)
		}
		// only the wind's share of it, since the trial measured electrical power
		if r := ratio(motor, "demand_w"); r <= 1 || r >= 0.85/0.68 {
			t.Errorf("%s: power at cruising speed is %g times what it was", demo.Hulls[hull].ID, r)
		}
		charger := with(t, "charger_efficiency", 0.72)
		near("draw from the shore", ratio(charger, "charger_draw_kw"), 0.9/0.72)
		near("energy from the shore", ratio(charger, "charging_kwh"), 0.9/0.72)
		if r := ratio(charger, "charging_h"); r < 1 || r > 0.9/0.72 { // the charger holds the current, or the inlet
			t.Errorf("%s: the time to charge is %g times what it was", demo.Hulls[hull].ID, r)
		}
		// 57.6 V is what 48 V is charged at; at 60 V the same power is less current, but the absorption at the end is
		// not longer.
		if r := ratio(with(t, "charging_v", 60), "charging_h"); r <= 1 || r > 60/57.6+1e-9 {
			t.Errorf("%s: the time to charge at another voltage is %g times what it was", demo.Hulls[hull].ID, r)
		}
	}
}

// Full power of the motor is its shaft power over the one efficiency, and at top speed it draws just that, where the
// motor is what ends the speed.
func TestTopSpeedEndsAtTheMotorsCurrent(t *testing.T) {
	ended := 0
	for hull := range demo.Hulls {
		f := compiled(t, demo)
		st := standard(t, f, hull)
		top := figure(t, st, "top_speed_kn")
		setUse(t, st, "speed_kn", top)
		f.Fill(st)
		drawn := (figure(t, st, "demand_w") - figure(t, st, "hotel_w")) / figure(t, st, "bank_v")
		most := figure(t, st, "motor_a")
		if drawn > most*1.0001 {
			t.Errorf("%s: %g A at top speed, and the motor takes %g A at full power", demo.Hulls[hull].ID, drawn, most)
		}
		if drawn > most*0.98 {
			ended++
		}
	}
	t.Logf("on %d of %d hulls the motor ends the speed", ended, len(demo.Hulls))
}
