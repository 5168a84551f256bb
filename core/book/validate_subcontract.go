package book

import "slices"

// subcontracted checks work that a supplier does, and that an operation is either his or a shop's.
func (v *validation) subcontracted(o *Operation) {
	// both or none would leave open whose hours or days it takes
	who, s := "the operation "+o.ID.Value, o.Subcontracted
	switch {
	case s == nil && o.Shop.Value == "":
		v.error(o.ID.At, "add shop: with the one that does it, or subcontracted: {supplier: …, price: \"…\", "+
			"days: …}", "nothing says who does %s", who)
	case s == nil:
		v.known("shop", o.Shop)
	case o.Shop.Value != "":
		v.error(o.Shop.At, "leave shop: out, or subcontracted:", "%s is subcontracted, and has the shop %s", who,
			o.Shop)
	}
	if s == nil {
		return
	}
	if s.Supplier.At.Line > 0 && s.Supplier.Value == "" {
		v.error(s.Supplier.At, "write who does it, as under supplier: of a material", "%s has no supplier", who)
	}
	v.notNegative(s.Price)
	if s.Price.Given() && s.Price.Value.Sign() == 0 {
		v.warn(s.Price.At, "write what the supplier takes for it", "%s costs nothing", who)
	}
	if s.Unit.Value != "" {
		v.unit(s.Unit, false)
	}
	v.count(s.Days, 1, "the days of "+o.ID.Value)
	v.within(s.Days, Limits.OutsideDays, "the days of "+o.ID.Value)
	// what only people of the yard have, or read: nobody of them is at it
	for _, x := range []struct {
		key string
		at  Position
	}{{"crew", o.Crew.At}, {"skill", o.Skill.At}, {"batch", o.Batch.At}, {"setup_hours", o.SetupHours.At},
		{"steps", first(o.Steps)}, {"checks", firstCheck(o.Checks)}} {
		if x.at.Line > 0 {
			v.error(x.at, "leave it out, or let an operation of a shop have it", "%s is subcontracted, and has %s:",
				who, x.key)
		}
	}
}

// first is where the first of some texts stands; nowhere where there is none.
func first(list []Text) (at Position) {
	if len(list) > 0 {
		at = list[0].At
	}
	return at
}

func firstCheck(list []Check) (at Position) {
	if len(list) > 0 {
		at = list[0].ID.At
	}
	return at
}

// amounts checks that the work of an item states hours where a shop does it, and at most a quantity where a supplier
// does.
func (v *validation) amounts(id Text, work []Work) {
	for _, w := range work {
		i := slices.IndexFunc(v.book.Operations, func(o Operation) bool { return o.ID.Value == w.Operation.Value })
		if i < 0 { // told as a name that leads nowhere
			continue
		}
		switch o := &v.book.Operations[i]; {
		case o.Subcontracted != nil && !w.Hours.Empty():
			v.error(w.Hours.At, "leave hours: out; quantity: says how much of it, and is 1 without it",
				"%s has hours of %s, which is subcontracted", id, o.ID)
		case o.Subcontracted == nil && !w.Quantity.Empty():
			v.error(w.Quantity.At, "write hours:, or let the operation be subcontracted",
				"%s has a quantity of %s, which a shop does", id, o.ID)
		case o.Subcontracted == nil && o.Shop.Value != "" && w.Hours.Empty():
			v.error(w.At, "add hours: with those of one person", "%s has no hours of %s", id, o.ID)
		}
	}
}
