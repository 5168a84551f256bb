package drawing_test

import (
	"os"
	"testing"

	"github.com/goccy/go-yaml"

	"ribband/core/cutting"
	"ribband/core/drawing"
	"ribband/core/hull"
	"ribband/core/wiring"
)

// demo reads the demo hulls' offsets.
func demo(t testing.TB) map[string]hull.Offsets {
	t.Helper()
	text, err := os.ReadFile("../../rules/offsets.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Offsets []struct {
			Hull     string
			Stations []hull.Station
		}
	}
	if err := yaml.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	hulls := map[string]hull.Offsets{}
	for _, h := range file.Offsets {
		hulls[h.Hull] = hull.Offsets{Stations: h.Stations}
	}
	return hulls
}

// drawer is anything that can be drawn.
type drawer interface {
	SVG(drawing.Format) (string, error)
}

func sedge(o map[string]hull.Offsets) drawing.Profile {
	return drawing.Profile{
		Boat: drawing.Boat{Name: "Sedge 46", Offsets: o["sedge-46"], Paint: drawing.Paint{Bottom: "#5d4a45"},
			Cockpit: drawing.Cockpit{Aft: 0.75, Fore: 3.35}, Drive: drawing.Drive{Kind: drawing.Shaft},
			Fittings: []drawing.Fitting{drawing.Dash{X: 3.15}, drawing.Tiller{}}},
		Drafts: &drawing.Drafts{Aft: 0.36, Fore: 0.33},
	}
}

func rush(o map[string]hull.Offsets) drawing.Profile {
	return drawing.Profile{
		Boat: drawing.Boat{Name: "Rush 54", Offsets: o["rush-54"],
			Paint: drawing.Paint{Hull: "#7d9182", Bottom: "#5d4a45", Cloth: "#2b3d58", Edging: "#e9e0c8",
				BootTop: &drawing.Band{Colour: "#f4f3ee", From: 0.43, To: 0.48}},
			Cockpit:  drawing.Cockpit{Aft: 0.85, Fore: 3.95},
			Top:      drawing.Top{Kind: drawing.FoldingHood, Aft: 1.0, Fore: 3.7, Height: 1.17},
			Fittings: []drawing.Fitting{drawing.Dash{X: 3.75}, drawing.Wheel{X: 3.45}},
			Drive:    drawing.Drive{Kind: drawing.Shaft}},
		Drafts: &drawing.Drafts{Aft: 0.42, Fore: 0.37}, Persons: []float64{1.2, 2.1, 3.05}, Freeboard: 0.4,
	}
}

func reed(o map[string]hull.Offsets) drawing.Profile {
	return drawing.Profile{
		Boat: drawing.Boat{Name: "Reed 65", Offsets: o["reed-65"],
			Paint: drawing.Paint{Hull: "#22324e", Bottom: "#7c2f26", Stripe: "#e9e0c8", Cloth: "#e9e0c8",
				Edging:  "#22324e",
				BootTop: &drawing.Band{Colour: "#b23a2e", From: 0.51, To: 0.57}},
			Cockpit:   drawing.Cockpit{Aft: 1.0, Fore: 4.85},
			Top:       drawing.Top{Kind: drawing.Canopy, Aft: 0.95, Fore: 4.65, Height: 1.21},
			Enclosure: drawing.FullEnclosure,
			Fittings:  []drawing.Fitting{drawing.Dash{X: 4.6}, drawing.Wheel{X: 4.3}, drawing.Thruster{}},
			Drive:     drawing.Drive{Kind: drawing.Shaft}},
		Drafts: &drawing.Drafts{Aft: 0.5, Fore: 0.46}, Persons: []float64{3.9},
		Notes: []string{"Two persons and stores aboard, bank at 80 %, fresh water."},
	}
}

func osier(o map[string]hull.Offsets) drawing.Profile {
	return drawing.Profile{
		Boat: drawing.Boat{Name: "Osier 76", Offsets: o["osier-76"],
			Paint: drawing.Paint{Hull: "#f4f3ee", Bottom: "#22324e", Stripe: "#1f4a3a", Coaming: "#8d5a34",
				BootTop: &drawing.Band{Colour: "#1f4a3a", From: 0.58, To: 0.64}},
			Cockpit:   drawing.Cockpit{Aft: 1.2, Fore: 5.85},
			Top:       drawing.Top{Kind: drawing.SolarTop, Aft: 1.2, Fore: 5.6, Height: 1.34},
			Enclosure: drawing.FrontEnclosure,
			Fittings:  []drawing.Fitting{drawing.Dash{X: 5.6}, drawing.Wheel{X: 5.3}},
			Drive:     drawing.Drive{Kind: drawing.Pod, X: 0.5}},
		Drafts: &drawing.Drafts{Aft: 0.6, Fore: 0.5}, Persons: []float64{1.7, 2.6, 4.9},
	}
}

// folded is the Rush with its hood shown folded too, 0.22 m above the sheer.
func folded(o map[string]hull.Offsets) drawing.Profile {
	p := rush(o)
	p.Top.Folded, p.Folded, p.Persons = 0.98, 0.72, nil
	return p
}

// cases are the drawings that are kept, by file name.
func cases(t testing.TB) map[string]drawer {
	t.Helper()
	o := demo(t)
	return map[string]drawer{
		"profile-sedge-46": sedge(o),
		"profile-rush-54":  rush(o),
		"profile-reed-65":  reed(o),
		"profile-osier-76": osier(o),
		"profile-folded":   folded(o),
		"plan-sedge-46":    planSedge(o),
		"plan-reed-65":     planReed(o),
		"plan-osier-76":    planOsier(o),
		"sections-sedge-46": drawing.Sections{Boat: drawing.Boat{Name: "Sedge 46", Offsets: o["sedge-46"]},
			Drafts: &drawing.Drafts{Aft: 0.36, Fore: 0.33}},
		"sections-osier-76": drawing.Sections{Boat: drawing.Boat{Name: "Osier 76", Offsets: o["osier-76"]},
			Drafts: &drawing.Drafts{Aft: 0.62, Fore: 0.5},
			Notes:  []string{"Sections are faired between the points of the table."}},
		"range":     rangeCurve(),
		"levers":    levers(),
		"trade-off": tradeOff(),
		"masses":    masses(),
		"solar": drawing.SolarYield{Name: "Osier 76",
			KWh:         [12]float64{0.34, 0.63, 1.13, 1.72, 2.1, 2.23, 2.14, 1.85, 1.3, 0.76, 0.38, 0.25},
			Assumptions: []string{"Panels of 600 W, lying flat, 70 % of their rating reaching the bank."}},
		"cuts-roll":   layout(t, clothPieces, cutting.Stock{Width: 1370}),
		"cuts-sheets": layout(t, panePieces, cutting.Stock{Width: 1220, Length: 2440, Kerf: 4}),
		"loom":        loom(t),
		"loom-board":  drawing.LoomBoard{Name: "Reed 65", Loom: loom(t).Loom, Notes: []string{"As tried."}},
		"zones":       zones(o),
		"flotation": drawing.Flotation{Name: "Reed 65", Offsets: o["reed-65"], Blocks: []drawing.FoamBlock{
			{Aft: 0.4, Fore: 2, Inboard: 0.05, Breadth: 0.26, Words: "aft: 43.5 l"},
			{Aft: 0.5, Fore: 2.1, Inboard: 0.4, Breadth: 0.2, Words: "below the seats"},
			{Aft: 4.7, Fore: 6.4, Inboard: 0.06, Breadth: 0.5, Words: "fore"}}},
		"hoop": drawing.Hoop{Name: "Tube 25 mm", Width: 2.2, Height: 1.2, Radius: 0.15, Crown: 0.1,
			Notes: []string{"As bent."}},
		"drilling": drilling(o),
		"zones-shell": drawing.Zones{Name: "Osier 76", Offsets: o["osier-76"], BootTop: 0.6,
			Zones: []drawing.Zone{{Kind: drawing.Topsides, Thickness: 3.84, Laminate: "Shell"}}},
	}
}

func planSedge(o map[string]hull.Offsets) drawing.Plan {
	c := drawing.Cockpit{Aft: 0.75, Fore: 3.35}
	return drawing.Plan{
		Boat: drawing.Boat{Name: "Sedge 46", Offsets: o["sedge-46"], Cockpit: c,
			Drive: drawing.Drive{Kind: drawing.Shaft},
			Fittings: []drawing.Fitting{drawing.Dash{X: 3.0}, drawing.Tiller{},
				drawing.Motor{Area: drawing.Area{Aft: 0.85, Fore: 1.2, Port: -0.15, Starboard: 0.15}},
				drawing.Bank{Area: drawing.Area{Aft: 1.4, Fore: 1.95, Port: -0.3, Starboard: 0.3}}}},
		Seats: drawing.Benches(c, 0.925, nil),
	}
}

func planReed(o map[string]hull.Offsets) drawing.Plan {
	c, wheel := drawing.Cockpit{Aft: 1.0, Fore: 4.85}, drawing.Wheel{X: 4.2, Y: 0.4}
	return drawing.Plan{
		Boat: drawing.Boat{Name: "Reed 65", Offsets: o["reed-65"], Cockpit: c,
			Paint: drawing.Paint{LaidDeck: "#c29a6b", Sole: "#b88a5a", PlankedSole: true, Cushion: "#c9bfa6",
				Coaming: "#7a4a26"},
			Drive: drawing.Drive{Kind: drawing.Shaft},
			Top:   drawing.Top{Kind: drawing.Canopy, Aft: 0.95, Fore: 4.65, Height: 1.21},
			Fittings: []drawing.Fitting{drawing.Dash{X: 4.5}, drawing.Table{Area: drawing.Area{
				Name: "drop-leaf table", Aft: 2.0, Fore: 3.0, Port: -0.35, Starboard: 0.35}}, wheel,
				drawing.Motor{Area: drawing.Area{Aft: 1.1, Fore: 1.5, Port: -0.18, Starboard: 0.18}},
				drawing.Bank{Area: drawing.Area{Aft: 3.5, Fore: 4.0, Port: -0.75, Starboard: -0.35}},
				drawing.Bank{Area: drawing.Area{Aft: 1.6, Fore: 2.0, Port: 0.4, Starboard: 0.8}}}},
		Seats: drawing.Benches(c, 1.1, &wheel),
	}
}

func planOsier(o map[string]hull.Offsets) drawing.Plan {
	c, wheel := drawing.Cockpit{Aft: 1.2, Fore: 5.85}, drawing.Wheel{X: 5.2, Y: -0.4}
	return drawing.Plan{
		Boat: drawing.Boat{Name: "Osier 76", Offsets: o["osier-76"], Cockpit: c,
			Paint: drawing.Paint{Deck: "#cfd4d2"}, Drive: drawing.Drive{Kind: drawing.Pod, X: 0.5},
			Top: drawing.Top{Kind: drawing.SolarTop, Aft: 1.2, Fore: 5.6, Height: 1.34},
			Fittings: []drawing.Fitting{drawing.Dash{X: 5.5}, wheel,
				drawing.Bank{Area: drawing.Area{Aft: 1.8, Fore: 2.6, Port: -0.35, Starboard: 0.35}}}},
		Seats: drawing.Benches(c, 1.15, &wheel),
	}
}

// rangeCurve is invented: power rises with the cube of speed and 120 W run besides.
func rangeCurve() drawing.RangeCurve {
	at := func(kn float64) drawing.RangePoint {
		nm := 8.2 * kn / (0.12 + 0.0145*kn*kn*kn)
		return drawing.RangePoint{SpeedKn: kn, RangeNm: nm * 0.8, ReserveNm: nm * 0.2}
	}
	r := drawing.RangeCurve{Name: "Rush 54", WantedNm: 15, Assumptions: []string{
		"Usable energy 8.2 kWh at 20 °C, a fifth of it kept in reserve; 120 W for lights and instruments.",
		"Head wind 5 kn, fresh water, clean bottom, no current, no waves.",
		"Preliminary; what the finished boat does on trial counts."}}
	for kn := 2.0; kn <= 6.5; kn += 0.25 {
		r.Points = append(r.Points, at(kn))
	}
	use := at(4.5)
	r.Use = &use
	return r
}

// tradeOff is invented.
func tradeOff() drawing.TradeOff {
	return drawing.TradeOff{Price: "price, 1000 EUR", Figure: "range, nm", Boats: []drawing.TradePoint{
		{Price: 56.1918, Figure: 35.2, Name: "Rush 54", Link: "row-0"},
		{Price: 60.69, Figure: 45.5, Name: "Rush 54", Link: "row-1", Taken: true},
		{Price: 68.93075, Figure: 64.7, Name: "Rush 54", Link: "row-2"},
		{Price: 103.4229, Figure: 69.2, Name: "Osier 76"}},
		Caption: []string{"Every other boat costs more or goes less far."}}
}

// levers are invented.
func levers() drawing.RightingLevers {
	gz := []float64{0, 0.052, 0.103, 0.152, 0.196, 0.231, 0.254, 0.262, 0.255, 0.233, 0.198, 0.152, 0.098, 0.037, -0.03}
	r := drawing.RightingLevers{Name: "Rush 54", GM: 0.6, Flooding: 27.5,
		Assumptions: []string{"Load as floating; solid masses that do not move; trim free."}}
	for i, v := range gz {
		r.Points = append(r.Points, drawing.RightingLever{HeelDeg: 5 * float64(i), GZ: v})
	}
	return r
}

// masses are invented.
func masses() drawing.Masses {
	return drawing.Masses{Name: "Reed 65", Groups: []drawing.MassGroup{
		{Name: "hull, deck and stiffening", Kg: 612}, {Name: "joinery and trim", Kg: 148.4},
		{Name: "battery bank", Kg: 154}, {Name: "motor, shaft, propeller and steering gear", Kg: 71},
		{Name: "top and windows", Kg: 63}, {Name: "systems", Kg: 48}, {Name: "persons", Kg: 300},
		{Name: "stores", Kg: 40}, {Name: "margin for growth", Kg: 7.5}}}
}

var clothPieces = []cutting.Piece{
	{Name: "roof, port", Width: 1150, Length: 3750}, {Name: "roof, starboard", Width: 1150, Length: 3750},
	{Name: "valance, side", Width: 220, Length: 3750}, {Name: "valance, side", Width: 220, Length: 3750},
	{Name: "valance, end", Width: 220, Length: 2100}, {Name: "valance, end", Width: 220, Length: 2100},
	{Name: "boot", Width: 420, Length: 2200}, {Name: "strap", Width: 60, Length: 700},
	{Name: "strap", Width: 60, Length: 700},
}

var panePieces = []cutting.Piece{
	{Name: "front window", Width: 620, Length: 1450, Turn: true},
	{Name: "side window", Width: 600, Length: 900, Turn: true},
	{Name: "side window", Width: 600, Length: 900, Turn: true},
	{Name: "side window", Width: 600, Length: 900, Turn: true},
	{Name: "side window", Width: 600, Length: 900, Turn: true},
	{Name: "aft window", Width: 620, Length: 1300, Turn: true},
}

func layout(t testing.TB, pieces []cutting.Piece, stock cutting.Stock) drawing.CutLayout {
	t.Helper()
	l, err := cutting.Lay(pieces, stock)
	if err != nil {
		t.Fatal(err)
	}
	return drawing.CutLayout{Material: "acrylic canvas & clear sheet", Layout: l}
}

// drilling is a deck with two plates that lie close to each other.
func drilling(o map[string]hull.Offsets) drawing.Drilling {
	return drawing.Drilling{Name: "Reed 65", Offsets: o["reed-65"], Plates: []drawing.DeckPlate{
		{X: 5.7, Y: -0.5, Words: "cleat forward, port: 4 × M6"}, {X: 5.7, Y: 0.5, Words: "cleat forward, starboard"},
		{X: 0.45, Y: -0.7, Words: "cleat aft, port"}, {X: 0.45, Y: 0.7, Words: "cleat aft, starboard"},
		{X: 6.0, Words: "bow roller, aft end"}, {X: 6.2, Words: "bow roller, fore end"}}}
}

// zones are those of the demo's heavy hulls.
func zones(o map[string]hull.Offsets) drawing.Zones {
	return drawing.Zones{Name: "Reed 65", Offsets: o["reed-65"], BootTop: 0.55, Zones: []drawing.Zone{
		{Kind: drawing.Topsides, Thickness: 3.84, Laminate: "Shell"},
		{Kind: drawing.BottomZone, Thickness: 8.01, Laminate: "Bottom below the boot top, on the shell"},
		{Kind: drawing.KeelZone, Thickness: 12.17, Laminate: "Strip along the keel, on the bottom"}},
		Notes: []string{"Laps of 50 mm."}}
}

func loom(t testing.TB) drawing.LoomSheet {
	t.Helper()
	l, err := wiring.NewSizer(wiring.DefaultRules(), wiring.Stock{}).Sheet([]wiring.Circuit{
		{Name: "drive", Function: wiring.Drive, Load: 110, Length: 1.5, Volts: 48, Peak: 57.6, Critical: true,
			Insulation: 105, From: "bank isolator", To: "motor controller"},
		{Name: "charger", Function: wiring.Charger, Load: 50, Length: 2.1, Volts: 48, Peak: 57.6, Critical: true,
			Insulation: 105, From: "bank isolator"},
		{Name: "navigation lights", Function: wiring.NavigationLights, Load: 1.2, Length: 5.4, Volts: 12,
			Critical: true, Insulation: 105},
		{Name: "cockpit lights", Function: wiring.CabinLights, Load: 1.5, Length: 4, Volts: 12, Insulation: 105},
		{Name: "bilge pump", Function: wiring.Pump, Load: 6, Length: 3.2, Volts: 12, Critical: true, Insulation: 105},
		{Name: "bilge blower", Function: wiring.Blower, Load: 4, Length: 2.8, Volts: 12, Critical: true,
			Insulation: 105},
		{Name: "motor display", Function: wiring.Instruments, Load: 0.5, Length: 3.6, Volts: 12, Critical: true,
			Insulation: 105},
		{Name: "refrigerator under the port seat", Function: wiring.Accessories, Load: 5, Length: 4.4, Volts: 12,
			Insulation: 105},
	})
	if err != nil {
		t.Fatal(err)
	}
	return drawing.LoomSheet{Name: "Reed 65", Loom: l, Bank: "battery bank, 48 V, 15.4 kWh"}
}
