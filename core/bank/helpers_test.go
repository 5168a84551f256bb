package bank_test

import (
	"testing"

	"ribband/core/bank"
)

// module is an invented LiFePO4 module of 51.2 V 100 Ah.
func module() bank.Block {
	return bank.Block{VoltageV: 51.2, CapacityAh: 100, MassKg: 46, MostA: 100, MostInA: 50}
}

// trial is an invented table of a launch of 5.4 m.
func trial() bank.Trial {
	return bank.Trial{DisplacementKg: 900, Points: []bank.Point{
		{SpeedKn: 2, PowerW: 90}, {SpeedKn: 3, PowerW: 250}, {SpeedKn: 4, PowerW: 600}, {SpeedKn: 4.5, PowerW: 900},
		{SpeedKn: 5, PowerW: 1500}, {SpeedKn: 5.5, PowerW: 2400},
	}}
}

func mustCurve(t bank.Trial) *bank.Curve {
	c, err := t.Curve()
	if err != nil {
		panic(err)
	}
	return c
}

// launch is that launch with two modules, a motor of 4 kW and a top, in a breeze.
func launch() bank.Setup {
	return bank.Setup{
		Bank:    bank.Bank{Chemistry: bank.LiFePO4(), Block: module(), Series: 1, Parallel: 2},
		State:   bank.State{TemperatureC: 25},
		Motor:   bank.Motor{ShaftW: 4000, ControllerA: 200, Efficiency: 0.85},
		Drive:   bank.Drive{Transmission: 0.96, Propeller: 0.5},
		Curve:   mustCurve(trial()),
		Windage: bank.Windage{HullM2: 1.2, TopM2: 1.5, Drag: 1},
		Conditions: bank.Conditions{
			DisplacementKg: 1000, HeadWindMS: 4, AirDensity: 1.225, HotelW: 60, Reserve: 0.2,
		},
	}
}

func ready(t testing.TB, s bank.Setup) *bank.Boat {
	t.Helper()
	b, err := bank.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func wantError(t *testing.T, err error, want string) {
	t.Helper()
	switch {
	case err == nil:
		t.Errorf("no error, want %q", want)
	case err.Error() != want:
		t.Errorf("error %q\nwant  %q", err, want)
	}
}
