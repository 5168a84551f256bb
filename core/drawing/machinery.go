package drawing

// Motor is the motor, below seats or decks; with a shaft drive its shaft runs aft from it.
type Motor struct {
	unseen
	Area
}

func (m Motor) check(k *check, l *lines) { m.Area.check(k, l) }

func (m Motor) below(p *plan) {
	if p.Drive.Kind == Shaft {
		p.line(p.at(m.Aft, (m.Port+m.Starboard)/2), p.at(p.shaftEnd(), 0), "stroke", dark, "stroke-width", "1.6",
			"stroke-dasharray", "6 3")
	}
	p.hiddenArea(m.Area)
	p.key(m.Area, "motor")
}

// Bank is the battery bank, or one box of it, below seats or decks.
type Bank struct {
	unseen
	Area
}

func (b Bank) check(k *check, l *lines) { b.Area.check(k, l) }

func (b Bank) below(p *plan) {
	p.hiddenArea(b.Area)
	p.key(b.Area, "battery bank")
}

// hiddenLine is how the plan draws what lies below seats and decks; halo goes before it, to tell it from dark cloth.
var (
	hiddenLine = []string{"fill", "none", "stroke", dark, "stroke-width", "1.1", "stroke-dasharray", "4 2.5"}
	halo       = []string{"fill", "none", "stroke", "#ffffff", "stroke-opacity", "0.6", "stroke-width", "2.4"}
)

func (p *plan) hiddenArea(a Area) {
	p.area(a, 0.02, halo...)
	p.area(a, 0.02, hiddenLine...)
}
