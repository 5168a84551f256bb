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

// boat has one pump at 12 V, whose current is use field 0 and whose run is use field 1, and a cut of as many panes as use field 0 says, on a roll and on sheets.
func boat() *pack.Pack {
	return &pack.Pack{
		Circuits: []pack.Circuit{{ID: "pump", Title: "Pump", Function: wiring.Pump, Amps: program("u0"), Volts: program("n12"), Length: program("u1"), When: program("n0 u0 <"), Insulation: 105}},
		Trade: &pack.Trade{
			Materials: []pack.Material{{ID: "cable-1-5", Title: "Cable 1.5 mm2"}, {ID: "cable-4", Title: "Cable 4 mm2"}},
			Wires:     []pack.Cable{{MM2: 1.5}, {MM2: 4, Material: 1}},
			Sources:   []pack.Source{{File: "cuts.yaml", Line: 3, Column: 9}},
			Cuts: []pack.Cut{{ID: "panes", Title: "Panes", Stocks: []pack.CutStock{{WidthMm: 1370}, {WidthMm: 1370, LengthMm: 2000}},
				Pieces: []pack.CutPiece{{Name: "Pane", WidthMm: program("n640"), LengthMm: program("n900"), Count: program("u0")}}}},
		},
	}
}

func state(use ...float64) *formula.State { return &formula.State{Use: use} }

// needs are the wire of the pump in each listed cable.
func needs() []pack.Need {
	return []pack.Need{{Wire: &pack.WireNeed{UpTo: 1.5}}, {Index: 1, Wire: &pack.WireNeed{Above: 1.5, UpTo: 4, Thickest: true}}}
}

// What is cut from a roll and from sheets, offcuts included: two panes lie side by side, and what is left whole of the last sheet is not taken.
func ExampleTakeoffs_Of() {
	t := takeoff.New(boat())
	for _, n := range []pack.Need{{Cut: &pack.CutNeed{Metres: true}}, {Cut: &pack.CutNeed{Stock: 1}}} {
		amount, err := t.Of(&n)(state(5))
		fmt.Printf("%.3f %v\n", amount, err)
	}
	// Output:
	// 2.700 <nil>
	// 3.973 <nil>
}

// The wire is bought in one of the cables, twice the run with its slack; by its size as package wiring finds it.
func TestWireIsTakenOnce(t *testing.T) {
	takeoffs := takeoff.New(boat())
	for _, c := range []struct {
		amps, metres float64
		want         []float64
	}{
		{0, 4, []float64{0, 0}}, // without the circuit
		{3, 2, []float64{4.3, 0}},
		{30, 2, []float64{0, 4.3}},
	} {
		for i, n := range needs() {
			got, err := takeoffs.Of(&n)(state(c.amps, c.metres))
			if err != nil || math.Abs(got-c.want[i]) > 1e-9 {
				t.Errorf("%v A over %v m: %v m of cable %d (%v), want %v", c.amps, c.metres, got, i, err, c.want[i])
			}
		}
	}
}

// Too thick for the list is an error that names the circuit; more than any cable carries is for the loom to say.
func TestWireTooThick(t *testing.T) {
	takeoffs, list := takeoff.New(boat()), needs()
	if got, err := takeoffs.Of(&list[0])(state(60, 5)); got != 0 || err != nil {
		t.Errorf("the thin cable: %v, %v", got, err)
	}
	_, err := takeoffs.Of(&list[1])(state(60, 5))
	if err == nil || !strings.Contains(err.Error(), `sizing circuit "Pump": it needs a cable of `) {
		t.Errorf("60 A over 5 m: %v", err)
	}
	if got, err := takeoffs.Of(&list[1])(state(470, 20)); got != 0 || err != nil {
		t.Errorf("470 A over 20 m: %v, %v", got, err)
	}
	if _, err := takeoffs.Of(&list[1])(state(5, -1)); err == nil {
		t.Error("a run of -1 m has a length")
	}
	if _, ok := takeoffs.Cable(6); ok {
		t.Error("there is a cable of 6 mm2")
	}
	if m, ok := takeoffs.Cable(2.5); !ok || m.ID != "cable-4" {
		t.Errorf("for 2.5 mm2: %+v", m)
	}
}

func TestCutFaults(t *testing.T) {
	takeoffs := takeoff.New(boat())
	for count, want := range map[float64]string{0.5: "whole number", -1: "whole number", math.NaN(): "whole number", 1e9: "whole number"} {
		n := pack.Need{Cut: &pack.CutNeed{}}
		if _, err := takeoffs.Of(&n)(state(count)); err == nil || !strings.HasPrefix(err.Error(), "laying Panes: cuts.yaml:3:9: ") || !strings.Contains(err.Error(), want) {
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
			pieces = append(pieces, cutting.Piece{Name: fmt.Sprint(i), Width: rapid.Float64Range(50, 1370).Draw(t, "width"), Length: rapid.Float64Range(50, 2790).Draw(t, "length"), Turn: true})
		}
		l, err := cutting.Lay(pieces, stock)
		if err != nil {
			t.Fatal(err)
		}
		taken := takeoff.Taken(&l)
		if taken*stock.Width < l.Area-1e-6 || taken > l.Used+1e-6 || l.Sheets > 0 && taken <= float64(l.Sheets-1)*stock.Length {
			t.Fatalf("%v mm are taken of %d sheets for %v mm2", taken, l.Sheets, l.Area)
		}
	})
}

// An amount reads what its pieces or its circuit read.
func TestReads(t *testing.T) {
	p := boat()
	cut, wire := pack.Need{Cut: &pack.CutNeed{}}, needs()[0]
	if r := takeoff.Reads(p, &cut); !slices.Equal(r.Use, []int{0}) {
		t.Errorf("the cut reads %v", r.Use)
	}
	if r := takeoff.Reads(p, &wire); !slices.Equal(r.Use, []int{0, 1}) {
		t.Errorf("the wire reads %v", r.Use)
	}
	if r := takeoff.Reads(p, &pack.Need{Amount: program("u1")}); !slices.Equal(r.Use, []int{1}) {
		t.Errorf("the formula reads %v", r.Use)
	}
}
