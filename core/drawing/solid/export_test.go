package solid

// Metres is a place in m, for tests.
func (p Place) Metres() Vec { return p.vec() }

// Volume is what closed faces hold, m³.
var Volume = volume

// Closed says that a patch is a body by itself.
func (p *Patch) Closed() bool { return p.shape&(capped|ring) != 0 }

// ShadedWith is a colour in the tones of a still picture, by tone.
func ShadedWith(colour string) (list []string) {
	for _, t := range tones {
		list = append(list, shaded(colour, t.tone))
	}
	return list
}
