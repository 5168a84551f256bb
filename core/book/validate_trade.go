package book

import (
	"math"
	"slices"
	"strings"

	"ribband/core/money"
	"ribband/core/suggest"
)

func (v *validation) trade() {
	for _, s := range v.book.Shops {
		v.atLeast(s.HoursWeek, 0.1, "the hours a week of "+s.ID.Value)
		v.within(s.HoursWeek, Limits.HoursWeek, "the hours a week of "+s.ID.Value)
		v.notNegative(s.Rate)
		for _, p := range s.Papers {
			if !slices.Contains(ShopPapers, p.Value) {
				v.error(p.At, suggest.Nearest(p.Value, ShopPapers, "the papers are "+strings.Join(ShopPapers, ", ")),
					"the shop %s has no paper %q", s.ID, p)
			}
		}
	}
	for _, o := range v.book.Operations {
		v.known("shop", o.Shop)
		for _, a := range o.After {
			v.known("operation", a)
		}
	}
	for _, m := range v.book.Materials {
		v.unit(m.Unit)
		v.notNegative(m.Cost)
		v.share(m.Waste, "5")
		v.atLeast(m.Pack, 0.001, "the pack of "+m.ID.Value)
		v.atLeast(m.LeadDays, 0, "the lead time of "+m.ID.Value)
		v.supplied(m)
		v.foamKind(&m)
	}
}

// Piece is what a material is counted in, "piece", "set" or "pair"; empty where it is measured.
func (m *Material) Piece() string {
	switch m.Unit.Value {
	case "each":
		return "piece"
	case "set", "pair":
		return m.Unit.Value
	}
	return ""
}

// supplied warns of waste, packs and lead times beyond reason.
func (v *validation) supplied(m Material) {
	if most := money.MustRate("1"); m.Waste.Given() && m.Waste.Value.Cmp(most) > 0 {
		v.warn(m.Waste.At, Limits.Waste.Advice(), "the waste of %s is %s", m.ID, m.Waste.Value)
	}
	v.within(m.Pack, Limits.Pack, "the pack of "+m.ID.Value)
	v.within(m.LeadDays, Limits.LeadDays, "the lead time of "+m.ID.Value)
	if m.Pack.Given() && m.Piece() != "" && m.Pack.Value != math.Trunc(m.Pack.Value) {
		v.warn(m.Pack.At, "write how many are in a pack, or the unit in which it is kept",
			"a pack of %s holds %g, and it is kept by the %s", m.ID, m.Pack.Value, m.Piece())
	}
}

func (v *validation) notNegative(m Money) {
	if m.Value.Sign() < 0 {
		v.error(m.At, "write an amount of zero or more", "%s is negative", m.Value)
	}
}

// operationsInCircle reports the first operation of each circle of operations that wait for each other.
func (v *validation) operationsInCircle() {
	after := map[string][]Text{}
	for _, o := range v.book.Operations {
		after[o.ID.Value] = o.After
	}
	const entered, left = 1, 2
	state := map[string]int{}
	var visit func(id string) bool
	visit = func(id string) bool {
		if state[id] != 0 {
			return state[id] == entered
		}
		state[id] = entered
		for _, a := range after[id] {
			if visit(a.Value) {
				state[id] = left
				v.error(a.At, "take one of the links out", "the operation %s waits for itself, by way of %s", id, a)
				return false
			}
		}
		state[id] = left
		return false
	}
	for _, o := range v.book.Operations {
		visit(o.ID.Value)
	}
}
