package book

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"ribband/core/money"
	"ribband/core/numbering"
	"ribband/core/suggest"
)

// Validate finds what is wrong with the book apart from its formulas: identifiers that are not unique or not well
// formed, names that lead nowhere, numbers out of bounds, operations that wait for each other.
func (b *Book) Validate() []Diagnostic {
	v := &validation{book: b}
	v.yard()
	v.identifiers()
	v.stages() // which name operations
	v.useFields()
	v.figures()
	v.regions()
	v.trade()
	v.hulls()
	v.offsets()
	v.trials()
	v.laminates()
	v.cuts()
	v.circuits()
	v.wires()
	v.fuses()
	v.slots()
	v.rules()
	v.brief()
	v.work()
	v.papers()
	v.units()
	v.titles()
	v.looks()
	v.languages()
	v.prices()
	v.sale()
	v.packages()
	v.unused()
	v.diagnostics = b.own(v.diagnostics)
	return v.withoutEchoes()
}

// withoutEchoes are the diagnostics without the warnings that stand where an error does, and without those that say
// what another has said of the same place.
func (v *validation) withoutEchoes() []Diagnostic {
	wrong := map[Position]bool{}
	for _, d := range v.diagnostics {
		wrong[d.Position] = wrong[d.Position] || d.Grade == Error
	}
	said := map[Diagnostic]bool{}
	return slices.DeleteFunc(v.diagnostics, func(d Diagnostic) bool {
		// what is wrong with a part is so in each option that has it
		echo := d.Grade == Warning && wrong[d.Position] || said[d]
		said[d] = true
		return echo
	})
}

type validation struct {
	book        *Book
	diagnostics []Diagnostic
	ids         map[string]map[string]Position // by kind
	unknown     bool                           // a name leads nowhere
}

// error notes an error.
func (v *validation) error(at Position, advice, format string, args ...any) {
	v.diagnostics = append(v.diagnostics, Diagnostic{Position: at, Grade: Error, Message: fmt.Sprintf(format, args...),
		Advice: advice})
}

// warn notes a warning.
func (v *validation) warn(at Position, advice, format string, args ...any) {
	v.diagnostics = append(v.diagnostics, Diagnostic{Position: at, Grade: Warning, Message: fmt.Sprintf(format,
		args...),
		Advice: advice})
}

// enquiryPath is a path of the page's own host: no scheme, no other host, nothing that a form could hide.
var enquiryPath = regexp.MustCompile(`^/[0-9A-Za-z._~-]+(/[0-9A-Za-z._~-]+)*$`)

func (v *validation) yard() {
	if e := v.book.Yard.Enquiry; e.Value != "" && !enquiryPath.MatchString(e.Value) {
		v.error(e.At, "write a path on the host of the page, such as /enquiry",
			"the address of enquiries, %.60q, is not on the yard's own host", e.Value)
	}
	b := v.book
	if _, err := time.Parse(time.DateOnly, b.Edition.Date.Value); err != nil {
		v.error(b.Edition.Date.At, "write it as 2027-03-31", "the date of the edition %q is no ISO 8601 date",
			b.Edition.Date)
	}
	if _, err := money.CurrencyOf(b.Currency.Value); err != nil {
		v.error(b.Currency.At, "write an alphabetic code of ISO 4217, like EUR", "unknown currency %q", b.Currency)
	}
	if _, err := money.NewRounding(money.Mode(b.Rounding.Mode.Value), money.Exact(1, 0)); err != nil {
		v.error(b.Rounding.Mode.At, "write half-even or half-up", "unknown rounding %q", b.Rounding.Mode)
	}
	if b.Rounding.PriceStep.Value.Sign() <= 0 {
		v.error(b.Rounding.PriceStep.At, `write "1" to round prices to whole units`,
			"the price step %s is not above zero", b.Rounding.PriceStep.Value)
	}
	v.keys()
	v.pricing(b.Pricing.Margin, b.Pricing.Markup, Price{})
	if !b.Pricing.Margin.Given() && !b.Pricing.Markup.Given() && !b.Damaged("pricing") {
		v.error(b.Rounding.Mode.At, `add pricing: {margin: "0.30"}`, "the book has neither margin nor markup")
	}
	for _, r := range []Rate{b.Overhead.OnLabour, b.Overhead.OnMaterials} {
		v.share(r, "9.99")
	}
	v.share(b.Contingency, "1")
	v.share(b.Discounts.Authority, "1")
	v.share(b.Discounts.MarginFloor, "0.95")
	v.dealers()
	v.atLeast(b.ValidityDays, 1, "the days of validity")
	v.within(b.ValidityDays, Limits.ValidityDays, "the validity of a quotation")
	v.atLeast(b.PaymentDays, 0, "the days for a payment")
	v.within(b.PaymentDays, Limits.PaymentDays, "the days for a payment")
	if n := b.QuotationNumbers; n.Value != "" {
		if err := numbering.Scheme(n.Value).Check(); err != nil {
			v.error(n.At, fmt.Sprintf("write %q", numbering.Default), "%v", err)
		}
	}
}

// share reports a rate that is negative or above most.
func (v *validation) share(r Rate, most string) {
	if r.Given() && (r.Value.Sign() < 0 || r.Value.Cmp(money.MustRate(most)) > 0) {
		v.error(r.At, `write a share: "0.30" is 30 %`, "the rate %s is not between 0 and %s", r.Value, most)
	}
}

func (v *validation) atLeast(n Number, least float64, what string) {
	if n.Given() && n.Value < least {
		v.error(n.At, fmt.Sprintf("write %g or more", least), "%s: %g is too small", what, n.Value)
	}
}

// maxCount bounds what is counted in a slot: far beyond any boat.
const maxCount = 1000

func (v *validation) count(n Number, least float64, what string) {
	if n.Given() && (n.Value < least || n.Value > maxCount || n.Value != math.Trunc(n.Value)) {
		v.error(n.At, fmt.Sprintf("write a whole number from %g to %d", least, maxCount), "%s: %g is no such number",
			what, n.Value)
	}
}

// pricing reports contradictions between a margin, a markup and a list price.
func (v *validation) pricing(margin, markup Rate, list Price) {
	v.share(margin, "0.95")
	v.share(markup, "20")
	if count(margin.Given(), markup.Given(), len(list.Terms) > 0) > 1 {
		at := margin.At
		if !margin.Given() {
			at = markup.At
		}
		v.error(at, "a margin is a share of the price, a markup a share of the cost, a list price needs neither",
			"more than one of price, margin and markup is given")
	}
}

func (v *validation) stages() {
	if len(v.book.Stages) == 0 {
		return
	}
	var sum money.Rate
	for _, s := range v.book.Stages {
		v.share(s.Share, "1")
		// a stage that hangs on nothing is due with the order
		if s.Due.Value != "" {
			v.known("operation", s.Due)
		}
		sum = sum.Add(s.Share.Value)
	}
	if !sum.Equal(money.MustRate("1")) && !v.book.Damaged("stages") {
		v.error(v.book.Stages[0].Share.At, `make them add up to "1"`, "the shares of the stages add up to %s", sum)
	}
}

// maxSteps bounds a use field so that what depends on it can be listed.
const maxSteps = 1000

func (v *validation) useFields() {
	for _, f := range v.book.HullFields {
		v.unit(f.Unit, false)
	}
	for _, u := range v.book.Use {
		switch {
		case u.Choices.FromRegions:
			v.known("region", u.Standard)
		case len(u.Choices.List) > 0:
			seen := map[string]bool{}
			for _, c := range u.Choices.List {
				if !hyphenID.MatchString(c.ID.Value) || seen[c.ID.Value] {
					v.error(c.ID.At, "write each choice once, in lower-case words joined by hyphens",
						"the choice %q of %s is ill formed or there twice", c.ID, u.ID)
				}
				seen[c.ID.Value] = true
			}
			if !seen[u.Standard.Value] {
				v.error(u.Standard.At, "name one of the choices", "the standard %q of %s is none of its choices",
					u.Standard, u.ID)
			}
		default:
			v.useNumber(u)
		}
	}
}

func (v *validation) useNumber(u UseField) {
	if u.Unit.At == (Position{}) {
		u.Unit.At = u.ID.At // so that a unit that is not given has a place
	}
	if u.Unit.Value == "" {
		v.error(u.Unit.At, "add unit: each, or the unit that it is in", "the use field %s has no unit", u.ID)
	} else {
		v.unit(u.Unit, false)
	}
	steps := (u.Max.Value - u.Min.Value) / u.Step.Value
	switch {
	case !u.Min.Given() || !u.Max.Given() || !u.Step.Given():
		v.error(u.ID.At, "give min, max and a step above zero, or choices", "the use field %s has no bounds", u.ID)
		return
	case u.Max.Value < u.Min.Value:
		v.error(u.Min.At, "write the smaller number as min", "the min of %s is %g, above its max of %g", u.ID,
			u.Min.Value, u.Max.Value)
		return
	case u.Step.Value <= 0:
		v.error(u.Step.At, "write a step above zero", "the step of %s is %g", u.ID, u.Step.Value)
		return
	}
	if steps > maxSteps {
		v.error(u.Step.At, "make the step larger", "the use field %s has %.0f steps; at most %d", u.ID, steps,
			maxSteps)
	} else if !whole(steps) {
		v.error(u.Max.At, "make max a whole number of steps above min", "the use field %s does not reach its max",
			u.ID)
	}
	standard, err := strconv.ParseFloat(u.Standard.Value, 64)
	if err != nil || !(standard >= u.Min.Value && standard <= u.Max.Value) {
		v.error(u.Standard.At, "write a number within them", "the standard %q of %s is not between min and max",
			u.Standard, u.ID)
	} else if u.Step.Value > 0 && !whole((standard-u.Min.Value)/u.Step.Value) {
		v.error(u.Standard.At, "make it a whole number of steps above min",
			"the standard %q of %s lies between two steps", u.Standard, u.ID)
	}
}

// whole says whether x is a whole number but for the error of a division.
func whole(x float64) bool { return math.Abs(x-math.Round(x)) < 1e-6 }

func (v *validation) figures() {
	for _, f := range v.book.Figures {
		v.unit(f.Unit, true)
		for _, h := range f.Hulls {
			v.known("hull", h)
		}
		if kinds := count(f.Total, !f.Formula.Empty(), f.Computed.Value != ""); kinds != 1 {
			v.error(f.ID.At, "write total: true, a formula, or computed: with a name",
				"the figure %s is neither a total nor a formula nor computed, or more than one of them", f.ID)
		}
		if f.Digits.Value < 0 || f.Digits.Value > 4 {
			v.error(f.Digits.At, "write 0 to 4", "%g digits are shown of %s", f.Digits.Value, f.ID)
		}
		if f.Hidden && f.Quoted {
			v.error(f.ID.At, "leave out hidden: true or quoted: true",
				"the figure %s is hidden, and stands on quotations", f.ID)
		}
	}
}

func (v *validation) regions() {
	for _, r := range v.book.Regions {
		v.climate(&r)
		v.exchange(r.Currency)
		t := r.Tax
		v.share(t.Rate, "1")
		switch t.Mode.Value {
		case "inclusive", "exclusive":
			if !t.Rate.Given() {
				v.error(t.Mode.At, `add rate: "0.19"`, "the tax of %s has no rate", r.ID)
			}
		case "zero":
			if t.Rate.Value.Sign() != 0 || t.Condition.Value == "" {
				v.error(t.Mode.At, "leave the rate out and give the condition under which no tax is charged",
					"the zero-rated region %s has a rate or no condition", r.ID)
			}
		default:
			v.error(t.Mode.At, "write inclusive, exclusive or zero", "unknown tax mode %q", t.Mode)
		}
	}
}

func (v *validation) hulls() {
	if len(v.book.Hulls) == 0 && !v.book.Damaged("hulls") {
		v.error(v.book.Edition.Name.At, "add hulls: with the id, title and dimensions of each boat that the yard "+
			"builds", "the book has no hull, so that nothing can be ordered")
	}
	v.computedFields()
	for i := range v.book.Hulls {
		h := &v.book.Hulls[i]
		for _, d := range h.Dimensions {
			v.known("hull field", d.Key)
			if d.Value.Value < 0 {
				v.error(d.Value.At, "write a number of zero or more", "%s of %s is negative", d.Key, h.ID)
			}
		}
		v.dimensions(h)
		v.heights(h.Heights)
		v.seats(h)
		v.item(h.ID, h.Carries, h.Price, h.Margin, h.Markup, h.Materials, h.Operations)
		v.base(h)
		v.repeated(h.ID, h.Materials, h.Operations)
		v.hullTakers(h)
		v.proportions(h)
	}
}

// item checks what hulls and options have in common.
func (v *validation) item(id Text, carries Pairs[Formula], price Price, margin, markup Rate, materials []Quantity,
	work []Work) {
	for _, c := range carries {
		if v.known("figure", c.Key) && !v.isTotal(c.Key.Value) {
			v.error(c.Key.At, "only figures with total: true add up what is carried",
				"the figure %s is a formula and carries nothing", c.Key)
		}
	}
	v.pricing(margin, markup, price)
	for i := range materials {
		v.quantity(&materials[i], id.Value)
	}
	for _, w := range work {
		v.known("operation", w.Operation)
	}
	v.amounts(id, work)
}

// seats reports a hull of which it is not known how far off the centre line its persons may sit, where the book asks
// what comes of it.
func (v *validation) seats(h *Hull) {
	for _, f := range v.book.Figures {
		if !strings.HasPrefix(f.Computed.Value, "stability.") {
			continue
		}
		at := h.ID.At
		if h.Seats != nil {
			if !h.Seats.SideM.Empty() {
				return
			}
			at = h.Seats.X.At
		}
		v.error(at, "add seats: {x: ..., z: ..., side_m: ...}, or leave the figure out",
			"the figure %s needs to know how far from the centre line the persons of %s sit on one side", f.ID, h.ID)
		return
	}
}

// states are those in which a height may stand; package pack has them too.
var states = []string{"up", "folded", "road"}

// heights reports states that there are not.
func (v *validation) heights(list []Height) {
	for _, h := range list {
		for _, s := range h.States {
			if !slices.Contains(states, s.Value) {
				v.error(s.At, suggest.Nearest(s.Value, states, "write up, folded or road"),
					"the height %q stands in the unknown state %q", h.Title, s)
			}
		}
	}
}

func (v *validation) isTotal(id string) bool {
	for _, f := range v.book.Figures {
		if f.ID.Value == id {
			return f.Total || v.book.damage.half[f.ID.At]
		}
	}
	return false
}

func (v *validation) slots() {
	for i := range v.book.Slots {
		s := &v.book.Slots[i]
		v.known("section", s.Section)
		v.cardinality(s)
		if !s.When.Empty() && s.Because.Value == "" {
			v.error(s.When.At, "say in because: what a buyer should know", "the slot %s closes without a reason",
				s.ID)
		}
		for _, h := range s.Hulls {
			v.known("hull", h)
		}
		if len(s.Options) == 0 {
			v.error(s.ID.At, "add options, or remove the slot", "the slot %s has no options", s.ID)
		}
		for _, o := range s.Options {
			v.option(s, o)
		}
		v.standard(s)
	}
}

func (v *validation) cardinality(s *Slot) {
	switch s.Choose.Value {
	case "", "one", "at most one":
		if s.Least.Given() || s.Most.Given() {
			v.error(s.ID.At, "leave least and most out, or choose: multiple",
				"the slot %s counts although it takes one", s.ID)
		}
	case "multiple":
		v.count(s.Least, 0, "the least of "+s.ID.Value)
		v.count(s.Most, 1, "the most of "+s.ID.Value)
		if s.Most.Given() && s.Most.Value < s.Least.Value {
			v.error(s.Most.At, "make most the larger", "the slot %s takes at least %g and at most %g", s.ID,
				s.Least.Value, s.Most.Value)
		}
	default:
		v.error(s.Choose.At, "write one, at most one, or multiple", "unknown choice %q", s.Choose)
	}
}

func (v *validation) option(s *Slot, o Option) {
	for _, h := range o.Hulls {
		v.known("hull", h)
	}
	if o.Most.Given() && s.Choose.Value != "multiple" {
		v.error(o.Most.At, "leave most: out, or choose: multiple",
			"the option %s may be there %g times, and its slot %s takes one", o.ID, o.Most.Value, s.ID)
	} else {
		v.count(o.Most, 1, "the most of "+o.ID.Value)
	}
	v.heights(o.Heights)
	v.cushion(o.Cushion)
	v.plates(o.Plates)
	v.blocks(&o)
	v.item(o.ID, o.Carries, o.Price, o.Margin, o.Markup, o.Materials, o.Operations)
	v.brought(&o)
	// a part may add to what the option has itself
	materials, work := v.book.besideParts(&o)
	v.repeated(o.ID, materials, work)
	v.optionTakers(s, &o)
	for _, l := range append(append([]Link{}, o.Requires...), o.Excludes...) {
		for _, id := range l.AnyOf {
			v.known("option", id)
		}
	}
}

func (v *validation) standard(s *Slot) {
	lists := [][]Count{s.Standard.All}
	for _, p := range s.Standard.ByHull {
		v.known("hull", p.Key)
		lists = append(lists, p.Value)
	}
	v.withoutStandard(s)
	for _, list := range lists {
		if len(list) > 1 && s.Choose.Value != "multiple" {
			v.error(s.Standard.At, "name one option, or choose: multiple", "the standard of slot %s names %d options",
				s.ID, len(list))
		}
		named := map[string]bool{}
		for _, c := range list {
			v.count(c.Count, 1, "the standard of "+s.ID.Value)
			if named[c.Option.Value] {
				v.error(c.Option.At, "name it once, with its count", "the standard of slot %s names %q twice", s.ID,
					c.Option)
			}
			named[c.Option.Value] = true
			v.soldStandard(s, c)
			if !s.holds(c.Option.Value) {
				var names []string
				for _, o := range s.Options {
					names = append(names, o.ID.Value)
				}
				v.error(c.Option.At, suggest.Nearest(c.Option.Value, names, "name one of the slot's own options"),
					"the slot %s has no option %q", s.ID, c.Option)
			}
		}
	}
}

// withoutStandard warns of a slot that must be filled and whose standard build the book leaves open: the first option
// that is made for the hull would stand in it.
func (v *validation) withoutStandard(s *Slot) {
	if s.Choose.Value != "" && s.Choose.Value != "one" || len(s.Standard.All) > 0 || v.unknown {
		return
	}
	for h := range v.book.Hulls {
		hull := v.book.Hulls[h].ID.Value
		named := slices.ContainsFunc(s.Standard.ByHull,
			func(p Pair[[]Count]) bool { return p.Key.Value == hull && len(p.Value) > 0 })
		if !named && len(s.Options) > 0 && isAmong(s.Hulls, hull) {
			v.warn(s.ID.At, "add standard: with the option of the standard build",
				"the slot %s takes one option and has no standard for %s: the first that is made for it stands there",
				s.ID, hull)
			return
		}
	}
}

// isAmong says whether a hull is among those listed; no list stands for all.
func isAmong(list []Text, hull string) bool {
	return len(list) == 0 || slices.ContainsFunc(list, func(h Text) bool { return h.Value == hull })
}

func (s *Slot) holds(option string) bool {
	for _, o := range s.Options {
		if o.ID.Value == option {
			return true
		}
	}
	return false
}

func (v *validation) rules() {
	for _, r := range v.book.Rules {
		if strings.TrimSpace(r.Because.Value) == "" {
			v.error(r.ID.At, "say what the buyer should know, in one plain sentence", "the rule %s gives no reason",
				r.ID)
		}
	}
}

// count is how many of some statements hold.
func count(statements ...bool) int {
	n := 0
	for _, s := range statements {
		if s {
			n++
		}
	}
	return n
}
