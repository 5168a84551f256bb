package look

import (
	"slices"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/pack"
)

// boat is a boat on its way to the drawing: the input that all views share, and what the words need to fill it.
// Lengths are in m, in the axes of the offsets.
type boat struct {
	drawing.Boat
	engine *engine.Engine
	build  *fit.Build
	helm   *drawing.Wheel // nil: it is steered by a tiller, or not drawn
	length float64        // of the hull, m
	tops   []int          // the options that are drawn as a top
}

// option is one that is drawn.
type option struct {
	index  int // in the pack
	colour drawing.Colour
	of     drawing.Surface // blank where its word has none
}

// Where the offsets say nothing, things stand where they do on a launch of this kind: shares of the length from the
// aft end of the hull, and of the beam. Common practice, no source.
const (
	cockpitAft  = 0.12
	cockpitFore = 0.72
	topInset    = 0.04 // of the aft edge of a top from the cockpit's
	topFore     = 0.02
	driveAt     = 0.06
	dashAt      = 0.62
	wheelAt     = 0.57
	wheelOff    = 0.2 // of the beam, to starboard
)

// Common practice, no source; m.
const (
	bootTopM = 0.08 // breadth of the boot top
	tableM   = 0.7  // length of a table
	tableOff = 0.25 // half of its breadth
)

// newBoat makes the input of the views; nil where the book has no offsets of the hull.
//
// It goes through the words rather than the options, so that what is drawn in front does not depend on the order of
// the book. Of several options of one word each is put on the boat: two banks are two boxes.
func newBoat(e *engine.Engine, build *fit.Build) *boat {
	h := &e.Pack.Hulls[build.State.HullID]
	n := len(h.Offsets)
	if n == 0 {
		return nil
	}
	b := &boat{engine: e, build: build, length: h.Offsets[n-1].X - h.Offsets[0].X}
	b.Name, b.Offsets = h.Title, figures.Lines(h)
	b.Cockpit = drawing.Cockpit{Aft: b.along(cockpitAft), Fore: b.along(cockpitFore)}
	aboard := map[string][]option{}
	for o, count := range build.State.Counts {
		if def := &e.Pack.Options[o]; count > 0 && def.Drawn != "" {
			aboard[def.Drawn] = append(aboard[def.Drawn], option{o, drawing.Colour(def.Colour), surface(def)})
		}
	}
	for _, w := range words {
		for _, o := range aboard[w.Word] {
			if w.put == nil { // too thin for a view of the boat
				continue
			}
			w.put(b, &o)
		}
	}
	return b
}

// along is a place at a share of the length, m from the origin of the offsets.
func (b *boat) along(share float64) float64 { return b.Offsets.Stations[0].X + float64(share*b.length) }

// fit puts a fitting on board, in front of those before.
func (b *boat) fit(f drawing.Fitting) { b.Fittings = append(b.Fittings, f) }

// steer puts the steering wheel so far to starboard, m.
func (b *boat) steer(y float64) {
	b.helm = &drawing.Wheel{X: b.along(wheelAt), Y: y}
	b.fit(*b.helm)
}

// bootTop stands on the height that the hull states; the book computes the area of the bottom up to there.
func (b *boat) bootTop(c drawing.Colour) *drawing.Band {
	from := b.engine.Field(b.build, figures.HullBootTop)
	return &drawing.Band{Colour: c, From: from, To: from + bootTopM}
}

// top stands over the cockpit but for a little at its ends; its height is that which the book totals for the gunwale.
// Where it folds, its highest point folded is that of the book's heights which is there only then.
func (b *boat) top(kind drawing.TopKind, o *option) drawing.Top {
	b.tops = append(b.tops, o.index)
	t := drawing.Top{Kind: kind, Aft: b.Cockpit.Aft + float64(topInset*b.length),
		Fore:   b.Cockpit.Fore - float64(topFore*b.length),
		Height: b.engine.Figure(b.build, figures.TopHeightM), Colour: o.colour}
	if kind == drawing.FoldingHood {
		for _, h := range b.engine.Figures.Heights(b.build.State) {
			if h.Option == o.index && slices.Contains(h.States, pack.Folded) && !slices.Contains(h.States, pack.Up) {
				t.Folded = max(t.Folded, h.Z)
			}
		}
	}
	return t
}

// table stands amidships in the cockpit, whatever its kind: the book does not say how large it is.
func (b *boat) table() drawing.Area {
	middle := float64((b.Cockpit.Aft + b.Cockpit.Fore) / 2)
	return drawing.Area{Aft: middle - tableM/2, Fore: middle + tableM/2, Port: -tableOff,
		Starboard: tableOff}
}

// room is where an option lies, by its place and extent.
func (b *boat) room(o *option) drawing.Area {
	e := b.engine.Figures.OptionExtent(b.build.State, o.index)
	return drawing.Area{Aft: e.X - float64(e.Length/2), Fore: e.X + float64(e.Length/2), Port: e.Y - float64(e.Width/2),
		Starboard: e.Y + float64(e.Width/2)}
}

// below is a drive that hangs below the hull.
func (b *boat) below(kind drawing.DriveKind) drawing.Drive {
	return drawing.Drive{Kind: kind, X: b.along(driveAt)}
}

// beam of the hull, m.
func (b *boat) beam() float64 { return b.engine.Field(b.build, figures.HullBeam) }

// drafts is how the boat floats, m above the base line; nil where that is not known, and then no water is drawn.
func (b *boat) drafts() *drawing.Drafts {
	// a boat that does not float has zeros for figures, which would be drawn as one that lies on the water
	if len(b.build.State.Faults) > 0 || b.computed(figures.FloatingDisplacement) == 0 {
		return nil
	}
	return &drawing.Drafts{Aft: b.computed(figures.FloatingDraftAft), Fore: b.computed(figures.FloatingDraftFore)}
}

// computed is a computed figure; 0 where the book has none.
func (b *boat) computed(id figures.ID) float64 { return b.engine.Computed(b.build, id) }

// mostSeated is how many persons the profile shows.
const mostSeated = 8

// persons sit along the cockpit, as many as the use has, m from the origin; more than eight would hide each other.
// They show that people have room under the top, not where they sit.
func (b *boat) persons() []float64 {
	// the first sits clear of the aft end of the cockpit, the last clear of the dash
	n := min(int(b.engine.Used(b.build, figures.UsePersons)), mostSeated)
	c := b.Cockpit
	var places []float64
	for i := range n {
		places = append(places, c.Aft+(float64(i)+0.8)*(c.Fore-c.Aft-0.6)/float64(n))
	}
	return places
}

// poles are what stands up by itself, such as lights and staffs: of the high points of the boat when it is up those of
// no top, which is drawn as such.
func (b *boat) poles() (list []drawing.Pole) {
	for _, h := range b.engine.Figures.Heights(b.build.State) {
		if slices.Contains(h.States, pack.Up) && !slices.Contains(b.tops, h.Option) {
			list = append(list, drawing.Pole{X: h.X, Top: h.Z})
		}
	}
	return list
}
