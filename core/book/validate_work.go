package book

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/measure"
	"ribband/core/suggest"
)

// work checks who works when, with what, in which order, and what the shops fill in.
func (v *validation) work() {
	y := &v.book.Yard
	v.closed(y.Closed, "the yard")
	v.spread(y.Spread, "the yard")
	if desks := []string{"public", "show", "yard"}; y.Launch.Value != "" && !slices.Contains(desks, y.Launch.Value) {
		v.error(y.Launch.At, suggest.Nearest(y.Launch.Value, desks, "write public, show or yard"),
			"nobody is called %q who could read the launch week", y.Launch)
	}
	for i := range v.book.Shops {
		v.shop(&v.book.Shops[i])
	}
	for i := range v.book.Equipment {
		v.equipment(&v.book.Equipment[i])
	}
	for i := range v.book.Operations {
		v.operation(&v.book.Operations[i])
	}
	v.network()
	v.served()
	for i := range v.book.Slots {
		v.undone(&v.book.Slots[i])
	}
	for i := range v.book.Hulls {
		v.learning(&v.book.Hulls[i])
	}
}

// learning checks how hours fall. A rate above 1 would be a yard that forgets.
func (v *validation) learning(h *Hull) {
	l := h.Learning
	if l == nil {
		return
	}
	if !(l.Rate.Value >= 0.5 && l.Rate.Value <= 1) {
		v.error(l.Rate.At, "write what the hours come to when the number of boats doubles, such as 0.9",
			"the learning of %s has the rate %g; it is 0.5 to 1", h.ID, l.Rate.Value)
	}
	if l.Built.At.Line > 0 {
		v.count(l.Built, 0, "the boats of "+h.ID.Value+" that were built")
	}
	v.count(l.Steady, 1, "the boat of "+h.ID.Value+" with the hours of the book")
}

func (v *validation) shop(s *Shop) {
	v.count(s.People, 1, "the people of "+s.ID.Value)
	v.within(s.People, Limits.People, "the people of "+s.ID.Value)
	v.hoursDay(s)
	v.closed(s.Closed, "the shop "+s.ID.Value)
	v.notNegative(s.Rate)
	seen := map[string]bool{}
	for _, k := range s.Skills {
		if !hyphenID.MatchString(k.ID.Value) || seen[k.ID.Value] {
			v.error(k.ID.At, "write each skill once, in lower-case words joined by hyphens",
				"the skill %q of %s is ill formed or there twice", k.ID, s.ID)
		}
		seen[k.ID.Value] = true
		v.count(k.People, 1, "the people with the skill "+k.ID.Value)
		if k.People.Value > s.People.Value {
			v.error(k.People.At, "write how many of its people have it", "%g people of %s are to have the skill %s, "+
				"and it has %g people", k.People.Value, s.ID, k.ID, s.People.Value)
		}
	}
	for _, p := range s.Papers {
		if !slices.Contains(ShopPapers, p.Value) {
			v.error(p.At, suggest.Nearest(p.Value, ShopPapers, "the papers are "+strings.Join(ShopPapers, ", ")),
				"the shop %s has no paper %q", s.ID, p)
		}
	}
}

// hoursDay reports days that there are not, or of more hours than a day has, and a shop that never works.
func (v *validation) hoursDay(s *Shop) {
	h, days := &s.HoursDay, Pairs[Number]{}
	if h.All.Given() {
		days = append(days, Pair[Number]{Value: h.All})
	}
	for _, p := range h.ByDay {
		if !slices.Contains(Weekdays, p.Key.Value) {
			v.error(p.Key.At, suggest.Nearest(p.Key.Value, Weekdays, "the days are "+strings.Join(Weekdays, ", ")),
				"the week has no day %q", p.Key)
		}
		days = append(days, p)
	}
	wrong, sum := false, 0.0
	for _, p := range days {
		sum += p.Value.Value
		switch n := p.Value; {
		case n.Value < 0 || n.Value > 24:
			wrong = true
			v.error(n.At, "write the hours that one person works in a day, such as 7.6",
				"a day of %s: %g is no number of hours in a day", s.ID, n.Value)
		case n.Value > 0:
			v.within(n, Limits.HoursDay, "a day of "+s.ID.Value)
		}
	}
	if h.At.Line > 0 && sum == 0 && !wrong {
		v.error(h.At, "write the hours that one person works in a day, such as 7.6", "the shop %s never works", s.ID)
	}
}

// closed reports days that there are not.
func (v *validation) closed(days []Text, who string) {
	for _, d := range days {
		first, last, err := Days(d.Value)
		if err != nil {
			v.error(d.At, "write a day as 2027-05-05, or a period as 2027-12-24..2028-01-02",
				"the days on which %s is closed: %v", who, err)
			continue
		}
		n := last.Sub(first).Hours()/24 + 1
		v.within(Number{Value: n, At: d.At}, Limits.ClosedDays, "the number of days on which "+who+" is closed")
	}
}

func (v *validation) spread(s *Spread, who string) {
	if s == nil {
		return
	}
	if s.Low.Given() && !(s.Low.Value > 0 && s.Low.Value <= 1) {
		v.error(s.Low.At, "write a factor of the hours that is above 0 and at most 1, such as 0.8",
			"the low hours of %s: %g times the likely ones", who, s.Low.Value)
	}
	if s.High.Given() && s.High.Value < 1 {
		v.error(s.High.At, "write a factor of the hours that is at least 1, such as 1.5",
			"the high hours of %s: %g times the likely ones", who, s.High.Value)
		return
	}
	v.within(s.High, Limits.SpreadHigh, "the factor of the high hours of "+who)
}

func (v *validation) equipment(e *Equipment) {
	v.count(e.Count, 1, "the number of "+e.ID.Value)
	if e.Kind.Value != "" && !hyphenID.MatchString(e.Kind.Value) {
		v.error(e.Kind.At, "write lower-case words and digits joined by hyphens",
			"%q is not the form of an identifier (kind of equipment)", e.Kind)
	}
	seen := map[string]bool{}
	for _, h := range e.Hulls {
		v.known("hull", h)
		if seen[h.Value] {
			v.error(h.At, "name it once", "the equipment %s names the hull %q twice", e.ID, h)
		}
		seen[h.Value] = true
	}
	// whoever occupies a kind has to know which one it is
	for i := range v.book.Equipment {
		o := &v.book.Equipment[i]
		if o == e {
			return
		}
		for h := range v.book.Hulls {
			hull := v.book.Hulls[h].ID.Value
			if o.Name() == e.Name() && isAmong(o.Hulls, hull) && isAmong(e.Hulls, hull) {
				v.error(e.ID.At, "write count: 2 where the yard has two alike, or other hulls",
					"%s and %s are both the %s of %s", o.ID, e.ID, e.Name(), hull)
				return
			}
		}
	}
}

func (v *validation) operation(o *Operation) {
	v.subcontracted(o)
	who := "the operation " + o.ID.Value
	v.crew(o)
	v.spread(o.Spread, who)
	before := map[string]bool{}
	for _, a := range o.After {
		v.known("operation", a.Operation)
		if before[a.Operation.Value] {
			v.error(a.Operation.At, "name it once", "%s comes after %s twice", who, a.Operation)
		}
		before[a.Operation.Value] = true
		v.atLeast(a.WaitHours, 0, "the hours to wait after "+a.Operation.Value)
		v.within(a.WaitHours, Limits.WaitHours, "the time to wait after "+a.Operation.Value)
		v.atLeast(a.WithinHours, 0, "the hours within which "+who+" has to begin")
		if a.WithinHours.Given() && a.WithinHours.Value < a.WaitHours.Value {
			v.error(a.WithinHours.At, "write at most how many hours may pass, which are more",
				"%s has to wait %g h after %s and to begin within %g h", who, a.WaitHours.Value, a.Operation,
				a.WithinHours.Value)
		}
	}
	for _, u := range o.Uses {
		v.knownEquipment(u)
	}
	for _, h := range o.Holds {
		v.knownEquipment(h.Equipment)
		v.known("operation", h.Until)
	}
	v.batch(o)
	for _, s := range o.Steps {
		if strings.TrimSpace(s.Value) == "" {
			v.error(s.At, "write a short sentence, or leave it out", "a step of %s is empty", o.ID)
		}
	}
	v.checks(o)
}

// crew reports more people at an operation than its shop has, or than have the skill that it asks for.
func (v *validation) crew(o *Operation) {
	v.count(o.Crew, 1, "the crew of "+o.ID.Value)
	i := slices.IndexFunc(v.book.Shops, func(s Shop) bool { return s.ID.Value == o.Shop.Value })
	if i < 0 {
		return
	}
	s, crew := &v.book.Shops[i], max(o.Crew.Value, 1)
	if crew > s.People.Value && s.People.Value >= 1 {
		v.error(o.Crew.At, "let fewer be at it, or give the shop more people",
			"the crew of %s is %g, and the shop %s has %g people", o.ID, crew, s.ID, s.People.Value)
	}
	if o.Skill.Value == "" {
		return
	}
	var names []string
	for _, k := range s.Skills {
		names = append(names, k.ID.Value)
		if k.ID.Value != o.Skill.Value {
			continue
		}
		if crew > k.People.Value {
			v.error(o.Skill.At, "let fewer be at it, or write under skills: how many have it",
				"the crew of %s is %g, and %g of %s have the skill %s", o.ID, crew, k.People.Value, s.ID, k.ID)
		}
		return
	}
	advice := fmt.Sprintf("add it to the shop, such as skills: [{id: %s, title: …, people: 1}]", o.Skill)
	v.error(o.Skill.At, suggest.Nearest(o.Skill.Value, names, advice), "the shop %s lacks the skill %q", s.ID, o.Skill)
}

// knownEquipment reports equipment that the yard does not have by this name.
func (v *validation) knownEquipment(name Text) {
	var names []string
	for i := range v.book.Equipment {
		names = append(names, v.book.Equipment[i].Name())
	}
	if !slices.Contains(names, name.Value) {
		v.error(name.At, suggest.Nearest(name.Value, names,
			fmt.Sprintf("add it under equipment:, such as {id: %s, title: …}", name)), "unknown equipment %q", name)
	}
}

func (v *validation) batch(o *Operation) {
	switch b := o.Batch; {
	case b.Value == "" && o.SetupHours.Given():
		v.error(o.SetupHours.At, "add batch: hull or batch: colour, or leave the set-up out",
			"the set-up of %s is shared by no boats", o.ID)
	case b.Value == "":
	case b.Value != "hull" && b.Value != "colour":
		v.error(b.At, "write hull or colour", "the boats that share the set-up of %s are no %q", o.ID, b)
	case !o.SetupHours.Given():
		v.error(b.At, "add setup_hours: with the hours that are worked once for boats in a row",
			"nothing says how long the set-up of %s takes", o.ID)
	}
	v.atLeast(o.SetupHours, 0, "the hours of setting up "+o.ID.Value)
	v.within(o.SetupHours, Limits.Hours, "the set-up of "+o.ID.Value)
}

// checks reports bounds that nothing can keep, and predictions of something else.
func (v *validation) checks(o *Operation) {
	seen := map[string]bool{}
	for _, c := range o.Checks {
		if !hyphenID.MatchString(c.ID.Value) || seen[c.ID.Value] {
			v.error(c.ID.At, "write each check once, in lower-case words joined by hyphens",
				"the check %q of %s is ill formed or there twice", c.ID, o.ID)
		}
		seen[c.ID.Value] = true
		if strings.TrimSpace(c.Title.Value) == "" {
			v.error(c.Title.At, "write what is to be filled in", "the check %s of %s has an empty title", c.ID, o.ID)
		}
		if c.Unit.Value != "" {
			v.checkUnit(c.Unit)
		}
		if c.Least.Given() && c.Most.Given() && c.Least.Value > c.Most.Value {
			v.error(c.Least.At, "write the smaller number as least", "the least of the check %s is %g, above its most "+
				"of %g", c.ID, c.Least.Value, c.Most.Value)
		}
		if c.Unit.Value == "" && (c.Least.Given() || c.Most.Given() || c.Figure.Value != "") {
			v.error(c.ID.At, "add unit: each for a count, or the unit that is measured in",
				"the check %s is a number without a unit", c.ID)
		}
		if c.Figure.Value == "" || !v.known("figure", c.Figure) {
			continue
		}
		for _, f := range v.book.Figures {
			if f.ID.Value == c.Figure.Value && f.Unit.Value != c.Unit.Value && c.Unit.Value != "" {
				v.error(c.Unit.At, "write "+f.Unit.Value+", or name another figure",
					"the check %s is in %s, and the figure %s beside it in %s", c.ID, c.Unit, f.ID, f.Unit)
			}
		}
	}
}

// checkUnit reports a unit in which no shop measures.
func (v *validation) checkUnit(id Text) {
	var names []string
	for _, u := range slices.Concat(measure.Units, measure.Shop) {
		names = append(names, u.ID)
	}
	if !slices.Contains(names, id.Value) {
		v.error(id.At, suggest.Nearest(id.Value, names, "the units of checks are "+strings.Join(names, ", ")),
			"unknown unit %q", id)
	}
}

// served reports work on a hull with equipment that does not serve it, and equipment that no operation needs.
func (v *validation) served() {
	needs := func(o *Operation) (list []Text) {
		list = append(list, o.Uses...)
		for _, h := range o.Holds {
			list = append(list, h.Equipment)
		}
		return list
	}
	used := map[string]bool{}
	for i := range v.book.Operations {
		o := &v.book.Operations[i]
		for _, name := range needs(o) {
			used[name.Value] = true
			for h := range v.book.Hulls {
				v.servedOn(o, name, &v.book.Hulls[h])
			}
		}
	}
	for i := range v.book.Equipment {
		if e := &v.book.Equipment[i]; !used[e.Name()] && !v.unknown {
			v.warn(e.ID.At, "take it out of the book, or name it under uses: or holds:",
				"no operation uses or holds the equipment %s", e.ID)
		}
	}
}

// servedOn reports an operation of the base boat of a hull that needs equipment of a kind that serves other hulls
// alone.
func (v *validation) servedOn(o *Operation, name Text, h *Hull) {
	if !slices.Contains(operationIDs(h.Operations), o.ID.Value) {
		return
	}
	var kind *Equipment
	for i := range v.book.Equipment {
		if e := &v.book.Equipment[i]; e.Name() == name.Value {
			if isAmong(e.Hulls, h.ID.Value) {
				return
			}
			kind = e
		}
	}
	if kind != nil {
		v.error(name.At, fmt.Sprintf("add the hull to one of them, or {id: …, title: …, kind: %s, hulls: [%s]} "+
			"under equipment:", name, h.ID), "%s is worked on %s, and no %s serves that hull", o.ID, h.ID, name)
	}
}

// undone checks until when a choice is free and what undoing it takes.
func (v *validation) undone(s *Slot) {
	if s.FreeUntil.Value != "" {
		v.known("operation", s.FreeUntil)
	}
	if s.Undo == nil {
		return
	}
	if len(s.Undo.Hours) == 0 && !s.Undo.ShareLost.Given() {
		v.error(s.Undo.At, "write undo: {hours: {assembly: 4}, share_lost: \"0.4\"}, or leave it out where the choice "+
			"can no longer be changed", "nothing says what undoing %s takes", s.ID)
	}
	for _, h := range s.Undo.Hours {
		v.known("shop", h.Shop)
		v.atLeast(h.Hours, 0, "the hours of undoing "+s.ID.Value)
		v.within(h.Hours, Limits.Hours, "undoing "+s.ID.Value)
	}
	v.share(s.Undo.ShareLost, "1")
}
