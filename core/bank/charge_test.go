package bank_test

import (
	"math"
	"testing"

	"ribband/core/bank"
)

// berth is the launch's bank at a charger of 25 A on a 16 A inlet.
func berth() bank.Charging {
	return bank.Charging{
		Bank: launch().Bank, State: bank.State{TemperatureC: 15},
		Charger: bank.Charger{VoltageV: 57.6, CurrentA: 25, Efficiency: 0.92, PowerFactor: 0.98},
		Inlet:   bank.Inlet{VoltageV: 230, RatedA: 16, Continuous: bank.Continuous},
	}
}

// Source: the formulas at Charging.From; computed.
func TestFrom(t *testing.T) {
	ch, err := berth().From(0.2)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"current", ch.CurrentA, 25}, {"mains", ch.MainsA, 57.6 * 25 / (0.92 * 0.98 * 230)},
		{"mains power", ch.MainsW, 57.6 * 25 / 0.92},
		{"bulk", ch.BulkH, 0.75 * 200 / (25 * 0.95)}, {"absorption", ch.AbsorptionH, 0.5},
		{"total", ch.TotalH, 0.75*200/(25*0.95) + 0.5},
		{"added", ch.AddedKWh, 8.192}, {"meter", ch.MainsKWh, 8.192 / (0.95 * 0.92)},
	} {
		if !near(c.got, c.want, 1e-12) {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
	if ch.Limit != bank.ChargerCurrent || !ch.Within(8) || ch.Within(6) {
		t.Errorf("%+v", ch)
	}
}

func TestChargingByCase(t *testing.T) {
	for _, c := range []struct {
		name  string
		turn  func(c *bank.Charging)
		from  float64
		limit bank.Limit
		amps  float64
		hours float64
	}{
		{"large charger on a small inlet", func(c *bank.Charging) { c.Charger.CurrentA, c.Inlet.RatedA = 60, 10 }, 0.2,
			bank.InletCurrent,
			8 * 230 * 0.92 * 0.98 / 57.6, 150/(8*230*0.92*0.98/57.6*0.95) + 0.5},
		{"bank that takes little", func(c *bank.Charging) { c.Bank.Block.MostInA = 10 }, 0.2, bank.BankCharging, 20,
			150/(20*0.95) + 0.5260},
		{"half the way into absorption", func(c *bank.Charging) {}, 0.975, bank.ChargerCurrent, 25, 0.25},
		{"full", func(c *bank.Charging) {}, 1, bank.ChargerCurrent, 25, 0},
		{"worn", func(c *bank.Charging) { c.State.Age = 1 }, 0.2, bank.ChargerCurrent, 25, 0.75*160/(25*0.95) + 0.5},
	} {
		ch := berth()
		c.turn(&ch)
		got, err := ch.From(c.from)
		if err != nil || got.Limit != c.limit || !near(got.CurrentA, c.amps, 1e-9) ||
			math.Abs(got.TotalH-c.hours) > 0.001 {
			t.Errorf("%s: %+v, %v; want %v A for %v h, %s", c.name, got, err, c.amps, c.hours, c.limit)
		}
	}
}

// The two stages of a lead-acid bank are those of the charger manual where nothing is lost: case A16.
func TestFromAsInTheManual(t *testing.T) {
	c := berth()
	c.Bank = bank.Bank{Chemistry: bank.Flooded(), Block: bank.Block{VoltageV: 48, CapacityAh: 220}, Series: 1,
		Parallel: 1}
	c.Bank.Chemistry.ChargeEfficiency, c.Charger.CurrentA = 0.8, 30 // 80 % of 220 Ah at 80 % is 220 Ah from the charger
	ch, err := c.From(0)
	if err != nil || math.Abs(ch.BulkH-7.333) > 0.001 || math.Abs(ch.TotalH-15.333) > 0.001 {
		t.Errorf("%+v, %v", ch, err)
	}
}

func TestAfter(t *testing.T) {
	c := berth()
	ch, _ := c.From(0.2)
	for _, step := range []struct{ hours, want float64 }{
		{0, 0.2}, {ch.BulkH / 2, 0.575}, {ch.BulkH, 0.95}, {ch.BulkH + 0.25, 0.975}, {ch.TotalH, 1}, {12, 1},
	} {
		if got, err := c.After(0.2, step.hours); err != nil || !near(got, step.want, 1e-9) {
			t.Errorf("after %v h: %v, %v, want %v", step.hours, got, err, step.want)
		}
	}
	_, err := c.After(0.2, -1)
	wantError(t, err, "charging: the time is -1 h; give 0 to 10000 h")
}

func TestChargingFaults(t *testing.T) {
	for _, c := range []struct {
		name string
		harm func(c *bank.Charging)
		want string
	}{
		{"voltage", func(c *bank.Charging) { c.Charger.VoltageV = 28.8 },
			"charger: it charges at 28.8 V, and the bank has 51.2 V; choose a charger for this voltage: between the " +
				"nominal voltage and 1.35 times it"},
		{"frost", func(c *bank.Charging) { c.State.TemperatureC = -5 },
			"charging: the bank is at -5 C; warm it first: LiFePO4 is charged from 0 C"},
		{"no charger", func(c *bank.Charging) { c.Charger.CurrentA = 0 },
			"charger: the current is 0 A; give 0.1 to 5000 A"},
		{"efficiency", func(c *bank.Charging) { c.Charger.Efficiency = 0 },
			"charger: the efficiency is 0; give 0.3 to 1"},
		{"power factor", func(c *bank.Charging) { c.Charger.PowerFactor = 2 },
			"charger: the power factor is 2; give 0.3 to 1"},
		{"no inlet", func(c *bank.Charging) { c.Inlet.RatedA = 0 },
			"shore inlet: the rated current is 0 A; give 1 to 400 A"},
		{"mains", func(c *bank.Charging) { c.Inlet.VoltageV = math.NaN() },
			"shore inlet: the voltage is NaN V; give 90 to 480 V"},
		{"share", func(c *bank.Charging) { c.Inlet.Continuous = 80 },
			"shore inlet: the continuous share is 80; give 0.1 to 1"},
	} {
		ch := berth()
		c.harm(&ch)
		_, err := ch.From(0.2)
		wantError(t, err, c.want)
	}
	_, err := berth().From(1.1)
	wantError(t, err, "charging: the state of charge is 1.1; give 0 to 1")
}

// Source: 120 V inlets of 15, 20 and 30 A; EU 16 A from memory.
func TestInlet(t *testing.T) {
	for _, c := range []struct{ volts, rated, amps, watts float64 }{{120, 15, 12, 1440}, {120, 20, 16, 1920},
		{120, 30, 24, 2880}, {230, 16, 12.8, 2944}} {
		i := bank.Inlet{VoltageV: c.volts, RatedA: c.rated, Continuous: bank.Continuous}
		if !near(i.ContinuousA(), c.amps, 1e-12) || !near(i.ContinuousW(), c.watts, 1e-12) {
			t.Errorf("%+v: %v A, %v W", i, i.ContinuousA(), i.ContinuousW())
		}
	}
	if a, ok := bank.StandardDeviceA(101); ok {
		t.Errorf("above the list: %v A", a)
	}
}

// The irradiation is invented; the yield is computed.
func TestYield(t *testing.T) {
	sun := bank.Irradiation{0.8, 1.5, 2.7, 4.1, 5.1, 5.5, 5.4, 4.6, 3.3, 1.9, 1.0, 0.6}
	got, err := bank.Panel{PeakW: 560, System: 0.7}.Yield(sun)
	if err != nil || !near(got[5], 2.156, 1e-12) || !near(got[11], 0.2352, 1e-12) {
		t.Errorf("%v, %v", got, err)
	}
	if none, err := (bank.Panel{System: 0.7}).Yield(sun); err != nil || none != [12]float64{} {
		t.Errorf("no panels: %v, %v", none, err)
	}
	sun[3] = -1
	_, err = bank.Panel{PeakW: -5, System: 7}.Yield(sun)
	wantError(t, err, "solar panels: the peak power is -5 W; give 0 to 20000 W\nsolar panels: the system efficiency "+
		"is 7; give 0.05 to 1\n"+
		"irradiation, month 4: it is -1 kWh/m² a day; give 0 to 12 kWh/m² a day")
}
