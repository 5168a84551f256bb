package book

import "strings"

// titled is something that people know by its title.
type titled struct{ id, title Text }

// titles reports titles of nothing, and warns where two things that stand beside each other have the same: nobody can
// tell them apart.
func (v *validation) titles() {
	b := v.book
	v.distinct("section", "", each(b.Sections, func(x Section) titled { return titled{x.ID, x.Title} }))
	v.distinct("stage", "", each(b.Stages, func(x Stage) titled { return titled{x.ID, x.Title} }))
	v.distinct("hull field", "", each(b.HullFields, func(x Field) titled { return titled{x.ID, x.Title} }))
	v.distinct("use field", "", each(b.Use, func(x UseField) titled { return titled{x.ID, x.Title} }))
	for _, u := range b.Use {
		v.distinct("choice", " of "+u.ID.Value, each(u.Choices.List,
			func(x Choice) titled { return titled{x.ID, x.Title} }))
	}
	v.distinct("figure", "", each(b.Figures, func(x Figure) titled { return titled{x.ID, x.Title} }))
	v.distinct("region", "", each(b.Regions, func(x Region) titled { return titled{x.ID, x.Title} }))
	v.distinct("shop", "", each(b.Shops, func(x Shop) titled { return titled{x.ID, x.Title} }))
	v.distinct("operation", "", each(b.Operations, func(x Operation) titled { return titled{x.ID, x.Title} }))
	v.distinct("equipment", "", each(b.Equipment, func(x Equipment) titled { return titled{x.ID, x.Title} }))
	v.distinct("unit", "", each(b.Units, func(x Unit) titled { return titled{x.ID, x.Symbol} }))
	v.distinct("material", "", each(b.Materials, func(x Material) titled { return titled{x.ID, x.Title} }))
	v.distinct("dealer", "", each(b.Dealers, func(x Dealer) titled { return titled{x.ID, x.Firm} }))
	v.distinct("hull", "", each(b.Hulls, func(x Hull) titled { return titled{x.ID, x.Title} }))
	v.distinct("cut", "", each(b.Cuts, func(x Cut) titled { return titled{x.ID, x.Title} }))
	v.distinct("wish", "", each(b.Brief.Wishes, func(x Wish) titled { return titled{x.ID, x.Title} }))
	v.distinct("word", "", each(b.Glossary, func(x Entry) titled { return titled{x.Word, x.Word} }))
	inSection := map[string][]titled{}
	for _, s := range b.Slots {
		inSection[s.Section.Value] = append(inSection[s.Section.Value], titled{s.ID, s.Title})
		v.distinct("option", " of "+s.ID.Value, each(s.Options, func(x Option) titled { return titled{x.ID, x.Title} }))
	}
	for _, s := range b.Sections {
		v.distinct("slot", " of "+s.ID.Value, inSection[s.ID.Value])
	}
	for _, l := range b.Laminates { // those of other hulls may be called the same
		v.distinct("laminate", "", []titled{{l.ID, l.Title}})
	}
	for _, c := range b.Circuits { // doubled ones are errors, see circuits
		v.distinct("circuit", "", []titled{{c.ID, c.Title}})
	}
}

func each[T any](list []T, of func(T) titled) (out []titled) {
	for _, x := range list {
		out = append(out, of(x))
	}
	return out
}

func (v *validation) distinct(kind, where string, list []titled) {
	first := map[string]titled{}
	for _, x := range list {
		title := strings.ToLower(strings.Join(strings.Fields(x.title.Value), " "))
		if title == "" {
			v.error(x.title.At, "write what people call it", "the %s %s has an empty title", kind, x.id)
			continue
		}
		if before, ok := first[title]; ok {
			v.warn(x.title.At, "say in the title what sets it apart", "the %s %s is called %q, and so is %s%s", kind,
				x.id, x.title, before.id, where)
			continue
		}
		first[title] = x
	}
}
