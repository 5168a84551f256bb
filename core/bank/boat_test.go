package bank_test

import (
	"errors"
	"math"
	"testing"

	"ribband/core/bank"
)

// Source: the formulas at Boat.Demand and Boat.At; every step computed here again.
func TestAt(t *testing.T) {
	p, err := ready(t, launch()).At(4.5)
	if err != nil {
		t.Fatal(err)
	}
	v := 4.5 * 1852 / 3600
	water := 900 * math.Pow(1000.0/900, 2.0/3)
	force := 0.5 * 1.225 * (1.2*((v+4)*(v+4)-v*v) + 1.5*(v+4)*(v+4))
	wind := force * v / (0.85 * 0.96 * 0.5)
	total := water + wind + 60
	amps := total / 51.2
	kwh := 10.24 * math.Pow(200/(amps*5), 0.05) * 0.8
	if amps*5 < 200 {
		kwh = 10.24 * 0.8
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"water", p.Demand.WaterW, water}, {"wind", p.Demand.WindW, wind}, {"motor", p.Demand.MotorW(), water + wind},
		{"total", p.Demand.TotalW(), total},
		{"current", p.CurrentA, amps}, {"usable", p.Usable.KWh, kwh},
		{"endurance", p.EnduranceH, 0.8 * 1000 * kwh / total},
		{"range", p.RangeNm, 4.5 * 0.8 * 1000 * kwh / total}, {"reserve", p.ReserveH, 0.2 * 1000 * kwh / total},
		{"range of the reserve", p.ReserveNm, 4.5 * 0.2 * 1000 * kwh / total},
		{"energy a mile", p.WhPerNm(), total / 4.5},
	} {
		if !near(c.got, c.want, 1e-12) {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
	if p.RangeNm < 15 || p.RangeNm > 30 { // a launch of 10 kWh goes some twenty miles: common practice, no source
		t.Errorf("range %v nm", p.RangeNm)
	}
}

// A trial at the shaft takes the efficiency of the motor off; wind of the trial itself is not counted twice.
func TestDemandByCase(t *testing.T) {
	s := launch()
	s.Conditions = bank.Conditions{DisplacementKg: 900, AirDensity: 1.225}
	s.Windage.TopM2 = 0
	demand := func() bank.Demand {
		d, err := ready(t, s).Demand(4)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	if d := demand(); d != (bank.Demand{WaterW: 600}) {
		t.Errorf("as on trial: %+v", d)
	}
	table := trial()
	table.AtShaft = true
	s.Curve = mustCurve(table)
	if d := demand(); !near(d.WaterW, 600/0.85, 1e-12) {
		t.Errorf("power at the shaft: %+v", d)
	}
}

func TestGreatest(t *testing.T) {
	for _, c := range []struct {
		name                    string
		shaft, controller, bank float64
		limit                   bank.Limit
		watts                   float64
	}{
		{"motor", 4000, 200, 100, bank.MotorPower, 4000 / 0.8},
		{"controller", 8000, 150, 100, bank.ControllerCurrent, 150 * 50},
		{"bank", 12000, 300, 100, bank.BankCurrent, 200*50 - 500},
		{"bank not stated", 12000, 250, 0, bank.ControllerCurrent, 250 * 50},
		{"bank too small for the hotel load", 4000, 200, 2, bank.BankCurrent, 0},
	} {
		b := bank.Bank{Chemistry: bank.LiFePO4(), Block: bank.Block{VoltageV: 50, CapacityAh: 100, MostA: c.bank},
			Series: 1, Parallel: 2}
		got := bank.Motor{ShaftW: c.shaft, ControllerA: c.controller, Efficiency: 0.8}.Greatest(b, 500)
		want := bank.Greatest{ElectricalW: c.watts, ShaftW: c.watts * 0.8, CurrentA: c.watts / 50, Limit: c.limit}
		if got != want {
			t.Errorf("%s: %+v, want %+v", c.name, got, want)
		}
	}
}

func TestTopSpeed(t *testing.T) {
	s := launch()
	b := ready(t, s)
	if v, limit, err := b.TopSpeed(); v != 5.5 || limit != bank.EndOfTrial || err != nil {
		t.Errorf("strong motor: %v kn, %v, %v", v, limit, err)
	}
	s.Motor.ShaftW = 1500
	b = ready(t, s)
	v, limit, err := b.TopSpeed()
	if err != nil || limit != bank.MotorPower {
		t.Fatalf("%v, %v", limit, err)
	}
	for _, c := range []struct {
		speed float64
		fits  bool
	}{{v, true}, {v + bank.ToleranceKn, false}} {
		if d, _ := b.Demand(c.speed); d.MotorW() <= 1500/0.85 != c.fits {
			t.Errorf("%v kn takes %v W", c.speed, d.MotorW())
		}
	}
	_, err = b.At(5.5)
	var fast *bank.TooFastError
	if !errors.As(err, &fast) || fast.Greatest.Limit != bank.MotorPower {
		t.Errorf("%v", err)
	}
	s.Motor.ShaftW = 20
	_, _, err = ready(t, s).TopSpeed()
	wantError(t, err, "power at 2 kn: it takes 201 W, and the power of the motor ends at 23 W; choose a lower speed, "+
		"or more of what is short")
	if _, err := ready(t, s).RangeCurve(10); err == nil {
		t.Error("a curve without a speed")
	}
	if _, err := ready(t, s).SpeedForRange(1); err == nil {
		t.Error("a range without a speed")
	}
}

func TestSpeedForRange(t *testing.T) {
	b := ready(t, launch())
	want, err := b.At(4.2)
	if err != nil {
		t.Fatal(err)
	}
	got, err := b.SpeedForRange(want.RangeNm)
	if err != nil || got.SpeedKn > 4.2+1e-9 || got.SpeedKn < 4.2-bank.ToleranceKn || got.RangeNm < want.RangeNm {
		t.Errorf("%v kn with %v nm, %v; want 4.2 kn", got.SpeedKn, got.RangeNm, err)
	}
	if p, err := b.SpeedForRange(1); err != nil || p.SpeedKn != 5.5 {
		t.Errorf("a short trip: %v kn, %v", p.SpeedKn, err)
	}
	_, err = b.SpeedForRange(500)
	var far *bank.OutOfRangeError
	if !errors.As(err, &far) || far.Farthest.RangeNm < 40 || far.Farthest.SpeedKn > 3 {
		t.Errorf("%v", err)
	}
	_, err = b.SpeedForRange(math.NaN())
	wantError(t, err, "wanted range: it is NaN nm; give 0.01 to 100000 nm")
}

func TestRangeCurve(t *testing.T) {
	b := ready(t, launch())
	curve, err := b.RangeCurve(36)
	if err != nil || len(curve) != 36 || curve[0].SpeedKn != 2 || curve[35].SpeedKn != 5.5 {
		t.Fatalf("%d points, %v", len(curve), err)
	}
	for i, p := range curve {
		if at, err := b.At(p.SpeedKn); err != nil || at != p {
			t.Errorf("point %d: %+v, want %+v, %v", i, p, at, err)
		}
	}
	if one, _ := b.RangeCurve(-1); len(one) != 2 {
		t.Errorf("%d points", len(one))
	}
}

func TestSetupFaults(t *testing.T) {
	for _, c := range []struct {
		name string
		harm func(s *bank.Setup)
		want string
	}{
		{"no curve", func(s *bank.Setup) { s.Curve = nil },
			"trial: there is no curve of power over speed; give the trial table of this hull"},
		{"far too heavy", func(s *bank.Setup) { s.Conditions.DisplacementKg = 2500 },
			"conditions: the displacement is 2500 kg and was 900 kg on trial; stay between half and twice that of " +
				"the trial, or try the hull at this displacement"},
		{"following wind", func(s *bank.Setup) { s.Conditions.HeadWindMS = -5 },
			"conditions: the head wind is -5 m/s; give 0 to 40 m/s"},
		{"no air", func(s *bank.Setup) { s.Conditions.AirDensity = 0 },
			"conditions: the density of air is 0 kg/m3; give 0.5 to 2 kg/m3"},
		{"hotel load", func(s *bank.Setup) { s.Conditions.HotelW = -1 },
			"conditions: the hotel load is -1 W; give 0 to 100000 W"},
		{"all of it reserve", func(s *bank.Setup) { s.Conditions.Reserve = 1 },
			"conditions: the reserve is 1; give 0 to 0.9"},
		{"motor", func(s *bank.Setup) { s.Motor.Efficiency = 85 }, "motor: the efficiency is 85; give 0.2 to 1"},
		{"no power", func(s *bank.Setup) { s.Motor.ShaftW = 0 }, "motor: the shaft power is 0 W; give 10 to 1e+06 W"},
		{"no controller", func(s *bank.Setup) { s.Motor.ControllerA = 0 },
			"motor: the current of the controller is 0 A; give 1 to 100000 A"},
		{"propeller", func(s *bank.Setup) { s.Drive.Propeller = 0 },
			"drive: the efficiency of the propeller is 0; give 0.05 to 0.9"},
		{"transmission", func(s *bank.Setup) { s.Drive.Transmission = 1.2 },
			"drive: the efficiency of the transmission is 1.2; give 0.2 to 1"},
		{"area", func(s *bank.Setup) { s.Windage.TopM2 = math.NaN() },
			"windage: the area of top and enclosure is NaN m2; give 0 to 200 m2"},
		{"frost", func(s *bank.Setup) { s.State.TemperatureC = -30 },
			"state of the bank, temperature: -30 C is outside the table of LiFePO4; stay within -18 to 45 C, or give " +
				"a table that reaches it"},
	} {
		s := launch()
		c.harm(&s)
		_, err := bank.New(s)
		if err == nil {
			t.Errorf("%s: no error", c.name)
			continue
		}
		wantError(t, err, c.want)
	}
}
