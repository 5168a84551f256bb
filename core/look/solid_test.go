package look_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"ribband/core/drawing"
	"ribband/core/drawing/solid"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/hull"
	"ribband/core/look"
	"ribband/core/pack"
)

func meshOf(t *testing.T, e *engine.Engine, b *fit.Build) *solid.Mesh {
	t.Helper()
	m, err := look.Solid(e, b, solid.Fine)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// skin are the parts of the hull that the offsets measure.
var skin = []string{solid.Hull, solid.Bottom, solid.BootTop, solid.Stripe}

// below is what the skin of a mesh holds below a plane of water, m³; aft and fore are its heights at the ends.
//
// Formula: ∮ d·dA over the faces below the water, with the depth d of each and its area as seen from above: each
// prism from a face up to the water counts with the sign of its side. Every triangle is cut at the water.
func below(m *solid.Mesh, aft, fore float64) float64 {
	length := float64(m.Fore-m.Aft) / 1000
	depth := func(p solid.Vec) float64 {
		return aft + (fore-aft)*(p.X-float64(m.Aft)/1000)/length - p.Z
	}
	sum := 0.0
	for i := range m.Patches {
		if !slices.Contains(skin, m.Parts[m.Patches[i].Part].Name) {
			continue
		}
		for _, f := range m.Patches[i].Faces() {
			for k := 2; k < len(f.At); k++ {
				sum += prism([]solid.Vec{metres(f.At[0]), metres(f.At[k-1]), metres(f.At[k])}, depth)
			}
		}
	}
	return sum
}

func metres(p solid.Place) solid.Vec {
	return solid.Vec{X: float64(p[0]) / 1000, Y: float64(p[1]) / 1000, Z: float64(p[2]) / 1000}
}

func prism(at []solid.Vec, depth func(solid.Vec) float64) (sum float64) {
	var wet []solid.Vec
	for i, p := range at {
		q := at[(i+1)%len(at)]
		d, e := depth(p), depth(q)
		if d > 0 {
			wet = append(wet, p)
		}
		if (d > 0) != (e > 0) {
			t := d / (d - e)
			wet = append(wet, solid.Vec{X: p.X + (q.X-p.X)*t, Y: p.Y + (q.Y-p.Y)*t, Z: p.Z + (q.Z-p.Z)*t})
		}
	}
	for k := 2; k < len(wet); k++ {
		a, b, c := wet[0], wet[k-1], wet[k]
		up := ((b.X-a.X)*(c.Y-a.Y) - (c.X-a.X)*(b.Y-a.Y)) / 2
		sum -= up * (max(depth(a), 0) + max(depth(b), 0) + max(depth(c), 0)) / 3
	}
	return sum
}

// Each demo boat displaces as a mesh what it weighs, to one per cent: the hydrostatics integrate its sections by
// Simpson's rule, the mesh is cut by the water.
func TestSolidDisplacesWhatItWeighs(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for name, s := range enginetest.DemoSpecs(t) {
		b := enginetest.Answer(t, e, s).Build
		m := meshOf(t, e, b)
		aft, fore := e.Computed(b, figures.FloatingDraftAft), e.Computed(b, figures.FloatingDraftFore)
		weight := e.Computed(b, figures.FloatingDisplacement)
		fresh, salt := below(m, aft, fore)*hull.FreshWater, below(m, aft, fore)*hull.SaltWater
		if off := min(math.Abs(fresh-weight), math.Abs(salt-weight)) / weight; off > 0.01 {
			t.Errorf("%s displaces %.0f kg in fresh water and %.0f in salt, and weighs %.0f", name, fresh, salt, weight)
		}
	}
}

// Every hull holds below any water what the hydrostatics say, to one per cent, and is as large as its fields. The least
// draught is that of some three quarters of the lightest boat's weight.
func TestSolidHoldsWhatTheHydrostaticsSay(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	for i := range e.Pack.Hulls {
		h := &e.Pack.Hulls[i]
		a, err := e.AnswerStandard(i, "")
		if err != nil {
			t.Fatal(err)
		}
		m := meshOf(t, e, a.Build)
		water, err := hull.New(figures.Lines(h))
		if err != nil {
			t.Fatal(err)
		}
		for _, draft := range []float64{0.43, 0.5, 0.57, 0.65} {
			for _, trim := range []float64{-0.02, 0, 0.02} {
				want, err := water.Upright(draft, trim)
				if err != nil {
					t.Fatal(err)
				}
				lever := math.Tan(trim) * water.Length() / 2
				if got := below(m, draft+lever, draft-lever); math.Abs(got-want.Volume) > 0.01*want.Volume {
					t.Errorf("%s at %v m, trim %v: %.4f m³, want %.4f", h.ID, draft, trim, got, want.Volume)
				}
			}
		}
		if got, want := float64(m.Fore-m.Aft)/1000, e.Field(a.Build, figures.HullLength); math.Abs(got-want) > 0.001 {
			t.Errorf("%s is %v m long, want %v", h.ID, got, want)
		}
		beam := int32(0)
		for _, f := range m.Faces() {
			if slices.Contains(skin, m.Parts[f.Part].Name) {
				for _, p := range f.At {
					beam = max(beam, p[1])
				}
			}
		}
		if want := e.Field(a.Build, figures.HullBeam); math.Abs(2*float64(beam)/1000-want) > 0.002 {
			t.Errorf("%s is %v m broad, want %v", h.ID, 2*float64(beam)/1000, want)
		}
	}
}

// usual are the colours that a part has without a choice: an option of the same changes nothing that is seen.
var usual = map[string]string{"hull": drawing.HullWhite, "deck": drawing.DeckIvory, "sole": drawing.SoleGrey,
	"cloth": drawing.ClothNavy, "rail": drawing.Timber, "coaming": drawing.Timber}

// Every option that the demo book draws changes the mesh, in its form or in a colour, and its part leads to its slot.
func TestEveryDrawnOptionChangesTheSolid(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	drawn := 0
	for o, def := range e.Pack.Options {
		if w, _ := look.Find(def.Drawn); w.Views&^look.Cushions == 0 {
			continue // piping is too thin for the boat
		}
		drawn++
		var under []int
		if from, ok := goesWith[def.Drawn]; ok {
			under = append(under, optionDrawn(t, e, from))
		}
		without, with := meshOf(t, e, bare(t, e, under...)), meshOf(t, e, bare(t, e, append(under, o)...))
		same := reflect.DeepEqual(without.Patches, with.Patches) && reflect.DeepEqual(without.Parts, with.Parts) &&
			reflect.DeepEqual(without.Lines, with.Lines)
		if same && !strings.EqualFold(usual[def.Drawn], def.Colour) {
			t.Errorf("%s, drawn as %s, changes nothing", def.ID, def.Drawn)
		}
		slot := e.Pack.Slots[def.Slot].ID
		if !slices.ContainsFunc(with.Parts, func(p solid.Part) bool { return p.Slot == slot }) && def.Drawn != "cloth" {
			t.Errorf("%s: no part leads to the slot %s", def.ID, slot)
		}
	}
	if drawn < 80 {
		t.Errorf("%d options are drawn", drawn)
	}
}

// What may be timber bears its grain only where the book has it made of that: a moulded coaming and a deck laid in cork
// do not. All that the demo book has of coamings, cappings, tables and laid decks is asked for.
func TestOnlyTimberHasGrain(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	parts := map[string]string{"coaming": solid.Coaming, "rail": solid.Rail, "table": solid.Table,
		"laid-deck": solid.Deck}
	grained, plain := map[string]bool{}, map[string]bool{}
	for o, def := range e.Pack.Options {
		name, ok := parts[def.Drawn]
		if !ok {
			continue
		}
		m := meshOf(t, e, bare(t, e, o))
		i := slices.IndexFunc(m.Parts, func(p solid.Part) bool { return p.Name == name && p.Colour == def.Colour })
		if i < 0 {
			t.Fatalf("%s: no part %s of colour %s", def.ID, name, def.Colour)
		}
		timber := def.Surface == "" || def.Surface == string(drawing.OfTimber)
		if got := m.Parts[i].Finish&solid.Grain != 0; got != timber {
			t.Errorf("%s: grain is %v, and its surface %q", def.ID, got, def.Surface)
		}
		grained[def.Drawn] = grained[def.Drawn] || timber
		plain[def.Drawn] = plain[def.Drawn] || !timber
	}
	if len(grained) != len(parts) || !plain["coaming"] || !plain["laid-deck"] {
		t.Errorf("of timber are %v, of something else %v: the demo book tries too little", grained, plain)
	}
}

// A book without offsets has no solid, and no still.
func TestWithoutOffsetsThereIsNoSolid(t *testing.T) {
	e := enginetest.Small()[pack.Yard]
	b := enginetest.Answer(t, e, enginetest.Teasel(t)).Build
	if m, err := look.Solid(e, b, solid.Fine); m != nil || err != nil {
		t.Errorf("a solid %v, error %v", m, err)
	}
	if p, err := look.Still(e, b, drawing.Format{}); p.SVG != "" || err != nil {
		t.Errorf("a still of %d bytes, error %v", len(p.SVG), err)
	}
}

// The first paint of a page bears its still: no more than 27 kB for the standard build of each hull, and little more
// for the fullest boats.
func TestStillsAreSmall(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	size := func(name string, b *fit.Build, most int) {
		p, err := look.Still(e, b, drawing.Format{})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d bytes", name, len(p.SVG))
		if len(p.SVG) > most {
			t.Errorf("the still of %s has %d bytes, want at most %d", name, len(p.SVG), most)
		}
	}
	for i := range e.Pack.Hulls {
		a, err := e.AnswerStandard(i, "")
		if err != nil {
			t.Fatal(err)
		}
		size(e.Pack.Hulls[i].ID, a.Build, 27_000)
	}
	size("osier-76-fullest", enginetest.Answer(t, e, enginetest.DemoSpecs(t)["osier-76-fullest"]).Build, 34_000)
}

// BenchmarkSolid is what the page pays for a mesh, with its bytes on the wire.
func BenchmarkSolid(b *testing.B) {
	e := enginetest.Demo()[pack.Yard]
	build := enginetest.Answer(b, e, enginetest.DemoSpecs(b)["reed-65-fullest"]).Build
	for b.Loop() {
		m, err := look.Solid(e, build, solid.Fine)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(m.Encode())), "bytes")
		b.ReportMetric(float64(len(m.Faces())), "faces")
	}
}

// BenchmarkStill is what a still picture costs.
func BenchmarkStill(b *testing.B) {
	e := enginetest.Demo()[pack.Yard]
	build := enginetest.Answer(b, e, enginetest.DemoSpecs(b)["reed-65-fullest"]).Build
	for b.Loop() {
		if _, err := look.Still(e, build, drawing.Format{}); err != nil {
			b.Fatal(err)
		}
	}
}
