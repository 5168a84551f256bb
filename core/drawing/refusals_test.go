package drawing_test

import (
	"math"
	"strings"
	"testing"

	"ribband/core/cutting"
	"ribband/core/drawing"
)

// Each input cannot be drawn; the error names what is wrong.
func TestRefusals(t *testing.T) {
	o := demo(t)
	nan, inf := math.NaN(), math.Inf(1)
	profile := func(change func(*drawing.Profile)) drawer {
		p := reed(o)
		change(&p)
		return p
	}
	fitted := func(f drawing.Fitting) drawer {
		p := planReed(o)
		p.Fittings = []drawing.Fitting{f}
		return p
	}
	for _, c := range []struct {
		d    drawer
		want string
	}{
		{drawing.Profile{}, "drawing the profile: the offsets: the table has 0 stations"},
		{profile(func(p *drawing.Profile) { p.Drafts = &drawing.Drafts{Aft: nan, Fore: 0.4} }),
			"draught halfway along is NaN"},
		{profile(func(p *drawing.Profile) { p.Drafts = &drawing.Drafts{Aft: 9, Fore: 9} }),
			"draught halfway along is 9"},
		{profile(func(p *drawing.Profile) { p.Drafts = &drawing.Drafts{Aft: 2, Fore: -1} }), "trim"},
		{profile(func(p *drawing.Profile) { p.Top.Height = inf }), "top's height above the sheer is +Inf"},
		{profile(func(p *drawing.Profile) { p.Top.Kind = "sail" }), `the top "sail" is unknown`},
		{profile(func(p *drawing.Profile) { p.Top.Aft, p.Top.Fore = 3, 2 }), "top reaches from 3 to 2 m"},
		{profile(func(p *drawing.Profile) { p.Top.Kind = drawing.NoTop }), "hangs from a top"},
		{profile(func(p *drawing.Profile) { p.Enclosure = "wall" }), `the enclosure "wall" is unknown`},
		{profile(func(p *drawing.Profile) { p.Hull = "navy" }), `the colour of the hull is "navy"`},
		{profile(func(p *drawing.Profile) { p.Hull = `#12345"` }), "the colour of the hull"},
		{profile(func(p *drawing.Profile) { p.Persons = []float64{99} }), "person is 99 m"},
		{profile(func(p *drawing.Profile) { p.Cockpit = drawing.Cockpit{} }), "cockpit reaches from 0 to 0 m"},
		{profile(func(p *drawing.Profile) { p.AirDraft = nan }), "air draught is NaN"},
		{profile(func(p *drawing.Profile) { p.Drive = drawing.Drive{Kind: "paddle"} }),
			`the drive "paddle" is unknown`},
		{profile(func(p *drawing.Profile) { p.BootTop.To = 0.1 }), "boot top's upper edge"},
		{drawing.Plan{}, "drawing the plan: the offsets"},
		{profile(func(p *drawing.Profile) { p.Top.Folded = 0.2 }), "height of the folded hood is 0.2 m above the base"},
		{profile(func(p *drawing.Profile) { p.Folded = nan }), "air draught with the hood folded is NaN"},
		{profile(func(p *drawing.Profile) { p.Cloth = "navy" }), `the colour of the cloth is "navy"`},
		{fitted(drawing.Table{Area: drawing.Area{Name: "drop-leaf table", Aft: 2, Fore: 99}}),
			"drop-leaf table's fore end is 99 m"},
		{fitted(drawing.Table{Area: drawing.Area{Aft: 2, Fore: 3}, Colour: "oak"}), `the colour of the table is "oak"`},
		{fitted(drawing.Bank{Area: drawing.Area{Aft: 2, Fore: 3, Port: nan}}), "area's port side is NaN"},
		{fitted(drawing.Motor{Area: drawing.Area{Aft: 3, Fore: 2}}), "area reaches from 3 to 2 m"},
		{fitted(drawing.Wheel{X: 1, Y: 7}), "wheel's distance"},
		{fitted(drawing.Dash{X: inf}), "dash's place is +Inf m"},
		{drawing.Sections{}, "drawing the sections: the offsets"},
		{drawing.RangeCurve{}, "it has 0 points"},
		{drawing.RangeCurve{Points: []drawing.RangePoint{{2, nan, 0}, {3, 1, 0}}}, "range of the point 1 is NaN"},
		{drawing.RangeCurve{Points: []drawing.RangePoint{{3, 1, 0}, {3, 1, 0}}}, "give rising speeds"},
		{drawing.RangeCurve{Points: []drawing.RangePoint{{2, 1, 0}, {3, 1, 0}}, Use: &drawing.RangePoint{SpeedKn: inf}},
			"speed of the point of the use is +Inf"},
		{drawing.TradeOff{}, "it has 0 boats"},
		{drawing.TradeOff{Boats: []drawing.TradePoint{{Price: 1, Figure: nan}, {Price: 2}}}, "figure of boat 1 is NaN"},
		{drawing.TradeOff{Boats: []drawing.TradePoint{{Price: 2}, {Price: 1}}}, "give rising prices"},
		{drawing.RightingLevers{}, "there are 0 points"},
		{drawing.RightingLevers{Points: []drawing.RightingLever{{0, 0}, {10, inf}}}, "lever of point 2 is +Inf m"},
		{drawing.RightingLevers{Points: []drawing.RightingLever{{10, 0}, {0, 0}}}, "give rising heels"},
		{drawing.Masses{}, "there are 0 groups"},
		{drawing.Masses{Groups: []drawing.MassGroup{{"bank", -1}}}, `mass of group 1, "bank", is -1 kg`},
		{drawing.Masses{Groups: []drawing.MassGroup{{"bank", nan}}}, "is NaN kg"},
		{drawing.SolarYield{KWh: [12]float64{0, nan}}, "yield of Feb is NaN"},
		{drawing.SolarYield{KWh: [12]float64{11: -1}}, "yield of Dec is -1 kWh"},
		{drawing.CutLayout{}, "stock's width is 0 mm"},
		{drawing.LoomSheet{}, "it has 0 wires"},
		{drawing.LoomBoard{}, "it has 0 wires"},
		{drawing.Zones{}, "drawing the laminate zones: the offsets"},
		{drawing.Hoop{}, "width is 0 m"},
		{drawing.Flotation{Offsets: demo(t)["reed-65"]}, "there are no blocks"},
		{drawing.Flotation{Offsets: demo(t)["reed-65"], Blocks: []drawing.FoamBlock{{Aft: 3, Fore: 2}}},
			"aft end of block 1 is 3 m"},
		{drawing.Hoop{Width: 2, Height: 1, Radius: 1.2}, "radius of the bends is 1.2 m"},
		{drawing.Drilling{}, "drawing the drilling plan: the offsets"},
		{drawing.Drilling{Offsets: demo(t)["reed-65"]}, "there are no plates"},
		{drawing.Drilling{Offsets: demo(t)["reed-65"], Plates: []drawing.DeckPlate{{X: 3}, {X: 3, Y: 2}}},
			"place across of plate 2 is 2 m"},
		{drawing.Zones{Offsets: demo(t)["reed-65"], BootTop: 0.5}, "there are no zones"},
		{drawing.Zones{Offsets: demo(t)["reed-65"], BootTop: 500, Zones: zones(demo(t)).Zones},
			"height of the bottom is 500 m"},
		{drawing.Zones{Offsets: demo(t)["reed-65"], BootTop: 0.5, Zones: []drawing.Zone{{Kind: drawing.Topsides,
			Thickness: nan}}}, "thickness of the topsides is NaN mm"},
	} {
		svg, err := c.d.SVG(drawing.Format{})
		if err == nil || !strings.Contains(err.Error(), c.want) || svg != "" {
			t.Errorf("%T: error %v, want %q", c.d, err, c.want)
		}
	}
	l := loom(t)
	l.Loom.Wires[3].Length = nan
	if _, err := l.SVG(drawing.Format{}); err == nil ||
		!strings.Contains(err.Error(), `wire 4, "charger": length is NaN m`) {
		t.Errorf("a wire without length: %v", err)
	}
	cut := layout(t, clothPieces, cutting.Stock{Width: 1370})
	cut.Layout.Placed[1].Y = inf
	if _, err := cut.SVG(drawing.Format{}); err == nil ||
		!strings.Contains(err.Error(), `piece 2, "roof, starboard": place along is +Inf mm`) {
		t.Errorf("a piece nowhere: %v", err)
	}
}
