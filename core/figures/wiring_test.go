package figures_test

import (
	"math"
	"strings"
	"testing"

	"ribband/core/figures"
	"ribband/core/wiring"
)

// The main cable is that of the motor's circuit by itself, on the standard build of every hull.
// Source: package wiring (ABYC E-11; 33 CFR 183.425 and 183.455), whose published cases are tests there.
func TestMainCable(t *testing.T) {
	f := compiled(t, demo)
	circuits := figures.NewCircuits(demo)
	for h := range demo.Hulls {
		st := standard(t, f, h)
		c, ok := circuits.At(st, 0)
		if !ok || c.Function != wiring.Drive || c.Load != figure(t, st, "motor_a") {
			t.Fatalf("%s: circuit %+v, %v", demo.Hulls[h].ID, c, ok)
		}
		ch, err := wiring.Size(c, wiring.DefaultRules())
		if err != nil || figure(t, st, "main_mm2") != ch.Metric.Section || figure(t, st, "main_fuse_a") != ch.Fuse || ch.Fuse < 1.25*c.Load {
			t.Errorf("%s: %v mm2 and %v A, want %v and %v (%v)", demo.Hulls[h].ID, figure(t, st, "main_mm2"), figure(t, st, "main_fuse_a"), ch.Metric.Section, ch.Fuse, err)
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
	if len(st.Faults) != 1 || !strings.HasPrefix(st.Faults[0], "The motor would take more current than one cable carries. ") || figure(t, st, "main_mm2") != 0 {
		t.Errorf("with 30 kW the faults are %q", st.Faults)
	}
}

// The copper is that of the loom sheet, which weighs it wire by wire, on the standard build of every hull; the buyer has no such figure.
func TestCopperOfTheLoom(t *testing.T) {
	f := compiled(t, demo)
	circuits := figures.NewCircuits(demo)
	for h := range demo.Hulls {
		st := standard(t, f, h)
		var list []wiring.Circuit
		for i := range demo.Circuits {
			if c, ok := circuits.At(st, i); ok {
				list = append(list, c)
			}
		}
		sheet, err := wiring.Sheet(list, wiring.DefaultRules())
		if err != nil {
			t.Fatal(err)
		}
		if got := figure(t, st, "copper_kg"); math.Abs(got-sheet.Copper) > 1e-9 || got < 0.5 {
			t.Errorf("%s: %v kg, want %v", demo.Hulls[h].ID, got, sheet.Copper)
		}
	}
}
