package bank_test

import (
	"math"
	"slices"
	"testing"

	"ribband/core/bank"
)

// Source: encyclopaedia and battery seller's page for exponent, depth and efficiency.
func TestChemistriesWithinPublishedRanges(t *testing.T) {
	for _, c := range []struct {
		chemistry                           bank.Chemistry
		lowK, highK, depth, lowEta, highEta float64
	}{
		{bank.LiFePO4(), 1.0, 1.05, 0.8, 0.92, 0.98},
		{bank.AGM(), 1.05, 1.15, 0.5, 0.78, 0.85},
		{bank.Gel(), 1.10, 1.25, 0.5, 0.78, 0.85},
		{bank.Flooded(), 1.2, 1.6, 0.5, 0.78, 0.85},
	} {
		k := c.chemistry
		if fs := k.Validate(); len(fs) > 0 {
			t.Errorf("%s: %v", k.Name, fs)
		}
		if k.Exponent < c.lowK || k.Exponent > c.highK || k.Depth != c.depth || k.ChargeEfficiency < c.lowEta ||
			k.ChargeEfficiency > c.highEta {
			t.Errorf("%s: %+v", k.Name, k)
		}
	}
}

// Source: battery maker's table, over 60 min; 0 F from a battery seller's page; between points computed.
func TestTemperatureFactor(t *testing.T) {
	for _, c := range []struct {
		chemistry     bank.Chemistry
		celsius, want float64
	}{
		{bank.AGM(), 0, 0.84}, {bank.AGM(), 5, 0.88}, {bank.AGM(), 10, 0.90}, {bank.AGM(), 15, 0.94},
		{bank.AGM(), 20, 0.99}, {bank.AGM(), 25, 1},
		{bank.AGM(), 30, 1.03}, {bank.AGM(), 35, 1.04}, {bank.AGM(), 40, 1.05}, {bank.AGM(), -18, 0.45},
		{bank.AGM(), 12, 0.916},
		{bank.LiFePO4(), -18, 0.70}, {bank.LiFePO4(), 12.5, 0.95}, {bank.LiFePO4(), 45, 1},
	} {
		if got, err := c.chemistry.TemperatureFactor(c.celsius); err != nil || math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s at %v C: %v, %v, want %v", c.chemistry.Name, c.celsius, got, err, c.want)
		}
	}
	for _, c := range []float64{-18.1, 40.1, math.NaN(), math.Inf(1)} {
		if got, err := bank.AGM().TemperatureFactor(c); err == nil {
			t.Errorf("%v C: %v", c, got)
		}
	}
	_, err := bank.AGM().TemperatureFactor(50)
	wantError(t, err, "state of the bank, temperature: 50 C is outside the table of AGM; stay within -18 to 40 C, or "+
		"give a table that reaches it")
}

// Source: the formulas at Bank.Usable; computed.
func TestUsable(t *testing.T) {
	b := bank.Bank{Chemistry: bank.AGM(), Block: bank.Block{VoltageV: 6, CapacityAh: 200, MassKg: 31, MostA: 300,
		MostInA: 40}, Series: 8, Parallel: 2}
	got, err := b.Usable(100, bank.State{TemperatureC: 10, Age: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	peukert := math.Pow(400.0/(100*20), 0.1) // 0.8513
	want := bank.Usable{Ah: 400 * peukert * 0.9 * 0.9 * 0.5, Peukert: peukert, Temperature: 0.9, Age: 0.9, Depth: 0.5}
	want.KWh = 48 * want.Ah / 1000
	for i, pair := range [][2]float64{{got.Ah, want.Ah}, {got.KWh, want.KWh}, {got.Peukert, want.Peukert},
		{got.Temperature, want.Temperature}, {got.Age, want.Age}, {got.Depth, want.Depth}} {
		if !near(pair[0], pair[1], 1e-12) {
			t.Errorf("%d: %v, want %v", i, pair[0], pair[1])
		}
	}
	if b.VoltageV() != 48 || b.CapacityAh() != 400 || b.EnergyKWh() != 19.2 || b.MassKg() != 496 || b.MostA() != 600 ||
		b.MostInA() != 80 || b.Blocks() != 16 || b.RatedHours() != 20 {
		t.Errorf("%+v", b)
	}
	if b.Block.RatedHours = 10; b.RatedHours() != 10 {
		t.Error("the block's rated time does not count")
	}
	if slow, _ := b.Usable(0, bank.State{TemperatureC: 25}); slow.Ah != 200 || slow.Peukert != 1 {
		t.Errorf("at no current: %+v", slow)
	}
}

func TestPeukertExponentErrors(t *testing.T) {
	_, err := bank.PeukertExponent(bank.Run{CurrentA: 10, Hours: 8}, bank.Run{CurrentA: 10, Hours: 7})
	wantError(t, err, "run 2: its current is that of run 1; take a run at another current")
	_, err = bank.PeukertExponent(bank.Run{CurrentA: 10, Hours: 8}, bank.Run{CurrentA: -1, Hours: 7})
	wantError(t, err, "run 2: the current is -1 A; give 0.001 to 100000 A")
}

func TestBankFaults(t *testing.T) {
	good := launch().Bank
	if fs := good.Validate(); len(fs) > 0 {
		t.Fatal(fs)
	}
	for _, c := range []struct {
		name string
		harm func(b *bank.Bank)
		want string
	}{
		{"no strings", func(b *bank.Bank) { b.Parallel = 0 }, "bank: it has 0 strings in parallel; give 1 to 100"},
		{"nothing in series", func(b *bank.Bank) { b.Series = -1 }, "bank: it has -1 blocks in series; give 1 to 100"},
		{"negative mass", func(b *bank.Bank) { b.Block.MassKg = -46 },
			"bank, block: the mass is -46 kg; give 0 to 2000 kg"},
		{"no capacity", func(b *bank.Bank) { b.Block.CapacityAh = 0 },
			"bank, block: the capacity is 0 Ah; give 0.1 to 10000 Ah"},
		{"voltage not a number", func(b *bank.Bank) { b.Block.VoltageV = math.NaN() },
			"bank, block: the voltage is NaN V; give 0.5 to 120 V"},
		{"rated time", func(b *bank.Bank) { b.Block.RatedHours = -5 },
			"bank, block: the rated time is -5 h; give 0.2 to 100 h"},
		{"discharge current", func(b *bank.Bank) { b.Block.MostA = -1 },
			"bank, block: the greatest discharge current is -1 A; give 0 to 10000 A"},
		{"charging current", func(b *bank.Bank) { b.Block.MostInA = math.Inf(1) },
			"bank, block: the greatest charging current is +Inf A; give 0 to 10000 A"},
		{"depth in per cent", func(b *bank.Bank) { b.Chemistry.Depth = 80 },
			"bank, chemistry LiFePO4: the usable depth is 80; give 0.05 to 1"},
		{"exponent", func(b *bank.Bank) { b.Chemistry.Exponent = 0.9 },
			"bank, chemistry LiFePO4: the Peukert exponent is 0.9; give 1 to 2"},
		{"no name", func(b *bank.Bank) { b.Chemistry.Name = "" },
			"bank, chemistry: it has no name; name it, as on the maker's sheet"},
		{"one temperature", func(b *bank.Bank) { b.Chemistry.Temperature = b.Chemistry.Temperature[:1] },
			"bank, chemistry LiFePO4: the temperature table has 1 points; give 2 or more, such as 0 C and 25 C"},
		{"temperatures out of order", func(b *bank.Bank) { slices.Reverse(b.Chemistry.Temperature) },
			"bank, chemistry LiFePO4, temperature point 2: 25 C does not rise above the point before it; sort the " +
				"points by temperature, each once"},
	} {
		b := good
		b.Chemistry = bank.LiFePO4()
		c.harm(&b)
		if fs := b.Validate(); len(fs) == 0 || fs[0].Error() != c.want {
			t.Errorf("%s: %v\nwant %s", c.name, fs, c.want)
		}
		if _, err := b.Usable(10, bank.State{TemperatureC: 25}); err == nil {
			t.Errorf("%s: usable energy without an error", c.name)
		}
	}
	_, err := good.Usable(-1, bank.State{TemperatureC: 25, Age: 1.2})
	wantError(t, err, "state of the bank: the age is 1.2; give 0 to 1\nbank: the current is -1 A; give 0 to 1e+06 A")
}
