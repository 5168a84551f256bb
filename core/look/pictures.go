// Package look goes from a boat to what drawing needs: profile and plan from the hull's offsets and what the options
// say of themselves, and the curves of speed, range and righting levers. What it takes from an answer it does not
// compute again; core/drawing makes the lines.
package look

import (
	"fmt"
	"math"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/hull"
)

// Picture is a drawing of a boat as SVG.
type Picture struct {
	ID    string
	Title string
	SVG   string
	Small bool // drawn to stand beside another
}

// Profile draws the boat from the side, floating as computed; empty where the book has no offsets of the hull.
func Profile(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	return profile(e, b, f, false)
}

// YardProfile is the profile with the draughts to the base line.
func YardProfile(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	return profile(e, b, f, true)
}

func profile(e *engine.Engine, b *fit.Build, f drawing.Format, baseLine bool) (Picture, error) {
	v := newView(e, b)
	if len(v.offsets.Stations) == 0 {
		return Picture{}, nil
	}
	in := drawing.Profile{
		Name: v.name, Offsets: v.offsets, Drafts: v.drafts(), Hull: v.colours["hull"], Bottom: v.colours["bottom"],
		Rail: v.colours["rail"], Stripe: v.colours["stripe"],
		BootTop: v.bootTop(), Cockpit: v.cockpit(), Coaming: v.colours["coaming"], Top: v.top(),
		Enclosure: v.enclosure(), Drive: v.drive(), Thruster: v.has["thruster"],
		Dash: v.at("dash", 0.62), Wheel: v.wheel(), Tiller: v.has["tiller"], Persons: v.persons(), BaseLine: baseLine,
		Seat: e.Figures.SeatHeight(b.State), Notes: []string{"With the persons of the intended use on board."},
	}
	for _, h := range e.Figures.Poles(b.State) {
		in.Poles = append(in.Poles, drawing.Pole{X: h.X, Top: h.Z})
	}
	if in.Drafts != nil {
		in.AirDraft, in.Freeboard, in.Draft = v.engine.Computed(v.build, figures.FloatingAirDraft), v.engine.Computed(v.build, figures.FloatingFreeboard),
			v.engine.Computed(v.build, figures.FloatingDraft)
	}
	return Draw("profile", "Profile", in, f)
}

// Plan draws the boat from above.
func Plan(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	v := newView(e, b)
	if len(v.offsets.Stations) == 0 {
		return Picture{}, nil
	}
	cockpit := v.cockpit()
	in := drawing.Plan{
		Name: v.name, Offsets: v.offsets, Cockpit: cockpit, Deck: v.colours["deck"], Sole: v.colours["sole"],
		Coaming: v.colours["coaming"], Cushion: v.colours["cushion"],
		Rail: v.colours["rail"], Laid: v.laid(), Dash: v.at("dash", 0.62), Drive: v.drive(), Top: v.top(),
		Tiller: v.has["tiller"],
	}
	if x := v.wheel(); x > 0 {
		in.Wheel = &drawing.Place{X: x, Y: v.wheelSide()}
	}
	in.Seats = drawing.Benches(cockpit, v.engine.Field(v.build, figures.HullBeam)/2, in.Wheel)
	if v.has["table"] {
		middle := (cockpit.Aft + cockpit.Fore) / 2
		in.Table = &drawing.Area{Name: "Table", Aft: middle - 0.35, Fore: middle + 0.35, Port: -0.25, Starboard: 0.25}
	}
	return Draw("plan", "Plan", in, f)
}

// SectionsPicture draws the body plan with the water at rest.
func SectionsPicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	v := newView(e, b)
	if len(v.offsets.Stations) == 0 {
		return Picture{}, nil
	}
	in := drawing.Sections{Name: v.name, Offsets: v.offsets, Drafts: v.drafts()}
	if in.Drafts != nil {
		in.Notes = []string{"The water halfway along; dashed, where it meets each section."}
	}
	return Draw("sections", "Sections", in, f)
}

// RangePicture plots range over speed, with the speed of the use.
func RangePicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	curve, ok := e.Figures.RangeCurve(b.State, 24)
	if !ok {
		return Picture{}, nil
	}
	in := drawing.RangeCurve{Name: e.Pack.Hulls[b.State.HullID].Title, Assumptions: []string{
		fmt.Sprintf("Head wind of %s, %g\u00a0%% of the usable energy kept in reserve, bank at %g\u00a0°C and new; flat, deep water.", figures.HeadWind(), 100*figures.Reserve, figures.BankC)}}
	for _, p := range curve {
		in.Points = append(in.Points, drawing.RangePoint{SpeedKn: p.SpeedKn, RangeNm: p.RangeNm,
			ReserveNm: p.ReserveNm})
	}
	v := newView(e, b)
	if v.engine.Figure(v.build, figures.SolarW) > 0 {
		in.Assumptions = append(in.Assumptions, "With the sun of an average July day for the hours under way.")
	}
	in.WantedNm = v.engine.Used(v.build, figures.UseRange)
	if nm := v.engine.Computed(v.build, figures.PowerRange); nm > 0 {
		in.Use = &drawing.RangePoint{SpeedKn: v.engine.Used(v.build, figures.UseSpeed), RangeNm: nm, ReserveNm: v.engine.Computed(v.build, figures.PowerReserve)}
	}
	return Draw("range", "Range at each speed", in, f)
}

// LeversPicture plots the righting levers of the loaded boat; empty where they cannot be computed.
func LeversPicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	levers, gm, ok := e.Figures.Levers(b.State)
	if !ok {
		return Picture{}, nil
	}
	in := drawing.RightingLevers{Name: e.Pack.Hulls[b.State.HullID].Title, GM: gm,
		Assumptions: []string{"As a decked hull, free to trim; an open boat floods when its sheer is under water."}}
	for _, l := range levers {
		in.Points = append(in.Points, drawing.RightingLever{HeelDeg: l.Heel * 180 / math.Pi, GZ: l.GZ})
	}
	return Draw("levers", "Righting levers", in, f)
}

// MassesPicture shows the masses by section.
func MassesPicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	groups := massGroups(e, b)
	if len(groups) == 0 {
		return Picture{}, nil
	}
	return Draw("masses", "Weight by section",
		drawing.Masses{Name: e.Pack.Hulls[b.State.HullID].Title, Groups: groups}, f)
}

// ForCustomer are the pictures of the customer's paper: the boat, and small its range and what its panels bring.
func ForCustomer(e *engine.Engine, b *fit.Build) ([]Picture, error) {
	list, err := Drawn(e, b, false, Profile)
	if err != nil {
		return nil, err
	}
	plots, err := Drawn(e, b, true, RangePicture, SolarPicture)
	return append(list, plots...), err
}

// smallWidth is that of a picture that stands beside another on paper, so that its words can be read there.
const smallWidth = 380

// Drawn draws pictures of a boat, small ones to stand beside another.
func Drawn(e *engine.Engine, b *fit.Build, small bool,
	draw ...func(*engine.Engine, *fit.Build, drawing.Format) (Picture, error)) ([]Picture, error) {
	var f drawing.Format
	if small {
		f.Width = smallWidth
	}
	var list []Picture
	for _, d := range draw {
		p, err := d(e, b, f)
		if err != nil {
			return nil, err
		}
		p.Small = small
		list = append(list, p)
	}
	return list, nil
}

// massGroups sums the mass table: the base boat, each section's options, the persons; then the growth with which the
// boat is floated.
func massGroups(e *engine.Engine, b *fit.Build) []drawing.MassGroup {
	items := e.Figures.MassTable(b.State)
	if len(items) == 0 {
		return nil
	}
	var groups []drawing.MassGroup
	at := map[string]int{}
	for _, it := range items {
		name := it.Name
		if it.Option >= 0 {
			name = e.Pack.Sections[e.Pack.Slots[e.Pack.Options[it.Option].Slot].Section].Title
		}
		if _, ok := at[name]; !ok {
			at[name] = len(groups)
			groups = append(groups, drawing.MassGroup{Name: name})
		}
		groups[at[name]].Kg += it.Mass
	}
	boat := 0.0
	for _, it := range items[:len(items)-1] { // the persons are last
		boat += it.Mass
	}
	return append(groups, drawing.MassGroup{Name: fmt.Sprintf("Growth, %g\u00a0%% of the boat",
		100*figures.GrowthShare), Kg: figures.GrowthShare * boat})
}

// Draw draws one picture.
func Draw(id, title string, in interface {
	SVG(drawing.Format) (string, error)
}, f drawing.Format) (Picture, error) {
	f.ID = id + f.ID
	svg, err := in.SVG(f)
	if err != nil {
		return Picture{}, fmt.Errorf("drawing: %w", err)
	}
	return Picture{ID: id, Title: title, SVG: svg}, nil
}

// view is a boat as it is drawn.
type view struct {
	engine  *engine.Engine
	build   *fit.Build
	name    string
	offsets hull.Offsets
	length  float64
	has     map[string]bool
	colours map[string]drawing.Colour
}

func newView(e *engine.Engine, b *fit.Build) *view {
	h := &e.Pack.Hulls[b.State.HullID]
	v := &view{engine: e, build: b, name: h.Title, has: map[string]bool{}, colours: map[string]drawing.Colour{}}
	for _, s := range h.Offsets {
		v.offsets.Stations = append(v.offsets.Stations, hull.Station{X: s.X, Z: s.Z, Y: s.Y})
	}
	if n := len(h.Offsets); n > 0 {
		v.length = h.Offsets[n-1].X - h.Offsets[0].X
	}
	for o, n := range b.State.Counts {
		if word := e.Pack.Options[o].Drawn; n > 0 && word != "" {
			v.has[word] = true
			if c := e.Pack.Options[o].Colour; c != "" {
				v.colours[word] = drawing.Colour(c)
			}
		}
	}
	return v
}

func (v *view) drafts() *drawing.Drafts {
	if len(v.build.State.Faults) > 0 || v.engine.Computed(v.build, figures.FloatingDisplacement) == 0 {
		return nil
	}
	return &drawing.Drafts{Aft: v.engine.Computed(v.build, figures.FloatingDraftAft), Fore: v.engine.Computed(v.build, figures.FloatingDraftFore)}
}

// Where the offsets say nothing, parts stand where they do on a launch of this kind: shares of its length.

func (v *view) at(word string, share float64) float64 {
	if !v.has[word] {
		return 0
	}
	return v.offsets.Stations[0].X + share*v.length
}

func (v *view) cockpit() drawing.Cockpit {
	aft := v.offsets.Stations[0].X
	return drawing.Cockpit{Aft: aft + 0.12*v.length, Fore: aft + 0.72*v.length}
}

// bootTopM is the breadth of the boot top, m.
const bootTopM = 0.08

func (v *view) bootTop() *drawing.Band {
	if !v.has["boot-top"] {
		return nil
	}
	from := v.engine.Field(v.build, figures.HullBootTop)
	return &drawing.Band{Colour: v.colours["boot-top"], From: from, To: from + bootTopM}
}

func (v *view) top() drawing.Top {
	c := v.cockpit()
	t := drawing.Top{Aft: c.Aft + 0.04*v.length, Fore: c.Fore - 0.02*v.length, Height: v.engine.Figure(v.build, figures.TopHeightM),
		Colour: v.colours["cloth"]}
	switch {
	case v.has["top-folding"]:
		t.Kind = drawing.FoldingUp
	case v.has["top-canopy"]:
		t.Kind = drawing.Canopy
	case v.has["top-hard"]:
		t.Kind, t.Colour = drawing.HardTop, v.colours["top-hard"]
	case v.has["top-solar"]:
		t.Kind, t.Colour = drawing.SolarTop, v.colours["top-solar"]
	default:
		return drawing.Top{}
	}
	return t
}

func (v *view) enclosure() drawing.Enclosure {
	switch {
	case v.has["enclosure-full"]:
		return drawing.FullEnclosure
	case v.has["enclosure-sides"]:
		return drawing.SideEnclosure
	case v.has["enclosure-front"]:
		return drawing.FrontEnclosure
	}
	return drawing.NoEnclosure
}

func (v *view) drive() drawing.Drive {
	x := v.offsets.Stations[0].X + 0.06*v.length
	switch {
	case v.has["drive-pod"]:
		return drawing.Drive{Kind: drawing.Pod, X: x}
	case v.has["drive-leg"]:
		return drawing.Drive{Kind: drawing.Leg, X: x}
	case v.has["drive-shaft"]:
		return drawing.Drive{Kind: drawing.Shaft, X: x}
	}
	return drawing.Drive{}
}

func (v *view) wheel() float64 {
	if v.has["wheel-side"] || v.has["wheel-centre"] {
		return v.offsets.Stations[0].X + 0.57*v.length
	}
	return 0
}

func (v *view) wheelSide() float64 {
	if v.has["wheel-centre"] {
		return 0
	}
	return 0.2 * v.engine.Field(v.build, figures.HullBeam)
}

// persons sit along the cockpit, as many as the use has, up to eight on the drawing.
func (v *view) persons() []float64 {
	n := min(int(v.engine.Used(v.build, figures.UsePersons)), 8)
	c := v.cockpit()
	var places []float64
	for i := range n {
		places = append(places, c.Aft+(float64(i)+0.8)*(c.Fore-c.Aft-0.6)/float64(n))
	}
	return places
}

func (v *view) laid() drawing.Colour {
	if !v.has["laid-deck"] {
		return ""
	}
	return v.colours["laid-deck"]
}
