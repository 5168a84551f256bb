package book

import (
	"fmt"
	"regexp"
	"strings"

	"ribband/core/suggest"
)

var (
	hyphenID     = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	underscoreID = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)
)

// identifiers registers every identifier by kind and reports those ill formed or given twice.
func (v *validation) identifiers() {
	b := v.book
	v.ids = map[string]map[string]Position{}
	for _, s := range b.Stages {
		v.register("stage", s.ID, hyphenID)
	}
	for _, d := range b.Dealers {
		v.register("dealer", d.ID, hyphenID)
	}
	for _, s := range b.Sections {
		v.register("section", s.ID, hyphenID)
	}
	for _, f := range b.HullFields {
		v.register("hull field", f.ID, underscoreID)
	}
	for _, u := range b.Use {
		v.register("use field", u.ID, underscoreID)
	}
	for _, f := range b.Figures {
		v.register("figure", f.ID, underscoreID)
	}
	for _, r := range b.Regions {
		v.register("region", r.ID, hyphenID)
	}
	for _, s := range b.Shops {
		v.register("shop", s.ID, hyphenID)
	}
	for _, e := range b.Equipment {
		v.register("equipment", e.ID, hyphenID)
	}
	for _, o := range b.Operations {
		v.register("operation", o.ID, hyphenID)
	}
	for _, u := range b.Units {
		v.register("unit", u.ID, hyphenID)
	}
	for _, m := range b.Materials {
		v.register("material", m.ID, hyphenID)
	}
	for _, h := range b.Hulls {
		v.register("hull", h.ID, hyphenID)
	}
	for _, l := range b.Laminates {
		v.register("laminate", l.ID, hyphenID)
	}
	for _, c := range b.Cuts {
		v.register("cut", c.ID, hyphenID)
	}
	for _, c := range b.Circuits {
		v.register("circuit", c.ID, hyphenID)
	}
	for _, s := range b.Slots {
		v.register("slot", s.ID, hyphenID)
		for _, o := range s.Options {
			v.register("option", o.ID, hyphenID)
		}
	}
	for _, g := range b.PriceGroups {
		v.register("price group", g.ID, hyphenID)
	}
	for _, p := range b.Parts {
		v.register("part", p.ID, hyphenID)
	}
	for _, r := range b.Rules {
		v.register("rule", r.ID, hyphenID)
	}
}

func (v *validation) register(kind string, id Text, form *regexp.Regexp) {
	if v.ids[kind] == nil {
		v.ids[kind] = map[string]Position{}
	}
	if !form.MatchString(id.Value) || len(id.Value) > 60 {
		joint := "hyphens"
		if form == underscoreID {
			joint = "underscores"
		}
		v.error(id.At, "write lower-case words and digits joined by "+joint+", at most 60 characters",
			"%q is not the form of an identifier (%s)", id, kind)
		// formulas and other entries may name it as it should be
		name := strings.ToLower(strings.NewReplacer("-", "_", " ", "_").Replace(id.Value))
		v.book.Lose(id.At, name, strings.ReplaceAll(name, "_", "-"))
	}
	if first, ok := v.ids[kind][id.Value]; ok {
		v.error(id.At, fmt.Sprintf("the first is at %s; give one of them another name", first),
			"the %s %q is there twice", kind, id)
		return
	}
	v.ids[kind][id.Value] = id.At
}

// known reports a name that leads nowhere.
func (v *validation) known(kind string, id Text) bool {
	if _, ok := v.ids[kind][id.Value]; ok {
		return true
	}
	v.unknown = true
	if v.book.Follows(id.Value) {
		return false
	}
	var names []string
	for name := range v.ids[kind] {
		names = append(names, name)
	}
	v.error(id.At, suggest.Nearest(id.Value, names, addIt(kind, id.Value)), "unknown %s %q", kind, id)
	return false
}

// listed is where the book lists things of a kind, and what an entry has besides its identifier.
var listed = map[string][2]string{
	"section": {"sections", "title: …"}, "hull field": {"hull_fields", "title: …, unit: m"},
	"use field": {"use", "title: …, unit: each, min: 1, max: 6, step: 1, standard: 4"},
	"figure":    {"figures", "title: …, unit: kg, total: true"},
	"region":    {"regions", "title: …, tax: {name: VAT, rate: \"0.19\", mode: inclusive}"},
	"shop":      {"shops", "title: …, people: 2, hours_day: 7.6, rate: \"44.00\""},
	"operation": {"operations", "title: …, shop: …"},
	"material":  {"materials", "title: …, unit: each, cost: \"0.40\""},
	"hull":      {"hulls", "title: …, dimensions: {…}"},
	"slot":      {"slots", "section: …, title: …, options: […]"}, "option": {"options: of a slot", "title: …"},
	"price group": {"price_groups", "price: \"450\""},
	"part":        {"parts", "materials: […]"},
	"cut":         {"cuts", "title: …, stocks: […], pieces: […]"},
	"circuit":     {"circuits", "title: …, function: pump, amps: 4, volts: 12, length_m: 3"},
}

// addIt is the advice for a name that is like none of the book.
func addIt(kind, id string) string {
	l := listed[kind]
	key, _, _ := strings.Cut(l[0], ":")
	if !hyphenID.MatchString(id) && !underscoreID.MatchString(id) {
		return fmt.Sprintf("write the identifier of one that is listed under %s",
			strings.Replace(l[0], key, key+":", 1))
	}
	return fmt.Sprintf("add it under %s, such as {id: %s, %s}", strings.Replace(l[0], key, key+":", 1), id, l[1])
}
