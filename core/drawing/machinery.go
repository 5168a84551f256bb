package drawing

import "ribband/core/msg"

// Motor is the motor, below seats or decks; with a shaft drive its shaft runs aft from it.
type Motor struct {
	unseen
	Area
}

// check asks for a motor within the hull.
func (m Motor) check(k *check, l *lines) { m.Area.check(k, l) }

// below draws the motor dashed, and its shaft from its middle to the propeller.
func (m Motor) below(p *plan) {
	if p.Drive.Kind == Shaft {
		p.line(p.at(m.Aft, (m.Port+m.Starboard)/2), p.at(p.shaftEnd(), 0), "stroke", dark, "stroke-width", "1.6",
			"stroke-dasharray", "6 3")
	}
	p.hiddenArea(m.Area)
	p.key(m.Area, msg.New("drawing.motor"))
}

// Bank is the battery bank, or one box of it, below seats or decks. It is the heaviest thing on board that the buyer
// chooses, so the plan shows where it lies.
type Bank struct {
	unseen
	Area
}

// check asks for a box within the hull.
func (b Bank) check(k *check, l *lines) { b.Area.check(k, l) }

// below draws the box dashed; all boxes of a bank have one number.
func (b Bank) below(p *plan) {
	p.hiddenArea(b.Area)
	p.key(b.Area, msg.New("drawing.bank"))
}

// hiddenLine is how the plan draws what lies below seats and decks; halo goes before it, to tell it from dark cloth.
var (
	hiddenLine = []string{"fill", "none", "stroke", dark, "stroke-width", "1.1", "stroke-dasharray", "4 2.5"}
	halo       = []string{"fill", "none", "stroke", "#ffffff", "stroke-opacity", "0.6", "stroke-width", "2.4"}
)

// hiddenArea draws an area that seats or decks hide. It is not filled: what hides it stays to be seen.
func (p *plan) hiddenArea(a Area) {
	p.area(a, 0.02, halo...)
	p.area(a, 0.02, hiddenLine...)
}
