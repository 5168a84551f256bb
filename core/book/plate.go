package book

import (
	"slices"

	"ribband/core/suggest"
)

// Plate is a plate laminated under the deck, which is drilled and tapped for what an option screws into it; one on each
// side of the boat, or one on the centre line. The drilling plan follows from it.
type Plate struct {
	// What is screwed into it.
	Title Text `yaml:"title,required"`
	// Where its middle is: share of the length of the hull, from the aft end.
	Along Number `yaml:"along,required"`
	// How far inside of the edge of the deck its middle is, mm; nothing on the centre line.
	InboardMm Number `yaml:"inboard_mm"`
	// On the centre line, once.
	Centre bool `yaml:"centre"`
	// Metric thread of its holes, coarse: M6.
	Thread Text `yaml:"thread,required"`
	// How many holes it has.
	Holes Number `yaml:"holes,required"`
	// From hole to hole along the boat, mm.
	AlongMm Number `yaml:"along_mm"`
	// From hole to hole across the boat, mm.
	AcrossMm Number `yaml:"across_mm"`
}

// Threads are the metric coarse threads of deck hardware.
//
// Source: ISO 261, coarse pitches; from memory.
var Threads = []string{"M4", "M5", "M6", "M8", "M10", "M12", "M16"}

// plates reports plates that could not be laid or drilled.
func (v *validation) plates(list []Plate) {
	for i := range list {
		p := &list[i]
		if !(p.Along.Value >= 0 && p.Along.Value <= 1) {
			v.error(p.Along.At, "write its place as a share of the length from the aft end, such as 0.9",
				"a plate for %s lies at %g of the length", p.Title, p.Along.Value)
		}
		if !slices.Contains(Threads, p.Thread.Value) {
			v.error(p.Thread.At, suggest.Nearest(p.Thread.Value, Threads, "write a metric coarse thread, such as M6"),
				"%q is no thread of deck hardware", p.Thread)
		}
		v.count(p.Holes, 1, "the holes of a plate for "+p.Title.Value)
		// what is on the edge is on no deck
		if !p.Centre && !(p.InboardMm.Value > 0) {
			v.error(p.Title.At,
				"say how far inside of the edge of the deck its middle is, inboard_mm: 80, or centre: true",
				"a plate for %s lies on the edge of the deck", p.Title)
		}
		if p.Holes.Value > 1 && !(p.AlongMm.Value > 0 || p.AcrossMm.Value > 0) {
			v.error(p.Holes.At, "say how far apart they are, along_mm: 100, across_mm: 40",
				"a plate for %s has %g holes at one place", p.Title, p.Holes.Value)
		}
	}
}
