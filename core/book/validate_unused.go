package book

import "slices"

// unused warns of shops, operations and materials that nothing takes: mostly what is left of something that is gone.
// Where a name leads nowhere, it may have been meant for them.
func (v *validation) unused() {
	if v.unknown || v.book.Damaged("") || len(v.book.Hulls) == 0 {
		return
	}
	used := map[string]map[string]bool{"shop": {}, "operation": {}, "material": {}}
	item := func(materials []Quantity, work []Work) {
		for _, q := range materials {
			used["material"][q.Material.Value] = true
		}
		for _, w := range work {
			used["operation"][w.Operation.Value] = true
		}
	}
	for _, h := range v.book.Hulls {
		item(h.Materials, h.Operations)
	}
	for _, s := range v.book.Slots {
		for _, o := range s.Options {
			item(o.Materials, o.Operations)
		}
	}
	for _, w := range v.book.Wires {
		used["material"][w.Material.Value] = true
	}
	for _, f := range v.book.Fuses {
		used["material"][f.Material.Value], used["material"][f.Holder.Value] = true, true
	}
	for _, w := range v.book.Switches {
		used["material"][w.Material.Value] = true
	}
	for _, l := range v.book.Laminates {
		used["material"][l.Resin.Value] = true
		for _, p := range l.Plies {
			used["material"][p.Material.Value] = true
		}
	}
	for _, o := range v.book.Operations {
		used["shop"][o.Shop.Value] = true
	}
	warn := func(kind string, id Text, who string) {
		if !used[kind][id.Value] {
			v.warn(id.At, "take it out of the book, or use it", "%s has the %s %s", who, kind, id)
		}
	}
	for _, s := range v.book.Shops {
		warn("shop", s.ID, "no operation")
	}
	for _, s := range v.book.Shops {
		for _, k := range s.Skills {
			if !slices.ContainsFunc(v.book.Operations, func(o Operation) bool {
				return o.Shop.Value == s.ID.Value && o.Skill.Value == k.ID.Value
			}) {
				v.warn(k.ID.At, "take it out of the book, or ask for it",
					"no operation asks for the skill %s of %s", k.ID, s.ID)
			}
		}
	}
	for _, o := range v.book.Operations {
		warn("operation", o.ID, "no hull and no option")
	}
	for _, m := range v.book.Materials {
		warn("material", m.ID, "no hull, option, laminate, wire, fuse or switch")
	}
}
