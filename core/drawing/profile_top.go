package drawing

// behind draws what stands in the cockpit, behind the side of the hull, from the far side to the near one. The hull is
// drawn over it afterwards and hides the legs of persons and the feet of frames.
func (p *profile) behind() {
	if p.Drafts != nil {
		low := p.lowestSheer()
		p.extension(pt{p.left - 13, low.y}, low)
	}
	if p.Top.Kind != NoTop {
		p.frame()
	}
	for _, f := range p.Fittings {
		f.behindPersons(p)
	}
	for _, x := range p.Persons {
		p.person(x)
	}
	for _, o := range p.Poles {
		foot, head := p.at(o.X, p.l.sheerAt.Predict(o.X)), p.at(o.X, o.Top)
		p.line(foot, head, "stroke", ink, "stroke-width", "1.2")
		p.ellipse(head, 1.8, 1.8, "fill", ink)
	}
	for _, f := range p.Fittings {
		f.beforePersons(p)
	}
}

// person draws a seated grown-up facing forward, by usual proportions: 0.88 m from the seat to the crown of the head.
// Common practice, no source.
func (p *profile) person(x float64) {
	seat := p.SeatAt(x, p.Seat)
	body := p.pen().move(p.at(x-0.13, seat)).curve(p.at(x-0.19, seat+0.15), p.at(x-0.19, seat+0.4),
		p.at(x-0.15, seat+0.5))
	body.curve(p.at(x-0.13, seat+0.56), p.at(x-0.08, seat+0.59), p.at(x-0.04, seat+0.6)).to(p.at(x-0.035, seat+0.68),
		p.at(x+0.045, seat+0.68), p.at(x+0.045, seat+0.6))
	body.curve(p.at(x+0.1, seat+0.585), p.at(x+0.13, seat+0.54), p.at(x+0.13, seat+0.46))
	body.curve(p.at(x+0.13, seat+0.3), p.at(x+0.11, seat+0.15), p.at(x+0.13, seat)).close()
	p.path(body.String(), "fill", strong)
	p.ellipse(p.at(x+0.02, seat+0.76), 0.082*p.scale, 0.112*p.scale, "fill", strong)
}

// frame draws panes and tubes: bows of a hood, else stanchions, the foremost of them leaning to the fore end of the
// cockpit.
func (p *profile) frame() {
	p.panes()
	tube := []string{"fill", "none", "stroke", Metal, "stroke-width", p.number(max(1.3, 0.028*p.scale)),
		"stroke-linecap", "round"}
	if p.Top.Kind == FoldingHood {
		p.bows(tube)
		return
	}
	legs := p.Legs()
	for i, x := range legs {
		foot := x
		if i == len(legs)-1 {
			foot = p.ForeFoot()
		}
		p.line(p.at(foot, p.Footing(foot)), p.at(x, p.Soffit(x)), tube...)
	}
}

// bows fan out from one hinge on the coaming, as they fold; straps hold the ends down. A quarter apart at the ends and
// a third in the middle is how a hood is cut: common practice, no source.
func (p *profile) bows(tube []string) {
	hinge := (p.Top.Aft + p.Top.Fore) / 2
	root := p.at(hinge, p.Footing(hinge))
	for _, s := range []float64{0, 0.36, 0.68, 1} {
		x := p.Top.Aft + float64(s*(p.Top.Fore-p.Top.Aft))
		p.line(root, p.at(x, p.Soffit(x)), tube...)
	}
	for _, ends := range [][2]float64{{p.Top.Aft, max(p.l.aft+0.1, p.Top.Aft-0.15)}, {p.Top.Fore, p.ForeFoot()}} {
		p.line(p.at(ends[0], p.Soffit(ends[0])), p.at(ends[1], p.Footing(ends[1])), "stroke", soft, "stroke-width",
			"0.9")
	}
}

// panes are clear windows between coaming and roof, one between two stanchions, and the front window raked to the fore
// foot. A front alone has no sides, and side curtains run to the foremost stanchion.
func (p *profile) panes() {
	if p.Enclosure == NoEnclosure {
		return
	}
	legs := p.Legs()
	last := len(legs) - 1
	front := min(0.45, (legs[last]-legs[last-1])/2)
	if p.Enclosure != SideEnclosure {
		p.pane(legs[last]-front, legs[last], p.ForeFoot()-front, p.ForeFoot())
	}
	if p.Enclosure == FrontEnclosure {
		return
	}
	for i := range last {
		to, foot := legs[i+1], legs[i+1]
		if i == last-1 {
			to, foot = legs[last]-front, p.ForeFoot()-front
			if p.Enclosure == SideEnclosure {
				to, foot = legs[last], p.ForeFoot()
			}
		}
		p.pane(legs[i], to, legs[i], foot)
	}
}

// pane draws one pane with a border, from its ends at the roof and at the coaming, m. The border is the band of cloth
// or the frame in which the clear sheet is set.
func (p *profile) pane(aft, fore, aftFoot, foreFoot float64) {
	for _, in := range []float64{0, 0.06} {
		d := p.pen().move(p.at(aftFoot+in, p.Footing(aftFoot)+in)).to(p.at(aft+in, p.Soffit(aft)-in),
			p.at(fore-in, p.Soffit(fore)-in), p.at(foreFoot-in, p.Footing(foreFoot)+in)).close()
		p.path(d.String(), "fill", water, "fill-opacity", "0.1", "stroke", soft, "stroke-width", "0.7",
			"stroke-linejoin", "round")
	}
}

// top draws the roof.
func (p *profile) top() {
	switch p.Top.Kind {
	case FoldingHood:
		p.cloth(0)
	case Canopy:
		p.cloth(0.15)
	case HardTop, SolarTop:
		p.slab()
	}
}

// cloth draws cloth over the frame; a valance of some depth, m, with a straight hem, hangs from its edge. Cloth is
// drawn 60 mm deep at its edge, where it turns down over the last bow.
func (p *profile) cloth(valance float64) {
	t := p.Top
	hem := func(x float64) float64 { return p.Roof(x) - 0.06 - valance }
	k := p.pen().fair(p.between(t.Aft, t.Fore, 12, p.Roof)).to(reversed(p.between(t.Aft, t.Fore, 12, hem))...)
	p.path(k.close().String(), "fill", p.Cloth.Or(ClothNavy), "stroke", ink, "stroke-width", "1",
		"stroke-linejoin", "round")
	if p.Edging != "" {
		edge := reversed(p.between(t.Aft, t.Fore, 12, hem))
		p.path(p.pen().move(edge[0]).to(edge[1:]...).String(), "fill", "none", "stroke", string(p.Edging),
			"stroke-width", p.number(max(1.2, 0.025*p.scale)))
	}
	for _, s := range []float64{0.36, 0.68} { // seams over the bows
		x := t.Aft + float64(s*(t.Fore-t.Aft))
		p.line(p.at(x, p.Roof(x)), p.at(x, hem(x)), "stroke", dark, "stroke-opacity", "0.45", "stroke-width", "0.8")
	}
}

// slab draws a moulded roof with rounded edges, and on it the row of solar panels where it has them, edge on.
func (p *profile) slab() {
	t := p.Top
	k := p.pen().fair(p.between(t.Aft+0.03, t.Fore-0.03, 10, p.Roof))
	k.curve(p.at(t.Fore+0.02, p.Roof(t.Fore)), p.at(t.Fore+0.02, p.Soffit(t.Fore)), p.at(t.Fore-0.05, p.Soffit(t.Fore)))
	k.fair(reversed(p.between(t.Aft+0.05, t.Fore-0.05, 10, p.Soffit)))
	k.curve(p.at(t.Aft-0.02, p.Soffit(t.Aft)), p.at(t.Aft-0.02, p.Roof(t.Aft)), p.at(t.Aft+0.03, p.Roof(t.Aft)))
	p.path(k.close().String(), "fill", t.Colour.Or(HullWhite), "stroke", ink, "stroke-width", "1")
	if t.Kind != SolarTop {
		return
	}
	for _, ends := range p.Panels() {
		a, b := ends[0], ends[1]
		d := p.pen().move(p.at(a, p.Roof(a)+0.015)).to(p.at(b, p.Roof(b)+0.015), p.at(b, p.Roof(b)+PanelHeight),
			p.at(a, p.Roof(a)+PanelHeight)).close()
		p.path(d.String(), "fill", "#27374a", "stroke", ink, "stroke-width", "0.7")
	}
}

// folds says that the folded hood is shown beside the hood that is up.
func (p *profile) folds() bool { return p.Top.Folded > 0 && p.Folded > 0 }

// bundle draws dashed where bows and cloth of a hood lie when they are folded aft, parallel to the sheer.
//
// The bundle reaches from the aft edge of the hood that is up to a little aft of the hinge: the bows turn about it,
// and lie as far aft as they stood high. Its upper edge is as high as the book says.
func (p *profile) bundle() {
	t := p.Top
	if t.Folded == 0 {
		return
	}
	hinge := float64((t.Aft + t.Fore) / 2)
	sag := t.Folded - p.l.sheerAt.Predict(hinge) // above the sheer
	tail, depth := max(t.Aft, p.l.aft+0.05), min(bundleDepth, 0.6*sag)
	head := max(hinge-0.3, tail+0.3)
	upper := func(x float64) float64 { return p.l.sheerAt.Predict(x) + sag }
	lower := func(x float64) float64 { return upper(x) - depth }
	k := p.pen().fair(p.between(tail, head, 6, upper))
	k.curve(p.at(head+0.14, upper(head)), p.at(head+0.14, lower(head)), p.at(head, lower(head)))
	k.fair(p.between(head, tail, 6, lower))
	k.curve(p.at(tail-0.09, lower(tail)), p.at(tail-0.09, upper(tail)), p.at(tail, upper(tail))).close()
	p.path(k.String(), "fill", p.Cloth.Or(ClothNavy), "fill-opacity", "0.15", "stroke", ink, "stroke-width", "1",
		"stroke-dasharray", "4 3")
}

// bundleDepth is that of bows and cloth in their bag, m; common practice, no source.
const bundleDepth = 0.13
