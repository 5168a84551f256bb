package capacity

import "ribband/core/msg"

// FoamKind is a flotation material.
type FoamKind struct {
	DensityKGM3 float64 // its own density; 0 for air
	Moisture    float64 // share of its own weight that it takes up as water, 0.05 for 5 %
}

// TwoPoundFoam is the usual closed-cell foam of 2 lb/ft³ with 5 % moisture: 60.3 lb/ft³ net.
//
// Source: third-party notes on the handbook's method; the parting into density and moisture is computed.
var TwoPoundFoam = FoamKind{DensityKGM3: 2 * densityKGM3, Moisture: 0.05}

// NetBuoyancy is what a unit of volume of a flotation material holds up: B = ρw - ρf - m·ρf.
//
// ρw density of the water, ρf density of the material, m its moisture as a share of ρf; B in the unit of the densities.
//
// Valid: 0 <= ρf < ρw, 0 <= m; finite. Source: US Coast Guard, Boatbuilder's Handbook, Flotation, modified level; foam
// makers' pages.
func NetBuoyancy(water, foam, moisture float64) float64 { return water - foam - float64(moisture*foam) }

func (k FoamKind) net(in *inputs) Density {
	in.number("the density of the foam", k.DensityKGM3, 0, 500, "kg/m³",
		"take it from the maker's sheet, in kg/m³; 2 lb/ft³ is 32 kg/m³")
	in.number("the moisture of the foam", k.Moisture, 0, 0.5, "", "give a share: 0.05 is 5 %")
	return KilogramsPerCubicMetre(NetBuoyancy(WaterKGM3, k.DensityKGM3, k.Moisture))
}

// FoamTest is a test of flotation material with the places where it is asked for.
type FoamTest struct {
	ID               string
	Medium           msg.Message
	Time             msg.Message
	Temperature      msg.Message
	EngineRoomBilge  bool // in the bilge of an engine room
	ClosedEngineRoom bool // in an engine room not open to the atmosphere
	Bilge            bool
}

// FoamTests are the tests of flotation material. It passes where its buoyant force falls by no more than 5 %, measured
// as ASTM D 2842 says. An "engine room" holds a fixed gasoline or diesel engine (183.110), so an electric launch has
// none and only the bilge column can bite; foam in a sealed compartment is exempt.
//
// Valid: basic flotation of inboard boats. Source: 33 CFR 183.110, .112, .114; the heading of the first column follows
// 183.112(a).
func FoamTests() []FoamTest {
	warm, mild := msg.New("capacity.foam-warm"), msg.New("capacity.foam-mild")
	day, month := msg.New("capacity.foam-day"), msg.New("capacity.foam-month")
	petrol, oil, soda := msg.New("capacity.foam-petrol"), msg.New("capacity.foam-oil"), msg.New("capacity.foam-soda")
	return []FoamTest{
		{ID: "a", Medium: msg.New("capacity.foam-vapour"), Time: month, Temperature: warm, ClosedEngineRoom: true},
		{ID: "b", Medium: petrol, Time: day, Temperature: mild, Bilge: true},
		{ID: "c", Medium: petrol, Time: month, Temperature: mild, EngineRoomBilge: true},
		{ID: "d", Medium: oil, Time: day, Temperature: mild, Bilge: true},
		{ID: "e", Medium: oil, Time: month, Temperature: mild, EngineRoomBilge: true},
		{ID: "f", Medium: soda, Time: day, Temperature: mild, Bilge: true},
		{ID: "g", Medium: soda, Time: month, Temperature: mild, EngineRoomBilge: true},
	}
}

// BilgeHeightM is how high above the lowest point where liquid collects the bilge reaches, boat at rest: 4 in.
//
// Source: 33 CFR 183.110.
const BilgeHeightM = 4 * FootM / 12

// BilgeNote says where foam must be of the tested kind.
//
// Valid: boats without a gasoline or diesel engine. Source: 33 CFR 183.110, .112, .114.
func BilgeNote() msg.Message {
	ids := ""
	for _, t := range FoamTests() {
		if t.Bilge {
			ids += "(" + t.ID + ")"
		}
	}
	return msg.New("capacity.foam-bilge", msg.Number("mm", BilgeHeightM*1000, 0), msg.Text("tests", ids))
}
