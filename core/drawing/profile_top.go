package drawing

import "math"

// behind draws what stands in the cockpit, behind the side of the hull.
func (p *profile) behind() {
	if p.Drafts != nil {
		low := p.lowestSheer()
		p.extension(pt{p.left - 13, low.y}, low)
	}
	if p.Top.up() {
		p.frame()
	}
	if p.Dash != 0 {
		p.dash()
	}
	for _, x := range p.Persons {
		p.person(x)
	}
	for _, o := range p.Poles {
		foot, head := p.at(o.X, p.l.sheerAt.Predict(o.X)), p.at(o.X, o.Top)
		p.line(foot, head, "stroke", ink, "stroke-width", "1.2")
		p.ellipse(head, 1.8, 1.8, "fill", ink)
	}
	if p.Wheel != 0 {
		p.wheel()
	}
	if p.Tiller {
		p.tiller()
	}
}

const tillerLength = 0.85 // m; common practice, no source

// tiller rises from the rudder head on the aft deck to the hand of the helm.
func (p *profile) tiller() {
	x := p.l.aft + 0.12
	z := p.l.sheerAt.Predict(x)
	d := p.pen().move(p.at(x, z-0.05)).to(p.at(x, z+0.09)).curve(p.at(x+0.25, z+0.13), p.at(x+0.55, z+0.15),
		p.at(x+tillerLength, z+0.16))
	for _, s := range [][2]string{{ink, p.number(max(2.4, 0.05*p.scale))},
		{wood, p.number(max(1.4, 0.05*p.scale-1.2))}} {
		p.path(d.String(), "fill", "none", "stroke", s[0], "stroke-width", s[1], "stroke-linecap", "round")
	}
}

// wheel is seen edge on, raked, on its column to the dash.
func (p *profile) wheel() {
	at := p.at(p.Wheel, p.l.sheerAt.Predict(p.Wheel)+0.08)
	p.group("g", func() {
		p.line(at, pt{at.x + 0.3*p.scale, at.y}, "stroke", ink, "stroke-width", "1.4")
		p.ellipse(at, 0.035*p.scale, 0.17*p.scale, "fill", "none", "stroke", wood, "stroke-width",
			p.number(max(1.2, 0.025*p.scale)))
	}, "transform", "rotate(20 "+p.number(at.x)+" "+p.number(at.y)+")")
}

const dashHeight = 0.19 // above the sheer, m

func (p *profile) dash() {
	x, z := p.Dash, p.l.sheerAt.Predict(p.Dash)
	fore := min(x+0.55, p.l.fore)
	d := p.pen().move(p.at(x-0.03, z-0.2)).to(p.at(x+0.02, z+0.15)).curve(p.at(x+0.03, z+0.19), p.at(x+0.08, z+0.19),
		p.at(x+0.16, z+0.18))
	d.curve(p.at(x+0.3, z+0.16), p.at(x+0.42, z+0.1),
		p.at(fore, p.l.sheerAt.Predict(fore)+0.02)).to(p.at(fore, z-0.2)).close()
	p.path(d.String(), "fill", timber, "stroke", dark, "stroke-width", "0.9")
}

// person draws a seated grown-up facing forward, by usual proportions: 0.88 m from the seat to the crown of the head.
// Common practice, no source.
func (p *profile) person(x float64) {
	seat := p.seat(x)
	body := p.pen().move(p.at(x-0.13, seat)).curve(p.at(x-0.19, seat+0.15), p.at(x-0.19, seat+0.4),
		p.at(x-0.15, seat+0.5))
	body.curve(p.at(x-0.13, seat+0.56), p.at(x-0.08, seat+0.59), p.at(x-0.04, seat+0.6)).to(p.at(x-0.035, seat+0.68),
		p.at(x+0.045, seat+0.68), p.at(x+0.045, seat+0.6))
	body.curve(p.at(x+0.1, seat+0.585), p.at(x+0.13, seat+0.54), p.at(x+0.13, seat+0.46))
	body.curve(p.at(x+0.13, seat+0.3), p.at(x+0.11, seat+0.15), p.at(x+0.13, seat)).close()
	p.path(body.String(), "fill", strong)
	p.ellipse(p.at(x+0.02, seat+0.76), 0.082*p.scale, 0.112*p.scale, "fill", strong)
}

// seat is the height of the seats at x above the base line.
func (p *profile) seat(x float64) float64 {
	if p.Seat > 0 {
		return p.Seat
	}
	return p.l.sheerAt.Predict(x) - 0.28
}

// soffit is the height of the underside of the roof at x, above the base line.
func (p *profile) soffit(x float64) float64 { return p.roof(x) - p.thickness() }

func (p *profile) thickness() float64 {
	if p.Top.Kind == HardTop || p.Top.Kind == SolarTop {
		return 0.06
	}
	return 0.02
}

// roof is the height of the top at x: a shallow arch, its crown in the middle.
func (p *profile) roof(x float64) float64 {
	drop := map[TopKind]float64{FoldingUp: 0.14, Canopy: 0.08, HardTop: 0.05, SolarTop: 0.05}[p.Top.Kind]
	s := 2*(x-p.Top.Aft)/(p.Top.Fore-p.Top.Aft) - 1
	crown := p.crown()
	if p.Top.Kind == SolarTop {
		crown -= panelHeight
	}
	return crown - drop*s*s
}

const panelHeight = 0.04 // of solar panels above the roof, m

// footing is the height at which the legs of the top stand at x: on the coaming, or on the deck beyond it.
func (p *profile) footing(x float64) float64 {
	z := p.l.sheerAt.Predict(x)
	if x > p.Cockpit.Aft+0.2 && x < p.Cockpit.Fore-0.1 {
		z += p.Cockpit.Coaming * 0.6
	}
	return z
}

// legs are the places of the stanchions: at most 1.5 m apart, the ends a little inside the roof.
func (p *profile) legs() []float64 {
	aft, fore := p.Top.Aft+0.12, p.Top.Fore-0.12
	n := max(1, int(math.Ceil((fore-aft)/1.5)))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = aft + (fore-aft)*float64(i)/float64(n)
	}
	return out
}

// foreFoot is where the foremost leg or the front window stands.
func (p *profile) foreFoot() float64 {
	return min(max(p.Cockpit.Fore, p.Top.Fore-0.12), p.Top.Fore+0.35)
}

func (p *profile) frame() {
	p.panes()
	tube := []string{"fill", "none", "stroke", metal, "stroke-width", p.number(max(1.3, 0.028*p.scale)),
		"stroke-linecap", "round"}
	if p.Top.Kind == FoldingUp {
		p.bows(tube)
		return
	}
	legs := p.legs()
	for i, x := range legs {
		foot := x
		if i == len(legs)-1 {
			foot = p.foreFoot()
		}
		p.line(p.at(foot, p.footing(foot)), p.at(x, p.soffit(x)), tube...)
	}
}

// bows fan out from one hinge on the coaming; straps hold the ends down.
func (p *profile) bows(tube []string) {
	hinge := (p.Top.Aft + p.Top.Fore) / 2
	root := p.at(hinge, p.footing(hinge))
	for _, s := range []float64{0, 0.36, 0.68, 1} {
		x := p.Top.Aft + s*(p.Top.Fore-p.Top.Aft)
		p.line(root, p.at(x, p.soffit(x)), tube...)
	}
	for _, ends := range [][2]float64{{p.Top.Aft, max(p.l.aft+0.1, p.Top.Aft-0.15)}, {p.Top.Fore, p.foreFoot()}} {
		p.line(p.at(ends[0], p.soffit(ends[0])), p.at(ends[1], p.footing(ends[1])), "stroke", soft, "stroke-width",
			"0.9")
	}
}

// panes are clear windows between coaming and roof.
func (p *profile) panes() {
	if p.Enclosure == NoEnclosure {
		return
	}
	legs := p.legs()
	last := len(legs) - 1
	front := min(0.45, (legs[last]-legs[last-1])/2)
	if p.Enclosure != SideEnclosure {
		p.pane(legs[last]-front, legs[last], p.foreFoot()-front, p.foreFoot())
	}
	if p.Enclosure == FrontEnclosure {
		return
	}
	for i := range last {
		to, foot := legs[i+1], legs[i+1]
		if i == last-1 {
			to, foot = legs[last]-front, p.foreFoot()-front
			if p.Enclosure == SideEnclosure {
				to, foot = legs[last], p.foreFoot()
			}
		}
		p.pane(legs[i], to, legs[i], foot)
	}
}

// pane draws one pane with a border, from its ends at the roof and at the coaming.
func (p *profile) pane(aft, fore, aftFoot, foreFoot float64) {
	for _, in := range []float64{0, 0.06} {
		d := p.pen().move(p.at(aftFoot+in, p.footing(aftFoot)+in)).to(p.at(aft+in, p.soffit(aft)-in),
			p.at(fore-in, p.soffit(fore)-in), p.at(foreFoot-in, p.footing(foreFoot)+in)).close()
		p.path(d.String(), "fill", water, "fill-opacity", "0.1", "stroke", soft, "stroke-width", "0.7",
			"stroke-linejoin", "round")
	}
}

// top draws the roof, or the bundle of a folded top.
func (p *profile) top() {
	switch p.Top.Kind {
	case FoldingDown:
		p.bundle()
	case FoldingUp:
		p.cloth(0)
	case Canopy:
		p.cloth(0.15)
	case HardTop, SolarTop:
		p.slab()
	}
}

// cloth draws cloth over the frame; a valance of some depth, with a straight hem, hangs from its edge.
func (p *profile) cloth(valance float64) {
	t := p.Top
	hem := func(x float64) float64 { return p.roof(x) - 0.06 - valance }
	k := p.pen().fair(p.between(t.Aft, t.Fore, 12, p.roof)).to(p.at(t.Fore, hem(t.Fore)))
	p.path(p.hemLine(k, hem).close().String(), "fill", t.Colour.or(clothNavy), "stroke", ink, "stroke-width", "1",
		"stroke-linejoin", "round")
	if t.Edging != "" {
		k := p.hemLine(p.pen().move(p.at(t.Fore, hem(t.Fore))), hem)
		p.path(k.String(), "fill", "none", "stroke", string(t.Edging), "stroke-width",
			p.number(max(1.2, 0.025*p.scale)))
	}
	for _, s := range []float64{0.36, 0.68} { // seams over the bows
		x := t.Aft + s*(t.Fore-t.Aft)
		p.line(p.at(x, p.roof(x)), p.at(x, hem(x)), "stroke", dark, "stroke-opacity", "0.45", "stroke-width", "0.8")
	}
}

// hemLine goes along the hem of the top from its fore end aft, which runs parallel to the roof.
func (p *profile) hemLine(k *pen, hem func(x float64) float64) *pen {
	t := p.Top
	const pieces = 12
	for i := pieces - 1; i >= 0; i-- {
		x := t.Aft + (t.Fore-t.Aft)*float64(i)/pieces
		k.to(p.at(x, hem(x)))
	}
	return k
}

func (p *profile) slab() {
	t := p.Top
	k := p.pen().fair(p.between(t.Aft+0.03, t.Fore-0.03, 10, p.roof))
	k.curve(p.at(t.Fore+0.02, p.roof(t.Fore)), p.at(t.Fore+0.02, p.soffit(t.Fore)), p.at(t.Fore-0.05, p.soffit(t.Fore)))
	k.fair(reversed(p.between(t.Aft+0.05, t.Fore-0.05, 10, p.soffit)))
	k.curve(p.at(t.Aft-0.02, p.soffit(t.Aft)), p.at(t.Aft-0.02, p.roof(t.Aft)), p.at(t.Aft+0.03, p.roof(t.Aft)))
	p.path(k.close().String(), "fill", t.Colour.or(hullWhite), "stroke", ink, "stroke-width", "1")
	if t.Kind != SolarTop {
		return
	}
	n := max(1, int((t.Fore-t.Aft-0.3)/0.75))
	w := (t.Fore - t.Aft - 0.3) / float64(n)
	for i := range n {
		a := t.Aft + 0.15 + float64(i)*w + 0.03
		b := a + w - 0.06
		d := p.pen().move(p.at(a, p.roof(a)+0.015)).to(p.at(b, p.roof(b)+0.015), p.at(b, p.roof(b)+panelHeight),
			p.at(a, p.roof(a)+panelHeight)).close()
		p.path(d.String(), "fill", "#27374a", "stroke", ink, "stroke-width", "0.7")
	}
}

// bundleTail is the aft end of the folded bundle at its upper edge.
func (p *profile) bundleTail() pt {
	if p.Top.up() {
		return p.at(p.Top.Aft, p.crown())
	}
	return p.at(p.Top.Aft, p.l.sheerAt.Predict(p.Top.Aft)+p.Top.Height)
}

// bundle draws bows and cloth folded aft in their boot, parallel to the sheer.
func (p *profile) bundle() {
	t := p.Top
	hinge := (t.Aft + t.Fore) / 2
	tail, depth := max(t.Aft, p.l.aft+0.05), min(0.13, 0.6*t.Height)
	head := max(hinge-0.3, tail+0.3)
	sag := p.crown() - p.l.sheerAt.Predict(hinge)
	upper := func(x float64) float64 { return p.l.sheerAt.Predict(x) + sag }
	lower := func(x float64) float64 { return upper(x) - depth }
	tube := []string{"fill", "none", "stroke", metal, "stroke-width", p.number(max(1.3, 0.028*p.scale)),
		"stroke-linecap", "round"}
	p.line(p.at(hinge, p.footing(hinge)), p.at(head-0.1, upper(head)-depth/2), tube...)
	p.line(p.at(tail+0.2, p.footing(tail+0.2)), p.at(tail+0.2, lower(tail+0.2)), tube...)
	k := p.pen().fair(p.between(tail, head, 6, upper))
	k.curve(p.at(head+0.14, upper(head)), p.at(head+0.14, lower(head)), p.at(head, lower(head)))
	k.fair(p.between(head, tail, 6, lower))
	k.curve(p.at(tail-0.09, lower(tail)), p.at(tail-0.09, upper(tail)), p.at(tail, upper(tail))).close()
	p.path(k.String(), "fill", t.Colour.or(clothNavy), "stroke", ink, "stroke-width", "1")
	for _, s := range []float64{0.25, 0.55, 0.85} { // ties
		x := tail + s*(head-tail)
		p.line(p.at(x, upper(x)), p.at(x, lower(x)), "stroke", t.Edging.or(metal), "stroke-width", "1.4")
	}
}
