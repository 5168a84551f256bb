package capacity_test

import (
	"math"
	"testing"

	"ribband/core/capacity"
	"ribband/core/msg"
	"ribband/testdata/published"
)

func runPersonsShare(t *testing.T, c published.Case) {
	var in struct {
		P float64 `json:"persons_lb"`
	}
	var want struct{ Rule, Handbook, Times float64 }
	c.Read(t, &in, &want)
	rule, handbook := loads(t, in.P, in.P)
	c.Near(t, "rule", rule/in.P, want.Rule)
	c.Near(t, "handbook", handbook/in.P, want.Handbook)
	c.Near(t, "times", handbook/rule, want.Times)
}

func loads(t *testing.T, p, c float64) (rule, handbook float64) {
	t.Helper()
	rule, err := capacity.SwampedLoad(p, c, capacity.RuleLoad)
	if err != nil {
		t.Fatal(err)
	}
	handbook, err = capacity.SwampedLoad(p, c, capacity.HandbookLoad)
	if err != nil {
		t.Fatal(err)
	}
	return rule, handbook
}

func runLoad(t *testing.T, c published.Case) {
	var in struct {
		P float64 `json:"persons_lb"`
		C float64 `json:"capacity_lb"`
	}
	var want struct{ Rule, Handbook float64 }
	c.Read(t, &in, &want)
	rule, handbook := loads(t, in.P, in.C)
	c.Near(t, "rule", rule, want.Rule)
	c.Near(t, "handbook", handbook, want.Handbook)
}

func runLoadParts(t *testing.T, c published.Case) {
	var in struct {
		P    float64 `json:"persons_lb"`
		Dead float64 `json:"dead_lb"`
	}
	var want struct{ Persons, Dead float64 }
	c.Read(t, &in, &want)
	persons, _ := loads(t, in.P, in.P)
	dead, _ := loads(t, 0, in.Dead)
	both, _ := loads(t, in.P, in.P+in.Dead)
	c.Near(t, "persons", persons, want.Persons)
	c.Near(t, "dead weight", dead, want.Dead)
	c.Near(t, "both", both, want.Persons+want.Dead)
}

// flotation works out the foam for given marks.
func flotation(t *testing.T, p capacity.Persons, s capacity.Swamped) capacity.Foam {
	t.Helper()
	f, err := capacity.Flotation(launch, p, s)
	if err != nil {
		t.Fatal(err)
	}
	if !f.Applies {
		t.Fatal(f.Sentence)
	}
	return f
}

func partsOf(lb map[string]float64) []capacity.Part {
	var parts []capacity.Part
	for id, w := range lb {
		parts = append(parts, capacity.Part{Name: msg.Plain(id), Material: id, KG: kg(w)})
	}
	return parts
}

func runChambers(t *testing.T, c published.Case) {
	var in struct {
		Chambers []float64 `json:"chambers_ft3"`
	}
	var want struct {
		Added float64 `json:"added_lb"`
	}
	c.Read(t, &in, &want)
	s := capacity.Swamped{Parts: partsOf(map[string]float64{"grp": 3000}), Foam: capacity.TwoPoundFoam}
	without := flotation(t, marked(650, 740), s)
	all := 0.0
	for _, v := range in.Chambers {
		s.Chambers = append(s.Chambers, capacity.Chamber{Name: "tank", VolumeM3: v * capacity.CubicFootM3})
		all += 62.4 * v
	}
	with := flotation(t, marked(650, 740), s)
	c.Near(t, "load added", with.Load.LB-without.Load.LB, want.Added)
	c.Near(t, "what the foam need not hold up", without.Total.LB-with.Total.LB, all-want.Added)
}

func runSubmerged(t *testing.T, c published.Case) {
	var in struct {
		Parts map[string]float64
		Net   float64
	}
	var want struct{ LB, FT3 float64 }
	c.Read(t, &in, &want)
	got := flotation(t, marked(650, 740), capacity.Swamped{Parts: partsOf(in.Parts), Foam: capacity.TwoPoundFoam})
	c.Near(t, "submerged", got.Boat.LB, want.LB)
	if in.Net != 0 {
		c.Near(t, "foam", got.Boat.LB/in.Net, want.FT3)
	}
}

func runFoam(t *testing.T, c published.Case) {
	var in struct {
		P         int `json:"persons_lb"`
		C         int `json:"capacity_lb"`
		Parts     map[string]float64
		Machinery float64
		LeadAcid  float64 `json:"lead_acid"`
		Foams     [][2]float64
	}
	var want struct {
		Boat, Machines, Load, Total, M3 float64
		Net, FT3                        []float64
	}
	c.Read(t, &in, &want)
	for i, foam := range in.Foams {
		got := flotation(t, marked(in.P, in.C), capacity.Swamped{
			Parts: partsOf(in.Parts), MachineryKG: kg(in.Machinery),
			Batteries: []capacity.Battery{{Name: msg.Plain("bank"), KG: kg(in.LeadAcid), LeadAcid: true}},
			Foam:      capacity.FoamKind{DensityKGM3: capacity.PoundsPerCubicFoot(foam[0]).KGM3, Moisture: foam[1]},
		})
		c.Near(t, "boat", got.Boat.LB, want.Boat)
		c.Near(t, "machinery", got.Machines.LB, want.Machines)
		c.Near(t, "load", got.Load.LB, want.Load)
		c.Near(t, "total", got.Total.LB, want.Total)
		c.Near(t, "net", got.Net.LBFT3, want.Net[i])
		c.Near(t, "volume", got.Volume.FT3, want.FT3[i])
		if i == 0 {
			c.Near(t, "m³", got.Volume.M3, want.M3)
			if got.Provide.M3 != 0.318 {
				t.Errorf("provide %v m³, want 0.318: whole litres, rounded up", got.Provide.M3)
			}
		}
	}
}

func runFactors(t *testing.T, c published.Case) {
	var in struct{ Factors map[string]float64 }
	var want struct {
		FromGravity map[string]float64 `json:"from_gravity"`
	}
	c.Read(t, &in, &want)
	all := capacity.Materials()
	if len(all) != len(in.Factors) {
		t.Errorf("%d materials, want %d", len(all), len(in.Factors))
	}
	for _, m := range all {
		if m.Factor != in.Factors[m.ID] || m.Source.Empty() || m.Status.Empty() {
			t.Errorf("%+v: want factor %v with source and status", m, in.Factors[m.ID])
		}
		k, err := capacity.SubmergedFactor(m.Gravity)
		if err != nil {
			t.Fatal(err)
		}
		c.Near(t, m.ID, k, want.FromGravity[m.ID])
		slack := 0.03
		if m.ID == "cedar" {
			slack = 0.081
		}
		if math.Abs(k-m.Factor) > slack {
			t.Errorf("%s: printed %v, by its gravity %v", m.ID, m.Factor, k)
		}
	}
}

func runBilgeTests(t *testing.T, c published.Case) {
	var in struct{}
	var want struct {
		Bilge  string
		Engine string `json:"engine_room_bilge"`
		Closed string `json:"closed_engine_room"`
	}
	c.Read(t, &in, &want)
	bilge, engine, closed := "", "", ""
	for _, f := range capacity.FoamTests() {
		if f.Bilge {
			bilge += f.ID
		}
		if f.EngineRoomBilge {
			engine += f.ID
		}
		if f.ClosedEngineRoom {
			closed += f.ID
		}
	}
	if bilge != want.Bilge || engine != want.Engine || closed != want.Closed {
		t.Errorf("bilge %s, engine room %s, closed %s; want %+v", bilge, engine, closed, want)
	}
}

func runNetBuoyancy(t *testing.T, c published.Case) {
	var in struct {
		Water []float64
		Foam  float64
	}
	var want struct{ Net []float64 }
	c.Read(t, &in, &want)
	for i, w := range in.Water {
		c.Near(t, "net", capacity.NetBuoyancy(w, in.Foam, 0), want.Net[i])
	}
}

func runLift(t *testing.T, c published.Case) {
	var in struct{ Volume, Water, Own float64 }
	var want struct{ Lift, Gross float64 }
	c.Read(t, &in, &want)
	c.Near(t, "lift", capacity.Lift(in.Volume, in.Water, in.Own), want.Lift)
	c.Near(t, "gross", capacity.Lift(in.Volume, in.Water, 0), want.Gross)
}
