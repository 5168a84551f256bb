package sheet_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/engine/sample"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
)

// leastBoats are looked at here whatever the flag says: a circuit is quickly judged.
const leastBoats = 40

// carried is what a single stranded conductor carries below 50 V, in A, by the least section in mm²; 105 and 125 °C.
// Source: 33 CFR 183.425 Table 5 for AWG 16 to 4/0, sections by ASTM B258, cut off.
var carried = []struct {
	mm2      float64
	at       map[int]int
	inEngine map[int]int // 105 °C as printed in note 1; 125 °C by its factor of 0.89, from memory
}{
	{1.3, map[int]int{105: 25, 125: 30}, map[int]int{105: 21, 125: 27}},
	{2.08, map[int]int{105: 35, 125: 40}, map[int]int{105: 30, 125: 36}},
	{3.3, map[int]int{105: 45, 125: 50}, map[int]int{105: 38, 125: 44}},
	{5.26, map[int]int{105: 60, 125: 70}, map[int]int{105: 51, 125: 62}},
	{8.36, map[int]int{105: 80, 125: 90}, map[int]int{105: 68, 125: 80}},
	{13.3, map[int]int{105: 120, 125: 125}, map[int]int{105: 102, 125: 111}},
	{21.1, map[int]int{105: 160, 125: 170}, map[int]int{105: 136, 125: 151}},
	{33.6, map[int]int{105: 210, 125: 225}, map[int]int{105: 178, 125: 200}},
	{42.4, map[int]int{105: 245, 125: 265}, map[int]int{105: 208, 125: 236}},
	{53.4, map[int]int{105: 285, 125: 305}, map[int]int{105: 242, 125: 271}},
	{67.4, map[int]int{105: 330, 125: 355}, map[int]int{105: 280, 125: 316}},
	{85, map[int]int{105: 385, 125: 410}, map[int]int{105: 327, 125: 365}},
	{107.2, map[int]int{105: 445, 125: 475}, map[int]int{105: 378, 125: 423}},
}

// carries is what the cable of a circuit carries by the table above.
func carries(c *sheet.CircuitPart) (amps int) {
	for _, row := range carried {
		if c.Cable.Bought/float64(c.Cable.Conductors) < row.mm2 {
			continue
		}
		amps = row.at[c.Insulation]
		if c.Engine {
			amps = row.inEngine[c.Insulation]
		}
	}
	return amps * c.Cable.Conductors
}

// protected says what a circuit does not keep: load ≤ fuse ≤ what the cable bought carries, 1.25 times the load in the
// fuse, voltage and fault current of the fuse, a drop within 3 or 10 % in the cable bought, a cable no thinner than
// computed.
// Source: the table above; 33 CFR 183.455(d) for the voltage; NEC 210.20(A) for 1.25; ABYC E-11 form of the drop, K =
// 10.75, which is 0.01787 ohm mm²/m.
func protected(c *sheet.CircuitPart) (faults []string) {
	fail := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	if !(c.Load > 0 && 1.25*c.Load <= c.Fuse.Bought+0.01 && c.Fuse.Computed <= c.Fuse.Bought) {
		fail("load %v A, fuse %v A computed and %v A bought", c.Load, c.Fuse.Computed, c.Fuse.Bought)
	}
	if most := carries(c); c.Fuse.Bought > float64(c.Cable.AllowedA) || c.Cable.AllowedA > most {
		fail("fuse %v A, the cable of %v mm2 is said to carry %d A, by the table %d A", c.Fuse.Bought, c.Cable.Bought,
			c.Cable.AllowedA, most)
	}
	if c.Fuse.Volts < max(c.Volts, c.Peak) || c.Fuse.KiloAmps < c.Fuse.FaultKA || c.Fuse.FaultKA < 0.5 {
		fail("fuse for %v V and %v kA, in a circuit of %v V and %v kA", c.Fuse.Volts, c.Fuse.KiloAmps,
			max(c.Volts, c.Peak), c.Fuse.FaultKA)
	}
	drop := 0.01787 * c.Load * 2 * c.OneWay / c.Cable.Bought
	if math.Abs(c.Drop-drop) > 0.004+0.005*drop || c.Drop > c.Allowed+0.001 ||
		math.Abs(c.Allowed-0.03*c.Volts) > 0.01 && math.Abs(c.Allowed-0.1*c.Volts) > 0.01 {
		fail("it loses %v V, computed here %v V, allowed %v V of %v V", c.Drop, drop, c.Allowed, c.Volts)
	}
	if c.Cable.Bought < c.Cable.Computed || c.Cable.Material == "" || c.Fuse.Material == "" {
		fail("cable %+v, fuse %+v", c.Cable, c.Fuse)
	}
	return faults
}

// eachBoat shows every demo spec that can be built, and random boats.
func eachBoat(t *testing.T, look func(name string, s spec.Spec, a *engine.Answer, y *sheet.Yard)) {
	e := enginetest.Demo()[pack.Yard]
	show := func(name string, s spec.Spec) {
		if a := enginetest.Answer(t, e, s); len(a.Build.Clashes) == 0 {
			look(name, s, a, sheet.ForYard(e, a, quote.Details{}))
		}
	}
	for name, s := range enginetest.DemoSpecs(t) {
		show(name, s)
	}
	for s := range sample.Boats(e, max(leastBoats, *enginetest.Boats), rand.New(rand.NewPCG(8, 46))) {
		show(string(s.Encode()), s)
	}
}

// Every circuit of every boat is protected, the leads and strings of the bank among them; and the loom, the figures,
// the labels and the purchases name the same fuse and cable for it.
func TestCircuitsAreProtected(t *testing.T) {
	e, buyer := enginetest.Demo()[pack.Yard], enginetest.Demo()[pack.Buyer]
	looked := 0
	eachBoat(t, func(name string, s spec.Spec, a *engine.Answer, y *sheet.Yard) {
		looked++
		if len(y.Loom.Faults) > 0 {
			t.Fatalf("%s: faults %q", name, y.Loom.Faults)
		}
		for i := range y.Circuits {
			if faults := protected(&y.Circuits[i]); len(faults) > 0 {
				t.Errorf("%s: %s: %q", name, y.Circuits[i].ID, faults)
			}
		}
		onTheLoom(t, name, y)
		inTheFigures(t, name, e, buyer, s, a, y)
		inThePurchases(t, name, e, a, y)
		ofTheBank(t, name, e, a, y)
	})
	if looked < max(leastBoats, *enginetest.Boats)+8 {
		t.Errorf("%d boats were looked at", looked)
	}
}

// onTheLoom: each circuit has its wires in the section bought, and one fuse, that bought.
func onTheLoom(t *testing.T, name string, y *sheet.Yard) {
	t.Helper()
	next := y.Loom.Wires
	for _, c := range y.Circuits {
		for i := range c.Count {
			title := c.Title
			if c.Count > 1 {
				title = fmt.Sprintf("%s %d", c.Title, i+1)
			}
			for k := range 2 * c.Cable.Conductors {
				w := next[0]
				fuse := 0.0
				if k == 0 {
					fuse = c.Fuse.Bought
				}
				if w.Circuit != title || w.Section != c.Cable.Bought/float64(c.Cable.Conductors) || w.Fuse != fuse ||
					(w.Pole == "+") != (k%2 == 0) {
					t.Errorf("%s: wire %d of %s is %+v", name, k, title, w)
				}
				next = next[1:]
			}
		}
	}
	if len(next) > 0 {
		t.Errorf("%s: wires of no circuit: %+v", name, next)
	}
}

// inTheFigures: the figures on both desks, and the labels.
func inTheFigures(t *testing.T, name string, e, buyer *engine.Engine, s spec.Spec, a *engine.Answer, y *sheet.Yard) {
	t.Helper()
	bank, labels := 0.0, strings.Join(msg.English.Texts(y.Papers.Warnings), "\n")
	b := enginetest.Answer(t, buyer, s)
	for _, c := range y.Circuits {
		if c.ID == "motor-main" {
			for id, want := range map[string]float64{"main_mm2": c.Cable.Bought / float64(c.Cable.Conductors),
				"main_conductors": float64(c.Cable.Conductors), "main_fuse_a": c.Fuse.Bought} {
				if got, there := enginetest.FigureOf(t, e, a, id), enginetest.FigureOf(t, buyer, b, id); got != want ||
					there != want {
					t.Errorf("%s: %s is %v for the yard and %v for the buyer, the circuit has %v", name, id, got, there,
						want)
				}
			}
		}
		if c.ID == "bank-lead" || c.ID == "bank-string" {
			bank = max(bank, c.Fuse.Bought)
		}
		if c.ID == "motor-main" || c.ID == "bank-lead" || c.ID == "bank-string" {
			if want := fmt.Sprintf("%s: “%g V DC, fuse %g A, interrupting %g kA.", c.Title, c.Volts, c.Fuse.Bought,
				c.Fuse.KiloAmps); !strings.Contains(labels, want) {
				t.Errorf("%s: the labels lack %q: %s", name, want, labels)
			}
		}
	}
	if got, there := enginetest.FigureOf(t, e, a, "bank_fuse_a"),
		enginetest.FigureOf(t, buyer, b, "bank_fuse_a"); got != bank ||
		there != bank {
		t.Errorf("%s: the fuse of the bank is %v A for the yard, %v A for the buyer, %v A in its circuits", name, got,
			there, bank)
	}
	if sheet.Loom(buyer, b.Build) != nil || sheet.Circuits(buyer, b.Build) != nil {
		t.Errorf("%s: the buyer has a loom", name)
	}
}

// inThePurchases: fuses, holders and switches are bought as many as the circuits have, and the spares; cables as long
// as the loom.
func inThePurchases(t *testing.T, name string, e *engine.Engine, a *engine.Answer, y *sheet.Yard) {
	t.Helper()
	want, kept := map[string]float64{}, e.Pack.Costs.Kept
	id := func(list []int, i int) string { return e.Pack.Costs.Materials[list[i]].ID }
	byID := map[string]sheet.CircuitPart{}
	for _, c := range y.Circuits {
		byID[c.ID] = c
		n := float64(c.Count)
		want[c.Fuse.Material] += n
		want[c.Cable.Material] += n * 2 * float64(c.Cable.Conductors) * (c.OneWay + 0.15)
		if i := slices.IndexFunc(kept.Fuses, func(m int) bool {
			return e.Pack.Costs.Materials[m].ID == c.Fuse.Material
		}); kept.Holders[i] >= 0 {
			want[id(kept.Holders, i)] += n
		}
	}
	count := func(option string) float64 {
		i := slices.IndexFunc(e.Pack.Options, func(o pack.Option) bool { return o.ID == option })
		return float64(a.Build.State.Counts[i])
	}
	for _, spare := range []string{"motor-main", "bank-lead", "house-converter"} {
		want[byID[spare].Fuse.Material] += count("power-extra-fuse-set")
	}
	lead := byID["bank-lead"]
	size := slices.IndexFunc(e.Pack.Stock.Switches, func(a float64) bool { return a >= lead.Fuse.Bought })
	want[id(kept.Switches, size)] += float64(lead.Count) * (1 + count("power-extra-second-switch"))

	got := map[string]measure.Quantity{}
	for _, m := range y.Materials {
		got[m.Material] += m.BuiltIn
	}
	for _, list := range [][]int{kept.Cables, kept.Fuses, kept.Holders, kept.Switches} {
		for _, m := range list {
			if m < 0 || e.Pack.Costs.Materials[m].ID == "cable-base-6" { // that is taken for bonding too
				continue
			}
			id := e.Pack.Costs.Materials[m].ID
			if math.Abs(got[id].Float()-want[id]) > 0.05 { // runs are shown with two decimals
				t.Errorf("%s: %v of %s are bought, the circuits have %v", name, got[id], id, want[id])
			}
		}
	}
}

// ofTheBank: the leads carry all that hangs on the bank at once, or all that charges it, and every string in parallel
// has its own fuse.
func ofTheBank(t *testing.T, name string, e *engine.Engine, a *engine.Answer, y *sheet.Yard) {
	t.Helper()
	feeds, charges, lead, strings := 0.0, 0.0, 0.0, 0
	for _, c := range y.Circuits {
		switch c.ID {
		case "bank-lead":
			lead += float64(c.Count) * c.Load
		case "bank-string":
			strings = c.Count
			if math.Abs(float64(c.Count)*c.Load-1.2*enginetest.FigureOf(t, e, a, "bank_load_a")) > 0.05 {
				t.Errorf("%s: %d strings of %v A each", name, c.Count, c.Load)
			}
		case "charger", "solar":
			charges += c.Load
		case "motor-main", "bow-thruster", "house-converter", "battery-heating":
			feeds += c.Load
		}
	}
	if lead < feeds-0.05 || lead < charges-0.05 {
		t.Errorf("%s: the leads carry %v A, the bank feeds %v A and is charged with %v A", name, lead, feeds, charges)
	}
	if n := enginetest.FigureOf(t, e, a, "bank_strings"); n > 1 && strings != int(n) || n == 1 && strings != 0 {
		t.Errorf("%s: %v strings, %d of them with a fuse", name, n, strings)
	}
}

// The bilge pump hangs on the house battery, before every switch, and runs from it for two hours.
func TestBilgePumpWithoutTheConverter(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	eachBoat(t, func(name string, _ spec.Spec, a *engine.Answer, y *sheet.Yard) {
		i := slices.IndexFunc(y.Loom.Wires, func(w sheet.WirePart) bool { return w.Circuit == "Bilge pump" })
		lead := slices.IndexFunc(y.Circuits, func(c sheet.CircuitPart) bool { return c.ID == "house-lead" })
		pump := slices.IndexFunc(y.Circuits, func(c sheet.CircuitPart) bool { return c.ID == "bilge-pump" })
		if i < 0 || lead < 0 || pump < 0 || !strings.Contains(y.Loom.Wires[i].From.String(), "not switched") {
			t.Fatalf("%s: the bilge pump starts at %q", name, y.Loom.Wires[max(i, 0)].From)
		}
		hours := 0.8 * enginetest.FigureOf(t, e, a, "house_ah") / y.Circuits[pump].Load
		if math.Abs(hours-enginetest.FigureOf(t, e, a, "bilge_pump_h")) > 0.01 || hours < 2 {
			t.Errorf("%s: the pump runs for %v h, the figure is %v", name, hours,
				enginetest.FigureOf(t, e, a, "bilge_pump_h"))
		}
	})
}
