package figures_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/capacity"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/publish"
)

const smallBook = "../../testdata/books/small"

// boxBook is the small book with a box barge of a maximum displacement, and with machinery; masses in lb as the rules
// take them, with growth.
func boxBook(t *testing.T, length, md, hull, machinery, bank float64) *pack.Pack {
	t.Helper()
	kg := func(lb float64) float64 { return lb * capacity.PoundKG / (1 + figures.GrowthShare) }
	folder := fstest.MapFS{}
	for _, name := range []string{"boat.yaml", "yard.yaml"} {
		text, err := os.ReadFile(smallBook + "/" + name)
		if err != nil {
			t.Fatal(err)
		}
		folder[name] = &fstest.MapFile{Data: text}
	}
	boat := string(folder["boat.yaml"].Data)
	for _, e := range [][2]string{
		{"      length_m: 4.8", fmt.Sprintf("      length_m: %v", length)},
		{"carries: {mass_kg: 290}", fmt.Sprintf("carries: {mass_kg: %.9f}", kg(hull)-14)},
		{"hulls:\n", `  - {id: bank_kg, title: Bank, unit: kg, total: true}
  - {id: us_weight_kg, title: Weight capacity, unit: kg, computed: capacity.weight_kg}
  - {id: us_persons, title: Persons, unit: each, computed: capacity.persons}
  - {id: us_foam_l, title: Foam, unit: l, computed: capacity.foam_l}
hulls:
`},
		{"slots:\n", fmt.Sprintf(`slots:
  - id: drive
    section: shelter
    title: Drive and bank
    machinery: true
    choose: one
    standard: drive-shaft
    options:
      - {id: drive-shaft, title: Shaft, price: "100", carries: {mass_kg: %.9f, bank_kg: %.9f}}
`, kg(machinery), kg(bank))},
		{"choose: at most one\n    standard: top-folding",
			"choose: at most one\n    standard: top-folding\n    submerged: aluminium"},
	} {
		if strings.Count(boat, e[0]) != 1 {
			t.Fatalf("%q is not once in the small book", e[0])
		}
		boat = strings.Replace(boat, e[0], e[1], 1)
	}
	depth := md * capacity.MeasuringMargin / capacity.WaterLBFT3 * capacity.CubicFootM3 / (length * 2)
	boat += "offsets:\n  - hull: teasel-48\n    stations:\n"
	for i := range 7 {
		boat += fmt.Sprintf("      - {x: %.9f, z: [0, %.9f, %.9f], y: [1, 1, 1]}\n", float64(i)*length/6, depth/2,
			depth)
	}
	folder["boat.yaml"] = &fstest.MapFile{Data: []byte(boat)}
	packs, _, problems, err := publish.Load(folder)
	if err != nil || len(problems) > 0 {
		t.Fatalf("%v %v", err, problems)
	}
	return packs[pack.Yard]
}

func box(t *testing.T, p *pack.Pack) (*formula.State, map[string]float64) {
	t.Helper()
	st := figures.NewState(p, 0, []float64{4, 0})
	for _, n := range p.Hulls[0].Standard {
		st.Counts[n.Option], st.Slots[p.Options[n.Option].Slot] = n.Count, n.Count
	}
	compiled(t, p).Fill(st)
	out := map[string]float64{}
	for i, f := range p.Figures {
		out[f.ID] = st.Figures[i]
	}
	return st, out
}

// Case U18 of testdata/capacity.json through a book. Source: 33 CFR 183.33, 183.39; US Coast Guard, Boatbuilder's
// Handbook, Safe Loading, 4.2 note 3; computed. The foam is worked out by hand: 33 CFR 183.105 with the handbook's
// quarter of the weight capacity.
func TestCapacityThroughTheBook(t *testing.T) {
	p := boxBook(t, 4.8, 6200, 900, 90+60+30+420, 420)
	st, got := box(t, p)
	if lb := got["us_weight_kg"] / capacity.PoundKG; math.Abs(lb-671) > 1e-6 || got["us_persons"] != 5 {
		t.Errorf("%v lb for %v persons, want 671 for 5", lb, got["us_persons"])
	}
	c, ok, err := compiled(t, p).Capacity(st, figures.Plates{})
	if !ok || err != nil {
		t.Fatal(ok, err)
	}
	if math.Abs(c.Weight.W1.LB-460) > 0.001 || math.Abs(c.Weight.W2.LB-671.429) > 0.001 || c.Weight.Marked != 671 ||
		c.Persons.Number != 5 {
		t.Errorf("weight %+v, persons %+v", c.Weight, c.Persons)
	}
	top := 14 * (1 + figures.GrowthShare) / capacity.PoundKG
	net := 62.4 - 1.05*35*capacity.CubicFootM3/capacity.PoundKG
	ft3 := (0.33*(900-top) + 0.63*top + 0.75*180 + 420 + 671.0/4) / net
	if want := math.Ceil(ft3 * capacity.CubicFootM3 * 1000); got["us_foam_l"] != want ||
		math.Abs(c.Foam.Provide.M3*1000-want) > 1e-6 {
		t.Errorf("foam %v and %v l, want %v", got["us_foam_l"], c.Foam.Provide.M3*1000, want)
	}
}

// From 20 ft (6.096 m) up these rules set no duty. Source: 33 CFR 183.21, 183.31, 183.101.
func TestCapacityEndsAtTwentyFeet(t *testing.T) {
	for length, covered := range map[float64]bool{6.095: true, 6.096: false} {
		p := boxBook(t, length, 6200, 900, 600, 420)
		st, got := box(t, p)
		c, ok, err := compiled(t, p).Capacity(st, figures.Plates{})
		if !ok || err != nil {
			t.Fatal(ok, err)
		}
		if (got["us_persons"] > 0) != covered || (got["us_foam_l"] > 0) != covered || c.Weight.Applies != covered ||
			c.Foam.Applies != covered {
			t.Errorf("at %v m: figures %v, papers apply %v", length, got, c.Weight.Applies)
		}
	}
}

// A boat on which nothing may be marked has zeros, and the papers say why; it is no fault, since she may be bound
// elsewhere.
func TestNothingMayBeMarked(t *testing.T) {
	p := boxBook(t, 4.8, 1500, 1400, 90, 20)
	st, got := box(t, p)
	if got["us_persons"] != 0 || got["us_weight_kg"] != 0 || got["us_foam_l"] != 0 || len(st.Faults) > 0 {
		t.Errorf("figures %v, faults %v", got, st.Faults)
	}
	if _, ok, err := compiled(t, p).Capacity(st, figures.Plates{}); !ok || err == nil {
		t.Error("the papers do not say why nothing may be marked")
	}
}

// The figures that rules read are those that papers write, on every hull of the demo book.
func TestCapacityFiguresAreThoseOfThePapers(t *testing.T) {
	f := compiled(t, demo)
	covered := 0
	for h := range demo.Hulls {
		st := standard(t, f, h)
		c, ok, err := compiled(t, demo).Capacity(st, figures.Plates{})
		if !ok || err != nil {
			t.Fatal(ok, err)
		}
		if c.Weight.Applies {
			covered++
		}
		if math.Abs(figure(t, st, "us_weight_kg")-float64(c.Weight.Marked)*capacity.PoundKG) > 1e-9 ||
			int(figure(t, st, "us_persons")) != c.Persons.Number ||
			math.Abs(figure(t, st, "us_foam_l")-1000*c.Foam.Provide.M3) > 1 {
			t.Errorf("%s: figures %v kg, %v persons, %v l; papers %+v %+v %v", demo.Hulls[h].ID,
				figure(t, st, "us_weight_kg"), figure(t, st, "us_persons"),
				figure(t, st, "us_foam_l"), c.Weight.Marked, c.Persons.Number, c.Foam.Provide)
		}
	}
	if covered != 2 {
		t.Errorf("%d hulls are under 20 ft, want 2", covered)
	}
}

// A label never says more persons than the hull is built for, whatever the weight capacity comes to; once it did. The
// pounds are the most that still count as these persons (33 CFR 183.39(b)), and a builder who asks for more than the
// hull is built for is told so.
func TestLabelKeepsToWhatTheHullIsBuiltFor(t *testing.T) {
	derated := 0
	for h := range demo.Hulls {
		for built := 1.0; built <= 8; built++ {
			p := *demo
			p.Hulls = append([]pack.Hull{}, demo.Hulls...)
			p.Hulls[h].Fields = append([]float64{}, demo.Hulls[h].Fields...)
			for i, f := range p.HullFields {
				if f.ID == "persons" {
					p.Hulls[h].Fields[i] = built
				}
			}
			st := standard(t, compiled(t, &p), h)
			st.Hull = p.Hulls[h].Fields
			compiled(t, &p).Fill(st)
			c, ok, err := compiled(t, &p).Capacity(st, figures.Plates{})
			if !ok || err != nil || !c.Persons.Applies {
				continue // no label is asked for
			}
			if c.Persons.Number > int(built) || figure(t, st, "us_persons") > built {
				t.Errorf("%s, built for %g: the label says %d, the figure %g", p.Hulls[h].ID, built, c.Persons.Number,
					figure(t, st, "us_persons"))
			}
			if c.Persons.Number == int(built) && c.Persons.Governs == capacity.ByBuilder {
				derated++
				if pounds := capacity.LeastPounds(c.Persons.Number + 1); float64(c.Persons.Marked) >= pounds {
					t.Errorf("%d lb count as more than %d persons", c.Persons.Marked, c.Persons.Number)
				}
				if _, _, err := compiled(t, &p).Capacity(st, figures.Plates{Persons: int(built) + 1}); err == nil ||
					!strings.Contains(err.Error(), "the hull is built for") {
					t.Errorf("marking one more: %v", err)
				}
			}
		}
	}
	if derated < 4 {
		t.Errorf("only %d labels are held down by the hull", derated)
	}
}
