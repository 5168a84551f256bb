package book

import (
	"slices"
	"strconv"

	"ribband/core/suggest"
)

// Cushion is a cushion by its layers of sheet foam. The drawing of it in section and the foam that it takes follow from
// the layers, so that nobody states a thickness twice.
type Cushion struct {
	// Area, m².
	AreaM2 Formula `yaml:"area_m2,required"`
	// Sheets of foam from the base up.
	Layers []FoamLayer `yaml:"layers,required"`
	// What it lies on: vented, an open mesh through which it dries, or board.
	Base Text `yaml:"base,required"`
	// The operation that takes the foam; the first of the option where not given.
	Operation Text `yaml:"operation"`
	// Where it stands.
	At Position `json:"-"`
}

// FoamLayer is one sheet of foam in a cushion.
type FoamLayer struct {
	// Material, which says what kind of foam it is.
	Material Text `yaml:"material,required"`
	// Thickness, mm.
	ThicknessMm Number `yaml:"thickness_mm,required"`
	// Where it stands.
	At Position `json:"-"`
}

// FoamKind is what kind of foam a sheet is.
type FoamKind struct {
	// Density, kg/m³: how close it is hatched in a section.
	KgM3 Number `yaml:"kg_m3,required"`
	// How it sits: firm, medium, soft or very-soft; quick-drying where water runs through it.
	Kind Text `yaml:"kind,required"`
}

// FoamKinds are how foams of cushions sit, the firmest first, and last the open one.
var FoamKinds = []string{"firm", "medium", "soft", "very-soft", "quick-drying"}

// Bases are what cushions lie on.
var Bases = []string{"vented", "board"}

// mostLayers in one cushion: more are not glued by hand; common practice, no source.
const mostLayers = 6

// taken are the foams of the layers as other materials are taken, so that cost, purchases and sheets know no cushions.
func (c *Cushion) taken() (list []Quantity) {
	if c == nil {
		return nil
	}
	for _, l := range c.Layers {
		thick := Formula{Value: strconv.FormatFloat(l.ThicknessMm.Value, 'f', -1, 64), At: l.ThicknessMm.At}
		list = append(list, Quantity{Material: l.Material, Foam: &Foam{AreaM2: c.AreaM2, ThicknessMm: thick},
			Operation: c.Operation, At: l.At})
	}
	return list
}

// TakeLayers puts the foam of every cushion before what else its option takes; a reader does so once.
func (b *Book) TakeLayers() {
	for i := range b.Slots {
		for j := range b.Slots[i].Options {
			o := &b.Slots[i].Options[j]
			o.Materials = slices.Concat(o.Cushion.taken(), o.Materials)
		}
	}
}

// cushion reports layers that could not be drawn. Thicknesses and areas are checked with the foam that is taken.
func (v *validation) cushion(c *Cushion) {
	if c == nil {
		return
	}
	if n := len(c.Layers); n == 0 || n > mostLayers {
		v.error(c.At, "list its layers from the base up, from 1 to 6", "a cushion has %d layers of foam", n)
	}
	if !slices.Contains(Bases, c.Base.Value) {
		v.error(c.Base.At, suggest.Nearest(c.Base.Value, Bases, "write vented or board"),
			"%q is nothing that a cushion lies on", c.Base)
	}
	for _, l := range c.Layers {
		i := slices.IndexFunc(v.book.Materials, func(m Material) bool { return m.ID.Value == l.Material.Value })
		if i >= 0 && v.book.Materials[i].Foam == nil {
			v.error(l.Material.At, "add foam: {kg_m3: 60, kind: firm} to the material",
				"the material %s is a layer of a cushion, and what kind of foam it is is missing", l.Material)
		}
	}
}

// foamKind reports a foam of no kind, or of another density than foams have.
func (v *validation) foamKind(m *Material) {
	if m.Foam == nil {
		return
	}
	v.keptIn(m.ID, "m3", "sheet foam")
	if k := m.Foam.Kind; !slices.Contains(FoamKinds, k.Value) {
		v.error(k.At, suggest.Nearest(k.Value, FoamKinds, "write firm, medium, soft, very-soft or quick-drying"),
			"%q is no kind of foam", k)
	}
	if d := m.Foam.KgM3; !(d.Value > 0) {
		v.error(d.At, "write the density in kg/m³, such as 60", "the density of %s is %g", m.ID, d.Value)
	} else {
		v.thousandfold(d.At, d.Value, Limits.FoamDensity, "the density of "+m.ID.Value)
	}
}
