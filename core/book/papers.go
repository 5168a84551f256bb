package book

import (
	"fmt"
	"strings"
	"time"

	"ribband/core/capacity"
	"ribband/core/suggest"
	"ribband/core/transport"
)

// NotSubmerged is the word for what is left out of the sum of submerged parts, because it does not sink or is counted
// elsewhere.
const NotSubmerged = "none"

// ShopPapers are the drawings and lists that a shop may have on its own card.
var ShopPapers = []string{"profile", "plan", "sections", "levers", "masses", "solar", "laminates", "cuts", "loom",
	"drilling", "flotation", "foam", "timber", "tube", "coatings"}

// papers reports what would make papers of the boat wrong: the maker's code, limits that nobody knows, materials
// without a factor under water, a bank that is no machinery.
func (v *validation) papers() {
	b := v.book
	v.maker()
	v.bank()
	v.page()
	v.drawn()
	for _, r := range b.Regions {
		if _, err := transport.FindRegion(r.Limits.Value); r.Limits.Value != "" && err != nil {
			v.error(r.Limits.At, "write us, eu or gb, or leave limits out where others hold",
				"the region %s has the limits %q, which are not known", r.ID, r.Limits)
		}
	}
	for _, h := range b.Hulls {
		v.submerged(h.Submerged)
	}
	counts := v.computes("capacity.")
	for _, s := range b.Slots {
		v.submerged(s.Submerged)
		for _, o := range s.Options {
			v.submerged(o.Submerged)
			for _, c := range o.Carries {
				if counts && c.Key.Value == "bank_kg" && !s.Machinery {
					v.error(c.Key.At, "add machinery: true to the slot "+s.ID.Value,
						"the option %s carries bank_kg, but batteries are machinery", o.ID)
				}
			}
		}
	}
}

// computes says whether the book has a computed figure of a module.
func (v *validation) computes(module string) bool {
	for _, f := range v.book.Figures {
		if strings.HasPrefix(f.Computed.Value, module) {
			return true
		}
	}
	return false
}

// drawn reports figures that the drawings need where a boat floats: without them they would show it with a draught of
// nothing.
func (v *validation) drawn() {
	have := map[string]Text{}
	for _, f := range v.book.Figures {
		have[f.Computed.Value] = f.Computed
	}
	floats, ok := have["floating.displacement_kg"]
	for _, name := range []string{"floating.draft_aft_m", "floating.draft_fore_m"} {
		if _, has := have[name]; ok && !has {
			_, id, _ := strings.Cut(name, ".")
			v.error(floats.At, fmt.Sprintf("add {id: %s, title: …, unit: m, digits: 2, computed: %s} to the figures, "+
				"hidden: true if nobody should see it", id, name),
				"the drawings show how the boat floats, and need the figure %s", name)
		}
	}
}

// maker tries the code in a hull number.
func (v *validation) maker() {
	y := v.book.Yard
	v.country(y.Country)
	if y.MakerCode.Value == "" && y.Country.Value == "" {
		return
	}
	at := y.MakerCode.At
	if y.MakerCode.Value == "" {
		at = y.Country.At
	}
	// a number of letters alone would be one of the United States on a boat for the Union
	for _, r := range v.book.Regions {
		if y.Country.Value == "" && capacity.NeedsCountry(r.Limits.Value) {
			v.error(at, "add country: to yard, two capitals of ISO 3166-1, such as DE or GB: where the yard has its "+
				"seat", "hull numbers of boats for the region %s begin with the country of the yard, which the book "+
				"lacks", r.ID)
			break
		}
	}
	_, err := capacity.BuildHIN(capacity.Identity{Country: y.Country.Value, Manufacturer: y.MakerCode.Value,
		Serial: "00001", Year: 2027, Month: time.January, ModelYear: 2027})
	if err != nil {
		v.error(at, `write the three letters that the authority assigned to the yard, like maker_code: ABC, and the country as two capitals`, "no hull number can be made of it: %v", err)
	}
}

// submerged reports a material without a factor under water.
func (v *validation) submerged(t Text) {
	if t.Value == "" || t.Value == NotSubmerged {
		return
	}
	if _, err := capacity.FindMaterial(t.Value); err != nil {
		names := []string{NotSubmerged}
		for _, m := range capacity.Materials() {
			names = append(names, m.ID)
		}
		v.error(t.At, suggest.Nearest(t.Value, names, "the words are "+strings.Join(names, ", ")),
			"%q has no factor under water", t)
	}
}
