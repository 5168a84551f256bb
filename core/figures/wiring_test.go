package figures_test

import (
	"fmt"
	"math"
	"testing"

	"ribband/core/figures"
	"ribband/core/pack"
	"ribband/core/wiring"
)

// kept is the stock of a pack as package wiring takes it.
func kept(p *pack.Pack) wiring.Stock {
	s := wiring.Stock{Sections: p.Stock.Sections, Switches: p.Stock.Switches}
	for _, f := range p.Stock.Fuses {
		s.Fuses = append(s.Fuses, wiring.FuseSize{Amps: f.Amps, Volts: f.Volts, KiloAmps: f.KiloAmps})
	}
	return s
}

// The main cable is that of the motor's circuit by itself, on the standard build of every hull.
// Source: package wiring (ABYC E-11; 33 CFR 183.425 and 183.455), whose published cases are tests there.
func TestMainCable(t *testing.T) {
	f := compiled(t, demo)
	circuits := figures.NewCircuits(demo)
	for h := range demo.Hulls {
		st := standard(t, f, h)
		c, n := circuits.At(st, 0)
		if n != 1 || c.Function != wiring.Drive || c.Load != figure(t, st, "motor_a") {
			t.Fatalf("%s: circuit %+v, %v times", demo.Hulls[h].ID, c, n)
		}
		z := wiring.NewSizer(wiring.DefaultRules(), kept(demo))
		sized, err := z.Size(c)
		if err != nil || figure(t, st, "main_mm2") != sized.Cable.Section ||
			figure(t, st, "main_conductors") != float64(sized.Cable.Conductors) ||
			figure(t, st, "main_fuse_a") != sized.Fuse.Amps ||
			figure(t, st, "main_fuse_computed_a") != sized.Computed.Fuse || sized.Fuse.Amps < 1.25*c.Load {
			t.Errorf("%s: %v mm2 and %v A, want %v and %v (%v)", demo.Hulls[h].ID, figure(t, st, "main_mm2"),
				figure(t, st, "main_fuse_a"), sized.Cable.Section, sized.Fuse.Amps, err)
		}
		largest := 0.0
		for i := range demo.Circuits {
			if c, n := circuits.At(st, i); n > 0 && c.Function == wiring.BatteryLead {
				sized, err := z.Size(c)
				if err != nil {
					t.Fatal(err)
				}
				largest = max(largest, sized.Fuse.Amps)
			}
		}
		if got := figure(t, st, "bank_fuse_a"); got != largest || got < figure(t, st, "main_fuse_a") {
			t.Errorf("%s: the lead of the bank has a fuse of %v A, want %v", demo.Hulls[h].ID, got, largest)
		}
	}
}

// A boat without a motor has no main cable; one whose motor no cable feeds says so in a buyer's words.
func TestMainCableOfOddBoats(t *testing.T) {
	f := compiled(t, demo)
	st := standard(t, f, 3)
	set := func(option string, n int) {
		for o := range demo.Options {
			if demo.Options[o].ID == option {
				st.Counts[o], st.Slots[demo.Options[o].Slot] = n, n
				return
			}
		}
		t.Fatalf("the demo book has no option %s", option)
	}
	set("motor-48-10", 0)
	f.Fill(st)
	if figure(t, st, "main_mm2") != 0 || figure(t, st, "main_fuse_a") != 0 {
		t.Errorf("without a motor the main cable has %v mm2", figure(t, st, "main_mm2"))
	}
	set("motor-48-15", 2)
	f.Fill(st)
	if len(st.Faults) != 2 ||
		st.Faults[0].Code != figures.MotorOverloaded || st.Faults[1].Code != figures.BankOverloaded ||
		figure(t, st, "main_mm2") != 0 || figure(t, st, "bank_fuse_a") != 0 {
		t.Errorf("with 30 kW the faults are %v", st.Faults)
	}
}

// The copper is that of the loom sheet, which weighs it wire by wire, on the standard build of every hull; the buyer
// has no such figure.
func TestCopperOfTheLoom(t *testing.T) {
	f := compiled(t, demo)
	circuits := figures.NewCircuits(demo)
	for h := range demo.Hulls {
		st := standard(t, f, h)
		var list []wiring.Circuit
		for i := range demo.Circuits {
			c, n := circuits.At(st, i)
			for k := range int(n) {
				c.Name = fmt.Sprint(i, k)
				list = append(list, c)
			}
		}
		sheet, err := wiring.NewSizer(wiring.DefaultRules(), kept(demo)).Sheet(list)
		if err != nil {
			t.Fatal(err)
		}
		if got := figure(t, st, "copper_kg"); math.Abs(got-sheet.Copper) > 1e-9 || got < 0.5 {
			t.Errorf("%s: %v kg, want %v", demo.Hulls[h].ID, got, sheet.Copper)
		}
	}
}
