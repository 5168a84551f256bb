package book

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/laminate"
	"ribband/core/suggest"
)

// Laminate is one lay-up over an area of every hull, or of those that it names. Its plies and its resin become
// materials of the base boat.
type Laminate struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What it is called on the laminate schedule.
	Title Text `yaml:"title,required"`
	// shell, bottom, keel, deck or stiffening; bottom and keel lie upon the shell.
	Part Text `yaml:"part,required"`
	// Hulls that have it; all where not given.
	Hulls []Text `yaml:"hulls"`
	// Area, m²: a formula over the hull alone.
	AreaM2 Formula `yaml:"area_m2,required"`
	// Layers from the mould inwards.
	Plies []Ply `yaml:"plies,required"`
	// hand, hand-complex or vacuum.
	Process Text `yaml:"process,required"`
	// Material of the resin.
	Resin Text `yaml:"resin"`
	// Where it stands.
	At Position `json:"-"`

	// The operation of the base boat that takes cloths and resin.
	Operation Text `yaml:"operation"`
}

// Ply is a layer of glass, or multiple of the same.
type Ply struct {
	// csm, roving, multiaxial or unidirectional.
	Cloth Text `yaml:"cloth,required"`
	// Weight of the dry cloth, g/m².
	GM2 Number `yaml:"g_m2,required"`
	// 1 where not given.
	Count Number `yaml:"count"`
	// Material of the cloth, kept in m2.
	Material Text `yaml:"material"`
	// Where it stands.
	At Position `json:"-"`
}

// The weight of a ply in g/m2: a surface tissue is about 30, the heaviest multiaxial about 2400; from memory, with
// room.
const (
	leastPly = 20
	mostPly  = 5000
)

// laminates reports faults in lay-ups at the ply where they are. Areas are checked when they are computed.
func (v *validation) laminates() {
	for i := range v.book.Laminates {
		l := &v.book.Laminates[i]
		for _, h := range l.Hulls {
			v.known("hull", h)
		}
		v.word("part", l.Part, laminate.Parts)
		v.word("process", l.Process, laminate.Words(laminate.Processes))
		if l.Resin.Value != "" && v.known("material", l.Resin) {
			v.keptIn(l.Resin, "kg", "resin")
		}
		if len(l.Plies) == 0 {
			v.error(l.At, "list each ply with its cloth and g_m2", "the laminate %s has no plies", l.ID)
		}
		for _, p := range l.Plies {
			v.word("cloth", p.Cloth, laminate.Words(laminate.Cloths))
			if !(p.GM2.Value >= leastPly && p.GM2.Value <= mostPly) {
				v.error(p.GM2.At, "write the glass in g/m2, such as 450",
					"a ply of %s has %g g/m2; %d to %d are possible", l.ID, p.GM2.Value, leastPly, mostPly)
			}
			v.count(p.Count, 1, "the count of a ply of "+l.ID.Value)
			if p.Material.Value != "" && v.known("material", p.Material) {
				v.keptIn(p.Material, "m2", "cloth")
				v.weighs(p, l.ID)
			}
		}
	}
}

// weighs compares the weight of a ply with that of its cloth: what is laid up, bought and weighed would be different
// glass.
func (v *validation) weighs(p Ply, laminate Text) {
	i := slices.IndexFunc(v.book.Materials, func(m Material) bool { return m.ID.Value == p.Material.Value })
	switch cloth := v.book.Materials[i]; {
	case !cloth.GM2.Given():
		v.warn(cloth.ID.At, "add its g_m2: the plies that are made of it are compared with it",
			"nothing says what the cloth %s weighs", cloth.ID)
	case cloth.GM2.Value != p.GM2.Value:
		v.error(p.GM2.At, fmt.Sprintf("name the cloth of the ply, or mend g_m2 at %s", cloth.GM2.At),
			"a ply of %s has %g g/m², and its cloth %s weighs %g g/m²", laminate, p.GM2.Value, cloth.ID,
			cloth.GM2.Value)
	}
}

func (v *validation) word(what string, t Text, words []string) {
	if !slices.Contains(words, t.Value) {
		v.error(t.At, suggest.Nearest(t.Value, words, "write one of "+strings.Join(words, ", ")), "unknown %s %q",
			what, t)
	}
}

// keptIn reports a material that is not kept in the unit in which it is needed.
func (v *validation) keptIn(id Text, unit, what string) {
	for _, m := range v.book.Materials {
		if m.ID.Value == id.Value && m.Unit.Value != unit && v.isUnit(m.Unit.Value) {
			v.error(id.At, "name a material that is kept in "+unit, "the %s %s is kept in %s", what, id, m.Unit)
		}
	}
}
