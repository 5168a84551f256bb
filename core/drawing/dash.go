package drawing

// Dash is the dashboard across the fore end of the cockpit.
type Dash struct {
	unseen
	// Its aft face, m from the aft end of the hull.
	X float64
}

// DashHeight is how far the dash stands m above the sheer; common practice, no source.
const DashHeight = 0.19

// check asks for a dash within the hull.
func (d Dash) check(k *check, l *lines) { k.within("dash's place", d.X, l.aft, l.fore, "m") }

// highest is the crown of the dash: with no top and nobody aboard it is what a bridge has to clear.
func (d Dash) highest(l *lines) (x, z float64, ok bool) {
	return d.X, l.sheerAt.Predict(d.X) + DashHeight, true
}

// behindPersons draws its side: a face leaning forward, a rounded edge, and a top that falls towards the foredeck.
func (d Dash) behindPersons(p *profile) {
	x, z := d.X, p.l.sheerAt.Predict(d.X)
	fore := min(x+0.55, p.l.fore)
	k := p.pen().move(p.at(x-0.03, z-0.2)).to(p.at(x+0.02, z+0.15)).curve(p.at(x+0.03, z+0.19), p.at(x+0.08, z+0.19),
		p.at(x+0.16, z+0.18))
	k.curve(p.at(x+0.3, z+0.16), p.at(x+0.42, z+0.1),
		p.at(fore, p.l.sheerAt.Predict(fore)+0.02)).to(p.at(fore, z-0.2)).close()
	p.path(k.String(), "fill", Timber, "stroke", dark, "stroke-width", "0.9")
}

// inCockpit fills the fore end of the cockpit from the face on.
func (d Dash) inCockpit(p *plan) {
	half := p.l.widest // the clip path of the cockpit cuts it to its breadth
	k := p.pen().move(p.at(d.X, -half)).to(p.at(d.X, half), p.at(p.Cockpit.Fore, half),
		p.at(p.Cockpit.Fore, -half)).close()
	p.path(k.String(), "fill", Timber, "stroke", dark, "stroke-width", "1")
}
