package capacity

import (
	"fmt"
	"strings"

	"ribband/core/msg"
	"ribband/core/suggest"
)

// Material is a material of the boat with the factor that makes its dry weight the weight under water.
type Material struct {
	ID      string      `json:"id"`
	Name    msg.Message `json:"name"`
	Gravity float64     `json:"specific_gravity"` // relative to fresh water; 0 where none is listed
	Factor  float64     `json:"factor"`           // K as printed; below zero the material lifts
	Source  msg.Message `json:"source"`
	Status  msg.Message `json:"status"`
}

var (
	handbook  = msg.New("capacity.source-handbook")
	recalled  = msg.New("capacity.from-memory")
	secondary = msg.New("capacity.secondary")
)

// material names a material.
func material(id string) msg.Message { return msg.New("capacity.material", msg.Choice("id", id)) }

// materials is the table of factors. The printed K is not always (SG - 1)/SG to two places (oak, cedar, steel), so it
// is kept as data. 33 CFR 183 itself has no such table.
var materials = []Material{
	{"lead", material("lead"), 11.0, 0.91, handbook, recalled},
	{"steel", material("steel"), 7.85, 0.88, handbook, secondary},
	{"aluminium", material("aluminium"), 2.70, 0.63, handbook, secondary},
	{"grp", material("grp"), 1.50, 0.33, handbook, secondary},
	{"abs", material("abs"), 1.12, 0.11, handbook, secondary},
	{"oak", material("oak"), 0.63, -0.56, handbook, recalled},
	{"mahogany", material("mahogany"), 0.56, -0.78, handbook, recalled},
	{"ash", material("ash"), 0.56, -0.78, handbook, recalled},
	{"yellow-pine", material("yellow-pine"), 0.55, -0.81, handbook, recalled},
	{"fir-ply", material("fir-ply"), 0.55, -0.81, handbook, secondary},
	{"mahogany-ply", material("mahogany-ply"), 0.54, -0.83, handbook, recalled},
	{"cedar", material("cedar"), 0.33, -1.95, handbook, recalled},
	{"balsa", material("balsa"), 0.16, -5.24, handbook, recalled},
}

// Materials are all materials with a factor.
//
// Valid: submerged in fresh water, wood dry and sealed. Source: US Coast Guard, Boatbuilder's Handbook, Flotation,
// appendix, and ABYC H-8; partly from memory, as each says.
func Materials() []Material { return append([]Material(nil), materials...) }

// FindMaterial finds a material of [Materials] by its id.
//
// Valid: the ids listed. Source: as there.
func FindMaterial(id string) (Material, error) {
	ids := make([]string, len(materials))
	for i, m := range materials {
		if m.ID == id {
			return m, nil
		}
		ids[i] = m.ID
	}
	return Material{}, fmt.Errorf("finding the material %q: it has no submerged factor; take one of "+
		"%s", suggest.Clip(id, 40),
		strings.Join(ids, ", "))
}

// SubmergedFactor is the share of a material's dry weight that it weighs under water: K = (SG - 1)/SG.
//
// SG specific gravity relative to fresh water, K without unit; below zero the material lifts.
//
// Valid: SG from 0.05 to 25. Source: US Coast Guard, Boatbuilder's Handbook, Flotation; Archimedes.
func SubmergedFactor(gravity float64) (float64, error) {
	in := inputs{doing: "working out the submerged factor"}
	in.number("the specific gravity", gravity, 0.05, 25, "",
		"divide the material's density by that of fresh water, 1000 kg/m³")
	if err := in.err(); err != nil {
		return 0, err
	}
	return (gravity - 1) / gravity, nil
}
