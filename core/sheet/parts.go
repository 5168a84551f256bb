package sheet

import (
	"slices"

	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/formula"
	"ribband/core/laminate"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/takeoff"
)

// ShopParts are what the shops cut, bend and coat for a boat, part by part, as the quantities of the materials follow
// from them.
type ShopParts struct {
	Foam     []FoamPart    `json:"foam,omitempty"`
	Timber   []TimberPart  `json:"timber,omitempty"`
	Tube     []TubePart    `json:"frame_tube,omitempty"`
	Coatings []CoatingPart `json:"coatings,omitempty"`
}

// Taken is what the store gives out for a part, with the waste of the material: the amount that stands among the
// materials.
type Taken struct {
	Used measure.Quantity `json:"used"`
	Unit string           `json:"used_unit"`
}

// FoamPart is sheet foam over an area, net.
type FoamPart struct {
	Material string `json:"material"`
	For      string `json:"for"`
	// m², of all cushions of the item
	AreaM2      float64 `json:"area_m2"`
	ThicknessMm float64 `json:"thickness_mm"` // mm
	Litres      float64 `json:"litres"`       // l, net
	// of 144 cubic inches, net
	BoardFeet float64 `json:"board_feet"`
	Taken
}

// TimberPart is parts of one section with their finished size. Board feet are of the timber to buy, by true volume.
type TimberPart struct {
	Material string `json:"material"`
	For      string `json:"for"`
	// mm finished, like the width
	ThicknessMm float64 `json:"thickness_mm"`
	WidthMm     float64 `json:"width_mm"`
	LengthM     float64 `json:"length_m"` // m, of one part
	// parts of this section
	Count float64 `json:"count"`
	// dm³ of finished timber
	NetDm3   float64 `json:"net_dm3"`
	RoughDm3 float64 `json:"rough_dm3"` // with the waste of the material
	// of 144 cubic inches, to buy
	BoardFeet float64 `json:"board_feet"`
	Taken
}

// TubePart is a bent frame, net.
type TubePart struct {
	Material string `json:"material"`
	For      string `json:"for"`
	// bent bows; each has two bends
	Hoops float64 `json:"hoops"`
	HoopM float64 `json:"hoop_m"` // of one, straightened
	// m, of one as it stands, to the tube's middle: over the feet, to the bends, of their radius, of the roof
	WidthM  float64 `json:"width_m"`
	HeightM float64 `json:"height_m"`
	RadiusM float64 `json:"radius_m"`
	CrownM  float64 `json:"crown_m"`
	// m of straight lengths
	StraightM float64 `json:"straight_m"`
	TotalM    float64 `json:"total_m"` // m, net
	Bends     float64 `json:"bends"`   // to be made
	Taken
}

// CoatingPart is paint, varnish, oil or gelcoat over an area, net. Gelcoat has a wet thickness in place of coats.
type CoatingPart struct {
	Material string  `json:"material"`
	For      string  `json:"for"`
	AreaM2   float64 `json:"area_m2"` // m² to coat
	// one upon the other; 0 for gelcoat
	Coats float64 `json:"coats,omitempty"`
	// mm before it cures; 0 for paint
	WetMm float64 `json:"wet_mm,omitempty"`
	// net, in the unit of the material
	Quantity float64 `json:"quantity"`
	Unit     string  `json:"unit"`
	Taken
}

// AllParts are the parts of the materials that a boat takes; nil where there are none, and on the other desks than the
// yard's.
func AllParts(e *engine.Engine, a *engine.Answer) *ShopParts {
	return shopParts(e, a, func(*cost.MaterialLine) bool { return true })
}

// shopParts are the parts of some of the materials.
func shopParts(e *engine.Engine, a *engine.Answer, wanted func(*cost.MaterialLine) bool) *ShopParts {
	if !e.Pack.Can(pack.Sheets) {
		return nil
	}
	// what is stated as a plain quantity is among the materials alone: it has no parts to cut or bend
	p := &ShopParts{}
	for i := range a.Cost.Materials {
		l := &a.Cost.Materials[i]
		t := e.Pack.Work.Sources[l.At].Takeoff
		if t == nil || !wanted(l) {
			continue
		}
		p.add(&e.Pack.Costs.Materials[l.Material], causeTitle(e, l.For), measuredBy(t, a.Build.State), l)
	}
	if len(p.Foam)+len(p.Timber)+len(p.Tube)+len(p.Coatings) == 0 {
		return nil
	}
	return p
}

// only leaves out the lists that a shop does not get; nil where nothing is left.
func (p *ShopParts) only(gets func(paper string) bool) *ShopParts {
	if p == nil {
		return nil
	}
	var out ShopParts
	if gets("foam") {
		out.Foam = p.Foam
	}
	if gets("timber") {
		out.Timber = p.Timber
	}
	if gets("tube") {
		out.Tube = p.Tube
	}
	if gets("coatings") {
		out.Coatings = p.Coatings
	}
	if len(out.Foam)+len(out.Timber)+len(out.Tube)+len(out.Coatings) == 0 {
		return nil
	}
	return &out
}

// measured is an amount as it was measured on a boat, for one of its item.
type measured struct {
	form *takeoff.Form
	by   []float64 // parts, in the order of the form
}

func measuredBy(t *pack.Takeoff, st *formula.State) measured {
	form, _ := takeoff.FormOf(t.Form) // the pack was checked: there is one, and it has these parts
	m := measured{form: form}
	for _, part := range t.Parts {
		m.by = append(m.by, part.Number()(st))
	}
	return m
}

// of is a part by its key in the book.
func (m *measured) of(key string) float64 { return m.by[slices.Index(m.form.Parts, key)] }

// add puts a line of material under the heading of its form, for all of its item. Board feet of foam are of what is
// built in, those of timber of what is bought.
func (p *ShopParts) add(m *pack.Material, what string, by measured, l *cost.MaterialLine) {
	times, net, used, taken := float64(l.For.Count), l.BuiltIn.Float(), l.Used.Float(), Taken{l.Used, m.Unit}
	switch by.form.Word {
	case "foam":
		p.Foam = append(p.Foam, FoamPart{Material: m.Title, For: what, AreaM2: round(by.of("area_m2") * times),
			ThicknessMm: round(by.of("thickness_mm")), Litres: round(1000 * net),
			BoardFeet: round(1000 * net / laminate.LitresPerBoardFoot), Taken: taken})
	case "timber":
		p.Timber = append(p.Timber, TimberPart{Material: m.Title, For: what, ThicknessMm: round(by.of("thickness_mm")),
			WidthMm: round(by.of("width_mm")), LengthM: round(by.of("length_m")), Count: round(by.of("count") * times),
			NetDm3: round(1000 * net), RoughDm3: round(1000 * used),
			BoardFeet: round(1000 * used / laminate.LitresPerBoardFoot), Taken: taken})
	case "tube":
		hoops, straight := float64(by.of("hoops")*times), float64(by.of("straight_m")*times)
		part := TubePart{Material: m.Title, For: what, Hoops: round(hoops), StraightM: round(straight),
			TotalM: round(net), Bends: round(2 * hoops), WidthM: round(by.of("width_m")),
			HeightM: round(by.of("height_m")), RadiusM: round(by.of("radius_m")), CrownM: round(by.of("crown_m")),
			Taken: taken}
		// the net length without what is straight, so that both add up to what is bought
		if hoops > 0 { // a frame may be of straight lengths alone
			part.HoopM = round((net - straight) / hoops)
		}
		p.Tube = append(p.Tube, part)
	case "coat":
		p.Coatings = append(p.Coatings, CoatingPart{Material: m.Title, For: what,
			AreaM2: round(by.of("area_m2") * times), Coats: round(by.of("coats")), Quantity: round(net), Unit: m.Unit,
			Taken: taken})
	case "gelcoat":
		p.Coatings = append(p.Coatings, CoatingPart{Material: m.Title, For: what,
			AreaM2: round(by.of("area_m2") * times), WetMm: round(by.of("wet_mm")), Quantity: round(net), Unit: m.Unit,
			Taken: taken})
	}
}
