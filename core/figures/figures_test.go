package figures

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/formula"
	"ribband/core/pack"
)

func lowered(t *testing.T, text string) formula.Program {
	t.Helper()
	p, err := formula.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// testPack has two hulls, three options and five figures: two totals, and three formulas in an order that must be
// turned.
//
//	0 load_kg   = mass_kg + 80 × persons
//	1 mass_kg     total: hull 0 carries length × 100; option 0 carries 12.5; option 1 carries 2 × length
//	2 depth     = load_kg / length
//	3 volts       total: option 2 carries 24
//	4 spare       total of nothing
func testPack(t *testing.T) *pack.Pack {
	p := &pack.Pack{Public: pack.Public{
		HullFields: []pack.Field{{ID: "length_m"}},
		Use:        []pack.UseField{{ID: "persons", Min: 1, Max: 8, Step: 1}},
		Figures: []pack.Figure{
			{ID: "load_kg", Formula: lowered(t, "f1 n80 u0 * +")},
			{ID: "mass_kg"},
			{ID: "depth", Formula: lowered(t, "f0 h0 /")},
			{ID: "volts"},
			{ID: "spare"},
		},
		Hulls: []pack.Hull{
			{ID: "sedge-46", Fields: []float64{4.5},
				Carries: []pack.Contribution{{Figure: 1, Amount: lowered(t, "h0 n100 *")}}},
			{ID: "reed-65", Fields: []float64{6.5}},
		},
		Slots: []pack.Slot{{ID: "gear", Multiple: true, First: 0, End: 3}},
		Options: []pack.Option{
			{ID: "anchor", Most: 4, Carries: []pack.Contribution{{Figure: 1, Amount: lowered(t, "n12.5")}}},
			{ID: "rail", Most: 1, Carries: []pack.Contribution{{Figure: 1, Amount: lowered(t, "n2 h0 *")}}},
			{ID: "battery", Most: 4, Carries: []pack.Contribution{{Figure: 3, Amount: lowered(t, "n24")}}},
		},
	}}
	p.Assemble()
	return p
}

func compile(t *testing.T, p *pack.Pack) *Figures {
	t.Helper()
	f, err := Compile(p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestFill(t *testing.T) {
	p := testPack(t)
	f := compile(t, p)
	for _, c := range []struct {
		name   string
		hull   int
		counts []int
		want   []float64
	}{
		{"bare hull", 0, []int{0, 0, 0}, []float64{610, 450, 610 / 4.5, 0, 0}},
		{"a hull that carries nothing", 1, []int{0, 0, 0}, []float64{160, 0, 160 / 6.5, 0, 0}},
		{"counts multiply", 0, []int{3, 1, 2}, []float64{656.5, 496.5, 656.5 / 4.5, 48, 0}},
		{"what the other hull makes of an option", 1, []int{0, 1, 1}, []float64{173, 13, 173 / 6.5, 24, 0}},
	} {
		st := NewState(p, c.hull, []float64{2})
		copy(st.Counts, c.counts)
		for range 2 { // a second time over its own results
			f.Fill(st)
			if !slices.Equal(st.Figures, c.want) {
				t.Errorf("%s: %v, want %v", c.name, st.Figures, c.want)
			}
		}
	}
}

func TestNewState(t *testing.T) {
	p := testPack(t)
	use := []float64{2}
	st := NewState(p, 1, use)
	want := &formula.State{Counts: []int{0, 0, 0}, Slots: []int{0}, HullID: 1, Hull: []float64{6.5}, Use: []float64{2},
		Figures: []float64{0, 0, 0, 0, 0}}
	if !reflect.DeepEqual(st, want) {
		t.Errorf("%+v, want %+v", st, want)
	}
	if use[0] = 8; st.Use[0] != 2 {
		t.Error("the state shares the use that it was made of")
	}
}

func TestResolve(t *testing.T) {
	f := compile(t, testPack(t))
	for _, c := range []struct{ in, want formula.Reads }{
		{formula.Reads{}, formula.Reads{}},
		{formula.Reads{Figures: []int{4}}, formula.Reads{}},
		{formula.Reads{Figures: []int{3}}, formula.Reads{Options: []int{2}}},
		{formula.Reads{Figures: []int{1}}, formula.Reads{Options: []int{0, 1}, Hull: []int{0}}},
		{formula.Reads{Figures: []int{0}}, formula.Reads{Options: []int{0, 1}, Hull: []int{0}, Use: []int{0}}},
		{formula.Reads{Figures: []int{2, 3}, Slots: []int{0}, HullID: true},
			formula.Reads{Options: []int{0, 1, 2}, Slots: []int{0}, Hull: []int{0}, HullID: true, Use: []int{0}}},
	} {
		if got := f.Resolve(c.in); !same(got, c.want) {
			t.Errorf("%+v: %+v, want %+v", c.in, got, c.want)
		}
	}
	in := formula.Reads{Options: []int{5}}
	f.Resolve(in).Options[0] = 9
	if in.Options[0] != 5 {
		t.Error("the result shares memory with what was resolved")
	}
}

func same(a, b formula.Reads) bool {
	return slices.Equal(a.Options, b.Options) && slices.Equal(a.Slots, b.Slots) && slices.Equal(a.Hull, b.Hull) &&
		a.HullID == b.HullID &&
		slices.Equal(a.Use, b.Use) && slices.Equal(a.Figures, b.Figures)
}

// A figure never changes with what Resolve says that it does not depend on.
func TestUnresolvedNeverMatters(t *testing.T) {
	p := testPack(t)
	f := compile(t, p)
	rapid.Check(t, func(t *rapid.T) {
		draw := func() *formula.State {
			st := NewState(p, 0, []float64{float64(rapid.IntRange(1, 8).Draw(t, "persons"))})
			st.Counts = rapid.SliceOfN(rapid.IntRange(0, 4), 3, 3).Draw(t, "counts")
			return st
		}
		a, b := draw(), draw()
		figure := rapid.IntRange(0, 4).Draw(t, "figure")
		r := f.Resolve(formula.Reads{Figures: []int{figure}})
		for _, o := range r.Options {
			b.Counts[o] = a.Counts[o]
		}
		for _, u := range r.Use {
			b.Use[u] = a.Use[u]
		}
		f.Fill(a)
		f.Fill(b)
		if a.Figures[figure] != b.Figures[figure] {
			t.Fatalf("%s is %v on %+v and %v on %+v, but depends only on %+v", p.Figures[figure].ID, a.Figures[figure],
				*a, b.Figures[figure], *b, r)
		}
	})
}
