package sheet

import (
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/transport"
)

// How a boat is wrapped and stowed, where the book does not say.
const (
	cradleM      = 0.15 // height of a skid under the keel; common practice, no source
	cradleKG     = 120  // of skid and lashings; common practice, no source
	containerGap = 0.03 // free at every side, m; common practice, no source
	wrapRidgeM   = 0.30 // of the film above the sheer, at least; common practice, no source
	wrapSkirtM   = 0.30 // of the film below the sheer; common practice, no source
	wrapWaste    = 0.15 // for seams and offcuts; common practice, no source
)

// Transport is how a boat leaves the yard: against the limits of the road where it goes, and in containers.
type Transport struct {
	Region msg.Message `json:"region"` // whose limits of the road they are
	// why nothing, or not all, can be said
	Problem msg.Message `json:"problem,omitzero"`
	// each limit with what the loaded trailer has
	Road []transport.Check `json:"road,omitempty"`
	// by size, whether the boat on its skid goes in
	Containers []transport.Fitting `json:"containers,omitempty"`
	// m² of film for a cover over the sheer
	CoverM2 float64 `json:"shrink_film_cover_m2,omitempty"`
	// m² of film around the whole boat
	WholeM2 float64 `json:"shrink_film_whole_m2,omitempty"`
	// what the figures rest on
	Notes    []msg.Message `json:"notes,omitempty"`
	Cautions []msg.Message `json:"cautions"`
}

// shipping reads the hull's length_m, beam_m, depth_m and trailer_base_m, and the figures mass_kg, trailer_kg and
// trailer_gross_kg; the heights follow from the offsets and the heights of what the boat has. Without them it says so.
func shipping(e *engine.Engine, b *fit.Build) Transport {
	t := Transport{Cautions: transport.Cautions()}
	length, beam := e.Field(b, figures.HullLength), e.Field(b, figures.HullBeam)
	depth, base := e.Field(b, figures.HullDepth), e.Field(b, figures.HullTrailerBase)
	mass := e.Figure(b, figures.MassKg)
	if length == 0 || beam == 0 || depth == 0 || mass == 0 || len(e.Pack.Hulls[b.State.HullID].Offsets) == 0 {
		t.Problem = msg.New("sheet.no-transport")
		return t
	}
	// with the top as it is shipped by road, and up: both are checked, for bridges and for whoever forgets to fold it
	down := e.Figures.LevelHeight(b.State, pack.Road)
	up := max(down, e.Figures.LevelHeight(b.State, pack.Up))
	if base > 0 {
		t.road(e, b, transport.Load{BedM: base, HeightUpM: up, HeightDownM: down, BeamM: beam, TrailerWidthM: beam,
			BoatKG: mass, TrailerKG: e.Figure(b, figures.TrailerKg),
			TrailerMostKG: e.Figure(b, figures.TrailerGrossKg)})
	}
	// a container takes the boat on a skid, without the trailer
	cargo := transport.Cargo{LengthM: length, WidthM: beam, HeightM: cradleM + down, MassKG: mass + cradleKG,
		GapM: containerGap}
	var err error
	if t.Containers, err = transport.FitAll(cargo); err != nil {
		t.fail(err)
		return t
	}
	cover, err1 := transport.WrapArea(transport.Wrap{LengthM: length, BeamM: beam, RidgeM: max(wrapRidgeM, down-depth),
		SkirtM: wrapSkirtM, Waste: wrapWaste})
	whole, err2 := transport.WrapArea(transport.Wrap{LengthM: length, BeamM: beam, HeightM: down, Whole: true,
		Waste: wrapWaste})
	if err1 != nil || err2 != nil {
		t.fail(msg.Fault("sheet.film-problem", msg.Words("problem", msg.Of(first(err1, err2)))))
		return t
	}
	t.CoverM2, t.WholeM2 = cover, whole
	t.Notes = append(t.Notes,
		msg.New("sheet.film", msg.Number("cover", cover, 1), msg.Number("whole", whole, 1),
			msg.Number("waste", 100*wrapWaste, 0)),
		msg.New("sheet.skid", msg.Number("mm", 1000*cradleM, 0), msg.Number("kg", cradleKG, 0),
			msg.Number("gap", 1000*containerGap, 0)))
	return t
}

func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// fail states a problem behind those that were there before.
func (t *Transport) fail(err error) {
	t.Problem = msg.Sentences(t.Problem, msg.New("sheet.problem", msg.Words("problem", msg.Of(err))))
}

// road checks the loaded trailer against the limits of the boat's region. Without a trailer of the yard its mass is not
// known.
func (t *Transport) road(e *engine.Engine, b *fit.Build, l transport.Load) {
	region := e.Region(b)
	if region == nil || region.Limits == "" {
		t.Notes = append(t.Notes, msg.New("sheet.no-road-limits"))
		return
	}
	r, err := transport.FindRegion(region.Limits)
	if err != nil {
		t.fail(err)
		return
	}
	own := l.TrailerKG > 0 && l.TrailerMostKG > 0
	if !own {
		l.TrailerKG, l.TrailerMostKG = 1, 50_000 // the checks of the mass are left out below
	}
	checks, err := transport.OnRoad(r, l)
	if err != nil {
		t.fail(err)
		return
	}
	t.Region = r.Name
	for _, c := range checks {
		if own || c.Unit != "kg" {
			t.Road = append(t.Road, c)
		}
	}
	if !own {
		t.Notes = append(t.Notes, msg.New("sheet.no-trailer"))
	}
	t.Notes = append(t.Notes, msg.New("sheet.measure-width"), r.Note())
}
