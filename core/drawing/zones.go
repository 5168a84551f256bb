package drawing

import (
	"math"
	"slices"
	"strings"

	"ribband/core/hull"
	"ribband/core/msg"
)

// Zones is where the laminates of a hull lie: its side and its section halfway along, with the thickness of each zone.
type Zones struct {
	Name    string
	Offsets hull.Offsets
	// Height above the base line up to which the bottom is laid, m.
	BootTop float64
	Zones   []Zone // each kind at most once, from the thinnest
	Notes   []string
}

// Zone is a part of the hull that is as thick all over.
type Zone struct {
	Kind      ZoneKind
	Thickness float64 // mm, cured, of all laminates that lie upon each other there
	Laminate  string  // what of them is laid in this zone, in words
}

// ZoneKind is where a zone is.
type ZoneKind string

// The zones of a hull. Topsides are laid with the transom, in one piece.
const (
	Topsides   ZoneKind = "topsides"
	BottomZone ZoneKind = "bottom"
	KeelZone   ZoneKind = "keel"
)

// zones is a drawing of zones on its way onto paper.
type zones struct {
	Zones
	*canvas
	l *lines
}

// SVG draws the zones. Thicknesses are drawn much larger than the hull, or nobody would see them. The error names what
// is wrong with offsets or a thickness.
func (in Zones) SVG(f Format) (string, error) {
	c, err := f.canvas("laminate zones")
	if err != nil {
		return "", err
	}
	k := &check{kind: c.kind}
	z := &zones{in, c, newLines(k, in.Offsets)}
	if k.err == nil {
		k.within("height of the bottom", in.BootTop, z.l.low, z.l.high, "m")
	}
	if len(in.Zones) == 0 {
		k.fail("there are no zones; give one")
	}
	for _, zone := range in.Zones {
		k.within("thickness of the "+string(zone.Kind), zone.Thickness, 0, 200, "mm")
	}
	if k.err != nil {
		return "", k.err
	}
	// the side shows how far each zone goes, the section how they lie upon each other
	y := z.section(z.side(10))
	// a row for each number, which a screen reader gets as the description
	rows := make([]string, len(in.Zones))
	for i, zone := range in.Zones {
		rows[i] = c.words.Say("drawing.zone", msg.Count("n", i+1), msg.Choice("zone", string(zone.Kind)),
			z.long("height", in.BootTop), msg.Number("mm", zone.Thickness, 1), msg.Text("laminate", zone.Laminate))
	}
	notes := append(slices.Clone(rows), c.words.Say("drawing.zones-note"))
	c.height = c.notes(12, y, c.width-12, append(notes, in.Notes...)) + 10
	return c.finish(in.Name, msg.New("drawing.zones", msg.Text("zones", strings.Join(rows, "; "))), caution)
}

// stroke is how broad a zone is drawn, by its thickness; 0 for a zone that there is not.
func (z *zones) stroke(kind ZoneKind) float64 {
	for _, zone := range z.Zones.Zones {
		if zone.Kind == kind {
			return max(1.5, 0.6*zone.Thickness)
		}
	}
	return 0
}

// number of a zone, at a place within it.
func (z *zones) mark(at pt, kind ZoneKind) {
	for i, zone := range z.Zones.Zones {
		if zone.Kind == kind {
			z.ellipse(at, 9, 9, "fill", paper, "stroke", ink, "stroke-width", "1")
			z.text(pt{at.x, at.y + 4}, middle, z.words.Number(float64(i+1), 0), "font-weight", "600")
		}
	}
}

// side draws the hull from starboard, bow to the right, its upper edge at y, and gives the y below it.
func (z *zones) side(y float64) float64 {
	const left, right = 22.0, 14.0
	scale := (z.width - left - right) / z.l.length()
	at := func(x, h float64) pt {
		return pt{left + float64(scale*(float64(x)-z.l.aft)), y + float64(scale*(z.l.high-float64(h)))}
	}
	along := func(heights []float64) (list []pt) {
		for i, x := range z.l.x {
			list = append(list, at(x, heights[i]))
		}
		return list
	}
	last := len(z.l.x) - 1
	keel := along(z.l.keel)
	body := z.pen().fair(along(z.l.sheer)).to(keel[last]).fair(reversed(keel)).close().String()
	z.path(body, "fill", HullWhite)
	inside := z.clip("side", body)
	low, edge := z.l.low-1, z.BootTop
	below := z.pen().move(at(z.l.aft-1, edge)).to(at(z.l.fore+1, edge), at(z.l.fore+1, low), at(z.l.aft-1, low)).close()
	// clipped by the side of the hull, so that half of each stroke lies within it
	z.group("g", func() {
		if z.stroke(BottomZone) > 0 {
			z.path(below.String(), "fill", strong, "fill-opacity", "0.55")
			z.line(at(z.l.aft-1, edge), at(z.l.fore+1, edge), "stroke", ink, "stroke-width", "1", "stroke-dasharray",
				"6 3")
		}
		if w := z.stroke(KeelZone); w > 0 {
			z.path(z.pen().fair(keel).String(), "fill", "none", "stroke", ink, "stroke-width", z.number(2*w))
		}
		// the transom, as thick as the topsides that it is laid with
		z.line(keel[0], at(z.l.aft, z.l.sheer[0]), "stroke", ink, "stroke-width", z.number(2*z.stroke(Topsides)))
	}, "clip-path", inside)
	z.path(body, "fill", "none", "stroke", ink, "stroke-width", "1.2", "stroke-linejoin", "round")
	// numbers where each zone is broadest
	x := z.l.middle()
	z.mark(at(x, (z.l.sheerAt.Predict(x)+edge)/2), Topsides)
	z.mark(at(z.l.aft+float64(0.22*z.l.length()), (z.l.bottomAt.Predict(x)+edge)/2), BottomZone)
	z.mark(pt{at(x, 0).x, at(x, z.l.keelAt.Predict(x)).y + 12}, KeelZone)
	z.mark(at(z.l.aft, (z.l.sheer[0]+edge)/2), Topsides)
	return at(0, z.l.low).y + 30
}

// section draws the section halfway along from y down, and gives the y below it. What is thicker is drawn over what it
// lies on.
func (z *zones) section(y float64) float64 {
	// a station of the table, and none between two, so that it is the mould's own shape
	i := 0
	for j, x := range z.l.x {
		if math.Abs(x-z.l.middle()) < math.Abs(z.l.x[i]-z.l.middle()) {
			i = j
		}
	}
	st := z.l.o.Stations[i]
	top := st.Z[len(st.Z)-1]
	// larger than the side, whose laminates nobody could tell apart at its scale
	scale := min((z.width-48)/(2*z.l.widest), 260)
	at := func(b, h float64) pt {
		return pt{float64(z.width/2) + float64(scale*b), y + float64(scale*(top-float64(h)))}
	}
	// from one sheer down to the keel and up to the other, in one line
	k := z.pen()
	for _, side := range []float64{-1, 1} {
		// the table has one side, and the other is its image
		var curve []pt
		for j := range st.Z {
			curve = append(curve, at(side*st.Y[j], st.Z[j]))
		}
		if side < 0 {
			curve = reversed(curve)
			k.fair(curve)
			continue
		}
		k.to(curve[0]).fair(curve)
	}
	d := k.String()
	box := func(half, height float64) string {
		low := st.Z[0] - 0.2
		return z.pen().move(at(-half, height)).to(at(half, height), at(half, low), at(-half, low)).close().String()
	}
	// a little beyond the hull on all sides, so that no box cuts a stroke in half
	outer := z.l.widest + 0.2
	for _, part := range []struct {
		kind         ZoneKind
		half, height float64
	}{{Topsides, outer, top + 0.2}, {BottomZone, outer, z.BootTop}, {KeelZone, z.l.widest / 5, top}} {
		if w := z.stroke(part.kind); w > 0 {
			z.path(d, "fill", "none", "stroke", ink, "stroke-width", z.number(w), "clip-path",
				z.clip("section-"+string(part.kind), box(part.half, part.height)))
		}
	}
	// beside the places that they name, inside of the hull, where it is empty
	half, _ := breadthAt(st, (top+z.BootTop)/2)
	z.mark(pt{at(half, 0).x - 20, at(0, (top+z.BootTop)/2).y}, Topsides)
	half, _ = breadthAt(st, (st.Z[0]+z.BootTop)/2)
	z.mark(pt{at(half, 0).x - 20, at(0, (st.Z[0]+z.BootTop)/2).y - 12}, BottomZone)
	z.mark(pt{at(0, 0).x, at(0, st.Z[0]).y - 22}, KeelZone)
	return at(0, st.Z[0]).y + 14
}
