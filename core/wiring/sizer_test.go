package wiring

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// kept is a small invented stock.
func kept() Stock {
	return Stock{
		Sections: []float64{1.5, 2.5, 6, 16, 25, 35, 70, 95},
		Fuses: []FuseSize{{5, 32, 1}, {10, 32, 1}, {10, 1000, 20}, {30, 32, 1}, {30, 1000, 20}, {60, 125, 20},
			{125, 125, 20}, {150, 125, 20}, {200, 125, 20}, {300, 125, 20},
			{400, 125, 20}, {500, 125, 20}},
		Switches: []float64{150, 300, 600},
	}
}

// What is bought, worked out by hand from 33 CFR 183.425 Table 5 and its note 1, fuses at 1.25 times the load, and CM =
// K×I×L/E with K = 10.75 (ABYC E-11 as given by teaching pages). 16 mm² counts as AWG 6, 25 as 4, 35 as 2, 70 as 2/0,
// 95 as 3/0.
func TestBoughtByHand(t *testing.T) {
	drive := Circuit{Name: "drive", Function: Drive, Volts: 48, Peak: 57.6, Critical: true, Length: 2, Insulation: 105,
		Fault: 8000}
	for _, c := range []struct {
		name        string
		change      func(*Circuit)
		fuse, ka    float64
		section     float64
		conductors  int
		ampacity    int
		switchAmps  float64
		computedMM2 float64
	}{
		// 100 A: 125 A. AWG 6 carries 120 A, and as the next standard size 125 A might stand before it; bought is AWG
		// 4, 160 A.
		{"100 A", func(c *Circuit) { c.Load = 100 }, 125, 20, 25, 1, 160, 150, 16},
		// In the engine space AWG 4 carries 136 A, still enough.
		{"100 A in the engine space", func(c *Circuit) { c.Load, c.EngineSpace = 100, true }, 125, 20, 25, 1, 136, 150,
			25},
		// 110 A ask for 150 A: AWG 4 in the engine space carries 136 A, so AWG 2, 178 A.
		{"110 A in the engine space", func(c *Circuit) { c.Load, c.EngineSpace = 110, true }, 150, 20, 35, 1, 178, 150,
			25},
		// Four conductors in a bundle at 57.6 V: 0.60 × 210 = 126 A of AWG 2 for 125 A.
		{"100 A in a bundle of four", func(c *Circuit) { c.Load, c.Bundled = 100, 4 }, 125, 20, 35, 1, 126, 150, 35},
		// 210 A is computed as 262.5 A: the standard size is 300 A, and 3/0 carries 385 A; 2/0 carries 330 A.
		{"210 A", func(c *Circuit) { c.Load = 210 }, 300, 20, 70, 1, 330, 300, 70},
		// 320 A ask for 400 A: 3/0 carries 385 A alone; two of 2/0 carry 660 A.
		{"320 A side by side", func(c *Circuit) { c.Load, c.Parallel = 320, 2 }, 400, 20, 70, 2, 660, 600, 95},
		// A small fuse for the bank: that of 32 V is left.
		{"8 A at the bank", func(c *Circuit) { c.Load = 8 }, 10, 20, 1.5, 1, 25, 150, 1.5},
		// At 12 V behind a small battery the blade fuse does.
		{"8 A at 12 V", func(c *Circuit) { c.Load, c.Volts, c.Peak, c.Fault = 8, 12, 14.4, 900 }, 10, 1, 2.5, 1, 35,
			150, 2.5},
		// And not where the fault current is above 1 kA.
		{"8 A at 12 V, 3 kA", func(c *Circuit) { c.Load, c.Volts, c.Peak, c.Fault = 8, 12, 14.4, 3000 }, 10, 20, 2.5, 1,
			35, 150, 2.5},
	} {
		circuit := drive
		c.change(&circuit)
		z := NewSizer(DefaultRules(), kept())
		s, err := z.Size(circuit)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		amps, at, err := z.Switch(&s)
		if s.Fuse.Amps != c.fuse || s.Fuse.KiloAmps != c.ka || s.Cable.Section != c.section ||
			s.Cable.Conductors != c.conductors || s.Cable.Ampacity != c.ampacity || err != nil ||
			amps != c.switchAmps ||
			s.Computed.Metric.Copper() != c.computedMM2 || z.stock.Switches[at] != amps ||
			z.stock.Sections[s.CableAt] != c.section || z.stock.Fuses[s.FuseAt] != s.Fuse {
			t.Errorf("%s: fuse %+v, cable %+v, switch %v (%v), computed %+v", c.name, s.Fuse, s.Cable, amps, err,
				s.Computed.Metric)
		}
		// The drop is that of the copper bought: 0.01787 ohm mm²/m is K = 10.75.
		want := 0.017871 * circuit.Load * 2 * circuit.Length / (c.section * float64(c.conductors))
		if math.Abs(s.Cable.Drop-want) > 1e-4*want || s.Cable.Drop > 0.03*circuit.Volts {
			t.Errorf("%s: it loses %v V, by hand %v V", c.name, s.Cable.Drop, want)
		}
	}
}

func TestNothingKeptIsEnough(t *testing.T) {
	drive := Circuit{Name: "drive", Function: Drive, Volts: 48, Peak: 57.6, Critical: true, Length: 2, Insulation: 105,
		Fault: 8000, Load: 100}
	for name, c := range map[string]struct {
		change func(*Circuit, *Stock)
		err    error
		want   string
	}{
		"fault current": {func(c *Circuit, _ *Stock) { c.Fault = 21000 }, ErrNoFuse,
			"none has 125 A or more, for 57.6 V and a fault current of 21 kA; keep such a fuse"},
		"voltage": {func(c *Circuit, _ *Stock) { c.Volts, c.Peak = 96, 140 }, ErrNoFuse,
			"none has 125 A or more, for 140 V"},
		"size": {func(c *Circuit, s *Stock) { s.Fuses = s.Fuses[:5] }, ErrNoFuse, "none has 125 A or more"},
		"cable": {func(c *Circuit, s *Stock) { s.Sections = s.Sections[:4] }, ErrNoCable,
			"it needs a cable that carries as much as its fuse of 125 A and loses no more than 1.44 V"},
		"one conductor": {func(c *Circuit, _ *Stock) { c.Load = 320 }, ErrNoCable,
			"it needs a cable that carries as much as its fuse of 400 A"},
		"far too much": {func(c *Circuit, _ *Stock) { c.Load = 470 }, ErrTooMuch, "no single conductor carries 470 A"},
	} {
		circuit, stock := drive, kept()
		c.change(&circuit, &stock)
		_, err := NewSizer(DefaultRules(), stock).Size(circuit)
		if !errors.Is(err, c.err) {
			t.Errorf("%s: %v", name, err)
		}
		wantError(t, err, `sizing circuit "drive": `, c.want)
	}
	stock := kept()
	stock.Switches = []float64{100}
	z := NewSizer(DefaultRules(), stock)
	s := must[Sized](t)(z.Size(drive))
	_, _, err := z.Switch(&s)
	wantError(t, err, `sizing circuit "drive": of the battery switches kept none carries the 125 A of its fuse; keep a larger one`)
}

// Of whatever stock, what is bought keeps every limit, and nothing smaller of it would have done: every fuse, section
// and number of conductors is tried here.
func TestPropertyBoughtIsTheSmallestThatDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCircuit(t)
		c.Parallel, c.Fault = rapid.IntRange(0, 3).Draw(t, "parallel"),
			rapid.SampledFrom([]float64{0, 900, 15000}).Draw(t, "fault")
		var stock Stock
		for _, s := range sections {
			if rapid.Bool().Draw(t, fmt.Sprint(s)) {
				stock.Sections = append(stock.Sections, s)
			}
		}
		for _, a := range fuses {
			if rapid.Bool().Draw(t, fmt.Sprint(a)) {
				stock.Fuses = append(stock.Fuses,
					FuseSize{a, rapid.SampledFrom([]float64{32, 125}).Draw(t, "volts"),
						rapid.SampledFrom([]float64{1, 20}).Draw(t, "ka")})
			}
		}
		if len(stock.Sections) == 0 || len(stock.Fuses) == 0 {
			return
		}
		ch, err := needs(&c, DefaultRules())
		if err != nil {
			return
		}
		computed, err := pick(&ch, bySection, 0, byPractice)
		s, got := NewSizer(DefaultRules(), stock).Size(c)
		if err != nil {
			if got == nil {
				t.Fatalf("what cannot be computed is bought: %+v", s)
			}
			return
		}
		i := slices.IndexFunc(stock.Fuses, func(f FuseSize) bool {
			return f.Amps >= 1.25*c.Load-1e-9 && f.Amps >= ch.Fuse && f.Volts >= max(c.Volts, c.Peak) &&
				1000*f.KiloAmps >= c.Fault
		})
		if i < 0 {
			if !errors.Is(got, ErrNoFuse) {
				t.Fatalf("no fuse does, and the answer is %+v, %v", s, got)
			}
			return
		}
		section, n := smallestCable(&c, &ch, stock, computed, stock.Fuses[i].Amps)
		if n == 0 {
			if !errors.Is(got, ErrNoCable) {
				t.Fatalf("no cable does, and the answer is %+v, %v", s, got)
			}
			return
		}
		if got != nil || s.FuseAt != i || s.Cable.Section != section || s.Cable.Conductors != n {
			t.Fatalf("%+v, %v; want %d of %v mm2 behind %+v", s, got, n, section, stock.Fuses[i])
		}
		if c.Load > s.Fuse.Amps || s.Fuse.Amps > float64(s.Cable.Ampacity) ||
			s.Cable.Drop > s.Computed.AllowedDrop*(1+1e-12) || s.Cable.Copper() < s.Computed.Metric.Copper() {
			t.Fatalf("%+v", s)
		}
	})
}

// smallestCable tries every number of conductors and section; none is 0 conductors.
func smallestCable(c *Circuit, ch *Choice, stock Stock, computed Pick, fuse float64) (section float64, conductors int) {
	for n := 1; n <= max(1, c.Parallel); n++ {
		for _, s := range stock.Sections {
			g, ok := TableGauge(s)
			if !ok || g > 16 && !c.Sheathed || n > 1 && g > 0 {
				continue
			}
			one, err := ampacity(g, c.Insulation, c.EngineSpace, Bundle(c.Bundled, max(c.Volts, c.Peak)))
			if err == nil && float64(n*one) >= fuse && float64(n)*s/SquareMillimetres >= ch.NeededCM &&
				float64(n)*s >= computed.Copper() {
				return s, n
			}
		}
	}
	return 0, 0
}

// Without lists a stock is the standard sizes: the fuse is the computed one.
func TestStandardStock(t *testing.T) {
	s := must[Sized](t)(NewSizer(DefaultRules(), Stock{}).Size(bilge()))
	if s.Fuse.Amps != s.Computed.Fuse || s.FuseAt != -1 || s.CableAt != -1 || s.Cable.Section != 2.5 {
		t.Errorf("%+v", s)
	}
}

func BenchmarkSizer(b *testing.B) {
	z := NewSizer(DefaultRules(), kept())
	c := Circuit{Name: "drive", Function: Drive, Load: 347, Length: 3.8, Volts: 48, Peak: 57.6, Critical: true,
		Insulation: 125, Parallel: 2, Fault: 8000}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := z.Size(c); err != nil {
			b.Fatal(err)
		}
	}
}
