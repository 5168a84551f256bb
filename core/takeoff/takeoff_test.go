package takeoff_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/cutting"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/takeoff"
	"ribband/core/wiring"
)

func program(text string) formula.Program {
	p, err := formula.Parse(text)
	if err != nil {
		panic(err)
	}
	return p
}

// boat has one pump at 12 V, whose current is use field 0 and whose run is use field 1, and a cut of as many panes as
// use field 0 says, on a roll and on sheets.
func boat() *pack.Pack {
	p := &pack.Pack{Public: pack.Public{
		Circuits: []pack.Circuit{{ID: "pump", Title: "Pump", Function: string(wiring.Pump), Amps: program("u0"),
			Volts: program("n12"), Length: program("u1"), When: program("n0 u0 <"), Insulation: 105}},
		Stock: pack.Stock{Sections: []float64{1.5, 4},
			Fuses:    []pack.FuseSize{{Amps: 5, Volts: 32, KiloAmps: 1}, {Amps: 40, Volts: 32, KiloAmps: 1}},
			Switches: []float64{100}}},
		Selling: &pack.Selling{},
		Costs: &pack.Costs{
			Materials: []pack.Material{{ID: "cable-1-5", Title: "Cable 1.5 mm2"}, {ID: "cable-4", Title: "Cable 4 mm2"},
				{ID: "fuse-5"}, {ID: "fuse-40"}, {ID: "holder"}, {ID: "switch"}},
			Kept: pack.Kept{Cables: []int{0, 1}, Fuses: []int{2, 3}, Holders: []int{-1, 4}, Switches: []int{5}},
			Cuts: []pack.Cut{{ID: "panes",
				Stocks: []pack.CutStock{{WidthMm: 1370}, {WidthMm: 1370, LengthMm: 2000}},
				Pieces: []pack.CutPiece{{WidthMm: program("n640"), LengthMm: program("n900"),
					Count: program("u0")}}}},
		},
		Work: &pack.Work{
			Runs:    []pack.Run{{From: "Bus bar", To: "Bilge"}},
			Cuts:    []pack.CutNames{{Title: "Panes", Stocks: []string{"Roll", "Sheet"}, Pieces: []string{"Pane"}}},
			Sources: []pack.Source{{File: "cuts.yaml", Line: 3, Column: 9}},
		},
	}
	p.Assemble()
	return p
}

func state(use ...float64) *formula.State { return &formula.State{Use: use} }

func of(part pack.Part) *pack.BOMLine {
	return &pack.BOMLine{Index: -1, Circuit: &pack.CircuitAmount{Part: part}}
}

// What is cut from a roll and from sheets, offcuts included: two panes lie side by side, and what is left whole of the
// last sheet is not taken.
func ExampleTakeoffs_Of() {
	t := takeoff.New(boat())
	for _, n := range []pack.BOMLine{{Cut: &pack.CutAmount{Metres: true}}, {Cut: &pack.CutAmount{Stock: 1}}} {
		_, amount, err := t.Of(&n)(state(5))
		fmt.Printf("%.3f %v\n", amount, err)
	}
	// Output:
	// 2.700 <nil>
	// 3.973 <nil>
}

// What is bought of a circuit follows from its size on the boat: the wire twice the run with its slack, the fuse, its
// holder where it needs one, a battery switch that carries as much. Without the circuit there is none; nothing kept
// that is large enough is an error that names the circuit, but of a main circuit, whose figures refuse the boat. By
// hand: 3 A ask for a fuse of 5 A and 1.5 mm²; 20 A over 1 m for 25 A, of those kept 40 A, and 4 mm² which carries 45 A
// (33 CFR 183.425 Table 5, AWG 12).
func TestWhatACircuitTakes(t *testing.T) {
	takeoffs := takeoff.New(boat())
	const none = -1
	for _, c := range []struct {
		amps, metres                                float64
		cable, fuse, holder, isolator, length, each int
	}{
		{0, 4, none, none, none, none, 0, 0},
		{3, 2, 0, 2, none, 5, 430, 1},
		{20, 1, 1, 3, 4, 5, 230, 1},
		{470, 20, none, none, none, none, 0, 0},
	} {
		for part, want := range map[pack.Part]int{pack.Wire: c.cable, pack.Fuse: c.fuse, pack.Spare: c.fuse,
			pack.Holder: c.holder, pack.Switch: c.isolator} {
			index, amount, err := takeoffs.Of(of(part))(state(c.amps, c.metres))
			wanted := float64(c.each)
			if part == pack.Wire {
				wanted = float64(c.length) / 100
			}
			if err != nil || index != want || math.Abs(amount-wanted) > 1e-9 {
				t.Errorf("%v A over %v m: %v of material %d as %s (%v), want %v of %d", c.amps, c.metres, amount, index,
					part, err, wanted, want)
			}
		}
	}
	for part, want := range map[pack.Part]string{pack.Wire: "of the fuses kept none has 80 A or more",
		pack.Fuse: "of the fuses kept none has 80 A or more"} {
		if _, _, err := takeoffs.Of(of(part))(state(60, 5)); err == nil ||
			!strings.Contains(err.Error(), `sizing circuit "Pump": `+want) {
			t.Errorf("60 A over 5 m, %s: %v", part, err)
		}
	}
	if _, _, err := takeoffs.Of(of(pack.Wire))(state(20, 9)); err == nil ||
		!strings.Contains(err.Error(), "it needs a cable that carries as much as its fuse of 40 A and loses no more "+
			"than 1.2 V, and none of those kept does") {
		t.Errorf("20 A over 9 m: %v", err)
	}
	p := boat()
	p.Circuits[0].Function = string(wiring.BatteryLead)
	if index, amount, err := takeoff.New(p).Of(of(pack.Fuse))(state(60, 5)); index != none || amount != 0 ||
		err != nil {
		t.Errorf("the lead of a bank that its figures refuse takes %v of %d (%v)", amount, index, err)
	}
	if _, _, err := takeoffs.Of(of(pack.Wire))(state(5, -1)); err == nil {
		t.Error("a run of -1 m has a length")
	}
}

// Several circuits alike take their parts as many times; a spare is one.
func TestCircuitsAlike(t *testing.T) {
	p := boat()
	p.Circuits[0].Count = program("u2")
	takeoffs := takeoff.New(p)
	for part, want := range map[pack.Part]float64{pack.Wire: 3 * 4.3, pack.Fuse: 3, pack.Switch: 3, pack.Spare: 1} {
		if _, got, err := takeoffs.Of(of(part))(state(3, 2, 3)); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s of three alike: %v (%v), want %v", part, got, err, want)
		}
	}
	for _, count := range []float64{-1, 0.5, 1e9, math.NaN()} {
		if _, _, err := takeoffs.Of(of(pack.Fuse))(state(3, 2, count)); err == nil ||
			!strings.Contains(err.Error(), "let the count be a whole number") {
			t.Errorf("%v alike: %v", count, err)
		}
	}
	if r := takeoff.Reads(p, of(pack.Fuse)); !slices.Equal(r.Use, []int{0, 1, 2}) {
		t.Errorf("the fuse reads %v", r.Use)
	}
}

// A fuse larger than every battery switch is an error that names the circuit.
func TestSwitchTooSmall(t *testing.T) {
	p := boat()
	p.Stock.Switches[0] = 30
	if _, _, err := takeoff.New(p).Of(of(pack.Switch))(state(20, 1)); err == nil ||
		!strings.Contains(err.Error(), `sizing circuit "Pump": of the battery switches kept none carries the 40 A of its fuse`) {
		t.Error(err)
	}
}

func TestCutFaults(t *testing.T) {
	takeoffs := takeoff.New(boat())
	for count, want := range map[float64]string{0.5: "whole number", -1: "whole number", math.NaN(): "whole number",
		1e9: "whole number"} {
		n := pack.BOMLine{Cut: &pack.CutAmount{}}
		if _, _, err := takeoffs.Of(&n)(state(count)); err == nil ||
			!strings.HasPrefix(err.Error(), "laying Panes: cuts.yaml:3:9: ") || !strings.Contains(err.Error(), want) {
			t.Errorf("%v panes: %v", count, err)
		}
	}
}

// What is taken of sheets lies between the pieces and the whole sheets, and on one sheet fewer there is no room.
func TestPropertyTakenOfSheets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock := cutting.Stock{Width: 1370, Length: 2790, Kerf: 4}
		var pieces []cutting.Piece
		for i := range rapid.IntRange(0, 12).Draw(t, "pieces") {
			pieces = append(pieces, cutting.Piece{Name: fmt.Sprint(i),
				Width:  rapid.Float64Range(50, 1370).Draw(t, "width"),
				Length: rapid.Float64Range(50, 2790).Draw(t, "length"), Turn: true})
		}
		l, err := cutting.Lay(pieces, stock)
		if err != nil {
			t.Fatal(err)
		}
		taken := takeoff.Taken(&l)
		if taken*stock.Width < l.Area-1e-6 || taken > l.Used+1e-6 || l.Sheets > 0 &&
			taken <= float64(l.Sheets-1)*stock.Length {
			t.Fatalf("%v mm are taken of %d sheets for %v mm2", taken, l.Sheets, l.Area)
		}
	})
}

// An amount reads what its pieces or its circuit read.
func TestReads(t *testing.T) {
	p := boat()
	cut, wire := pack.BOMLine{Cut: &pack.CutAmount{}}, of(pack.Wire)
	if r := takeoff.Reads(p, &cut); !slices.Equal(r.Use, []int{0}) {
		t.Errorf("the cut reads %v", r.Use)
	}
	if r := takeoff.Reads(p, wire); !slices.Equal(r.Use, []int{0, 1}) {
		t.Errorf("the wire reads %v", r.Use)
	}
	if r := takeoff.Reads(p, &pack.BOMLine{Amount: program("u1")}); !slices.Equal(r.Use, []int{1}) {
		t.Errorf("the formula reads %v", r.Use)
	}
}
