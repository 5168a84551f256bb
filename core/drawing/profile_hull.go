package drawing

// hull draws skeg, body, bands, rail and coaming. What is painted is clipped by the body, so that a stripe or a boot
// top ends where the hull does; the outline is drawn over it.
func (p *profile) hull() {
	p.skegAndDrive()
	body := p.body()
	p.path(body, "fill", p.Hull.Or(HullWhite))
	p.outline = p.clip("hull", body)
	p.group("g", p.bands, "clip-path", p.outline)
	p.path(body, "fill", "none", "stroke", ink, "stroke-width", "1.4", "stroke-linejoin", "round")
	for _, f := range p.Fittings {
		f.onSide(p)
	}
	p.rail()
}

// body is the side of the hull without its skeg: along the sheer to the stem, down it, and back along the bottom.
func (p *profile) body() string {
	last := len(p.l.x) - 1
	k := p.pen()
	k.fair(p.along(p.l.x, p.l.sheer))
	k.to(p.at(p.l.x[last], p.l.bottom[last]))
	k.fair(reversed(p.along(p.l.x, p.l.bottom)))
	return k.close().String()
}

// bands paints what is clipped by the hull: stripe, boot top and bottom.
//
// A boot top is painted on the mould's level and so parallel to the base line, whatever the trim. Without one the
// paint of the bottom ends at the water, as it does on a boat that has been afloat.
func (p *profile) bands() {
	// A metre beyond the ends of the hull is beyond its rake, too; the clip path cuts it off.
	across := func(from, to float64, colour string) {
		a, b := p.l.aft-1, p.l.fore+1
		p.path(p.pen().move(p.at(a, from)).to(p.at(b, from), p.at(b, to), p.at(a, to)).close().String(), "fill", colour)
	}
	// The stripe follows the sheer, its middle 85 mm below it and 60 mm broad: common practice, no source.
	if p.Stripe != "" {
		lower := make([]float64, len(p.l.x))
		for i, z := range p.l.sheer {
			lower[i] = z - 0.085
		}
		p.path(p.pen().fair(p.along(p.l.x, lower)).String(), "fill", "none", "stroke", string(p.Stripe), "stroke-width",
			p.number(0.06*p.scale))
	}
	switch {
	case p.BootTop != nil:
		across(p.l.low-1, p.BootTop.From, p.Bottom.Or(BottomGrey))
		across(p.BootTop.From, p.BootTop.To, p.BootTop.Colour.Or(HullWhite))
	case p.Drafts != nil && p.Bottom != "":
		a, b := p.l.aft, p.l.fore
		d := p.pen().move(p.at(a, p.l.level(p.Drafts, a))).to(p.at(b, p.l.level(p.Drafts, b)), p.at(b, p.l.low-1),
			p.at(a, p.l.low-1)).close()
		p.path(d.String(), "fill", string(p.Bottom))
	}
}

// rail draws the rubbing strake along the sheer, the crown of the deck and the coaming. The strake is drawn twice,
// first in ink and a little broader, so that it is seen on a hull of its own colour.
func (p *profile) rail() {
	c := p.Cockpit
	// The deck rises to the centre line by a twentieth of its half-breadth: usual camber, common practice, no
	// source.
	crown := func(x float64) float64 { return p.l.sheerAt.Predict(x) + float64(0.05*p.l.halfAt.Predict(x)) }
	under := float64((c.Fore - c.Aft) / 8) // the decks run on behind the rising ends of the coaming
	for _, ends := range [][2]float64{{c.Fore - under, p.l.fore}, {p.l.aft, c.Aft + under}} {
		d := p.pen().fair(p.between(ends[0], ends[1], 8,
			crown)).fair(reversed(p.between(ends[0], ends[1], 8, p.l.sheerAt.Predict))).close()
		p.path(d.String(), "fill", p.decks(), "stroke", dark, "stroke-width", "0.8")
	}
	p.coaming()
	p.path(p.pen().fair(p.along(p.l.x, p.l.sheer)).String(), "fill", "none", "stroke", ink, "stroke-width",
		p.number(max(2.6, 0.05*p.scale)), "stroke-linecap", "round")
	p.path(p.pen().fair(p.along(p.l.x, p.l.sheer)).String(), "fill", "none", "stroke", p.Rail.Or(Timber),
		"stroke-width", p.number(max(1.4, float64(0.05*p.scale)-1.4)), "stroke-linecap", "round")
}

// coaming rises in a curve at its ends, as bent timber does.
func (p *profile) coaming() {
	c := p.Cockpit
	r := min(0.35, (c.Fore-c.Aft)/4)
	edge := func(x float64) float64 { return p.l.sheerAt.Predict(x) + CoamingHeight }
	crest := p.between(c.Aft+r, c.Fore-float64(0.6*r), 8, edge)
	k := p.pen().move(p.at(c.Aft, p.l.sheerAt.Predict(c.Aft)))
	k.curve(p.at(c.Aft+float64(0.3*r), p.l.sheerAt.Predict(c.Aft)+float64(0.3*CoamingHeight)),
		p.at(c.Aft+float64(0.5*r), p.l.sheerAt.Predict(c.Aft)+CoamingHeight), crest[0])
	k.fair(crest)
	tip := c.Fore + float64(0.25*r)
	k.curve(p.at(c.Fore-float64(0.2*r), p.l.sheerAt.Predict(c.Fore)+float64(1.1*CoamingHeight)),
		p.at(c.Fore, p.l.sheerAt.Predict(c.Fore)+0.9*CoamingHeight), p.at(tip, p.l.sheerAt.Predict(min(tip, p.l.fore))))
	k.fair(reversed(p.between(c.Aft, min(tip, p.l.fore), 8, p.l.sheerAt.Predict)))
	p.path(k.close().String(), "fill", p.Coaming.Or(Timber), "stroke", dark, "stroke-width", "0.8", "stroke-linejoin",
		"round")
}

// skegAndDrive draws what hangs below the body, before it: its upper ends are hidden by the hull.
func (p *profile) skegAndDrive() {
	fill := []string{"fill", p.Bottom.Or(BottomGrey), "stroke", ink, "stroke-width", "1", "stroke-linejoin", "round"}
	// To the station beyond the last one with a skeg, where it runs out into the keel.
	if from, to, ok := p.l.skeg(); ok {
		to = min(to+1, len(p.l.x)-1)
		x := p.l.x[from : to+1]
		k := p.pen().fair(p.along(x, p.l.keel[from:to+1]))
		k.fair(reversed(p.along(x, p.l.bottom[from:to+1])))
		p.path(k.close().String(), fill...)
	}
	switch p.Drive.Kind {
	case Shaft:
		p.shaft(fill)
	case Leg, Pod:
		p.pod(fill)
	}
}

// shaft draws propeller and rudder in the aperture aft of the skeg. Where the skeg ends less than 0.15 m from the
// transom there is no room for them, and nothing is drawn.
func (p *profile) shaft(fill []string) {
	from, _, ok := p.l.skeg()
	if !ok || p.l.x[from]-p.l.aft < 0.15 {
		return
	}
	post, heel := p.l.x[from], p.l.keel[from]
	// The aperture is the gap between the skeg and the transom; propeller and rudder share it.
	gap := min(post-p.l.aft, 0.6)
	hub := (heel + float64(0.62*(p.l.bottom[from]-heel)))
	p.path(p.pen().move(p.at(post, heel+0.02)).to(p.at(post-float64(0.62*gap), heel+0.02)).String(), "stroke", ink,
		"stroke-width", p.number(max(1.2, 0.03*p.scale)), "fill", "none")
	// The rudder leans with the transom; its heel stands on the shoe that goes aft from the skeg.
	fore, aft := post-float64(0.34*gap), post-float64(0.82*gap)
	d := p.pen().move(p.at(fore, p.l.bottomAt.Predict(fore)+0.02)).to(p.at(fore, heel+0.04), p.at(aft, heel+0.07),
		p.at(aft-0.03, p.l.bottomAt.Predict(aft)+0.02)).close()
	p.path(d.String(), fill...)
	radius := min(0.15, float64(0.45*(p.l.bottom[from]-heel))+0.04)
	p.propeller(post-float64(0.16*gap), hub, radius)
}

// A pod: its axis below the body, and its propeller, m.
const (
	PodDepth        = 0.24
	PropellerRadius = 0.14
)

// pod draws a leg from the hull down to a body like a cigar, its propeller aft.
func (p *profile) pod(fill []string) {
	x, z := p.Drive.X, p.l.bottomAt.Predict(p.Drive.X)
	d := p.pen().move(p.at(x-0.08, z+0.05)).to(p.at(x-0.06, z-PodDepth), p.at(x+0.06, z-PodDepth),
		p.at(x+0.12, z+0.05)).close()
	p.path(d.String(), fill...)
	p.ellipse(p.at(x, z-PodDepth), 0.2*p.scale, 0.055*p.scale, fill...)
	p.propeller(x-0.21, z-PodDepth, PropellerRadius)
}

// propeller draws two blades edge on, and the hub between them; x and z of the hub and the radius in m. Two blades
// stand for any number.
func (p *profile) propeller(x, z, radius float64) {
	for _, side := range []float64{-1, 1} {
		p.ellipse(p.at(x, z+float64(side*0.55*radius)), 0.025*p.scale, 0.45*radius*p.scale, "fill", Timber, "stroke",
			dark,
			"stroke-width", "0.7")
	}
	p.ellipse(p.at(x, z), 0.05*p.scale, 0.03*p.scale, "fill", Timber, "stroke", dark, "stroke-width", "0.7")
}
