package sheet

import (
	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/laminate"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/work"
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
	Material    string  `json:"material"`
	For         string  `json:"for"`
	AreaM2      float64 `json:"area_m2"`
	ThicknessMm float64 `json:"thickness_mm"`
	Litres      float64 `json:"litres"`
	BoardFeet   float64 `json:"board_feet"`
	Taken
}

// TimberPart is parts of one section with their finished size. Board feet are of the timber to buy, by true volume.
type TimberPart struct {
	Material    string  `json:"material"`
	For         string  `json:"for"`
	ThicknessMm float64 `json:"thickness_mm"`
	WidthMm     float64 `json:"width_mm"`
	LengthM     float64 `json:"length_m"`
	Count       float64 `json:"count"`
	NetDm3      float64 `json:"net_dm3"`
	RoughDm3    float64 `json:"rough_dm3"` // with the waste of the material
	BoardFeet   float64 `json:"board_feet"`
	Taken
}

// TubePart is a bent frame, net.
type TubePart struct {
	Material  string  `json:"material"`
	For       string  `json:"for"`
	Hoops     float64 `json:"hoops"`
	HoopM     float64 `json:"hoop_m"` // of one, straightened
	StraightM float64 `json:"straight_m"`
	TotalM    float64 `json:"total_m"`
	Bends     float64 `json:"bends"`
	Taken
}

// CoatingPart is paint, varnish, oil or gelcoat over an area, net. Gelcoat has a wet thickness in place of coats.
type CoatingPart struct {
	Material string  `json:"material"`
	For      string  `json:"for"`
	AreaM2   float64 `json:"area_m2"`
	Coats    float64 `json:"coats,omitempty"`
	WetMm    float64 `json:"wet_mm,omitempty"`
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
	p := &ShopParts{}
	for i := range a.Cost.Materials {
		l := &a.Cost.Materials[i]
		t := e.Pack.Work.Sources[l.At].Takeoff
		if t == nil || !wanted(l) {
			continue
		}
		values := make([]float64, len(t.Parts))
		for i, part := range t.Parts {
			values[i] = part.Number()(a.Build.State)
		}
		m := &e.Pack.Costs.Materials[l.Material]
		p.add(m, causeTitle(e, l.For), t.Form, values, float64(l.For.Count), l)
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

// causeTitle is what hours or a quantity are for, as the shop reads it.
func causeTitle(e *engine.Engine, c work.Cause) string {
	if c.Kind == work.BaseBoat {
		return "Base boat"
	}
	o := &e.Pack.Options[c.Index]
	return e.Pack.Slots[o.Slot].Title + ": " + o.Title
}

// add puts a line under its heading; v are the parts of its form in their order, for one of times.
func (p *ShopParts) add(m *pack.Material, what, form string, v []float64, times float64, l *cost.MaterialLine) {
	net, used, taken := l.BuiltIn.Float(), l.Used.Float(), Taken{l.Used, m.Unit}
	switch form {
	case "foam":
		p.Foam = append(p.Foam, FoamPart{m.Title, what, round(v[0] * times), round(v[1]), round(1000 * net),
			round(1000 * net / laminate.LitresPerBoardFoot), taken})
	case "timber":
		p.Timber = append(p.Timber, TimberPart{m.Title, what, round(v[0]), round(v[1]), round(v[2]),
			round(v[3] * times), round(1000 * net), round(1000 * used),
			round(1000 * used / laminate.LitresPerBoardFoot), taken})
	case "tube":
		hoops, straight := v[0]*times, v[3]*times
		part := TubePart{Material: m.Title, For: what, Hoops: round(hoops), StraightM: round(straight),
			TotalM: round(net), Bends: round(2 * hoops), Taken: taken}
		if hoops > 0 {
			part.HoopM = round((net - straight) / hoops)
		}
		p.Tube = append(p.Tube, part)
	case "coat":
		p.Coatings = append(p.Coatings, CoatingPart{Material: m.Title, For: what, AreaM2: round(v[0] * times),
			Coats: round(v[1]), Quantity: round(net), Unit: m.Unit, Taken: taken})
	case "gelcoat":
		p.Coatings = append(p.Coatings, CoatingPart{Material: m.Title, For: what, AreaM2: round(v[0] * times),
			WetMm: round(v[1]), Quantity: round(net), Unit: m.Unit, Taken: taken})
	}
}
