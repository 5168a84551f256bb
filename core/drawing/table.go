package drawing

import "ribband/core/msg"

// Table stands in the cockpit.
type Table struct {
	unseen
	Area
	Colour Colour  // blank: that of timber
	Of     Surface // blank: timber
}

// check asks for a table within the hull, of a colour that can be drawn.
func (t Table) check(k *check, l *lines) {
	t.Area.check(k, l)
	k.colour("table", t.Colour)
}

// onTop draws its top over whatever lies below it.
func (t Table) onTop(p *plan) {
	p.area(t.Area, 0.05, "fill", t.Colour.Or(Timber), "stroke", dark, "stroke-width", "1")
	p.key(t.Area, msg.New("drawing.table"))
}
