package proof

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
)

// mostValues is how many values of a use field are tried one by one; of more, as many spread over them, the ends among
// them. Each is a search on each hull, and a field in steps of a centimetre may have thousands.
const mostValues = 60

// values are those of a field that are tried. The ends are always among them: limits fail at the ends first.
func values(u *pack.UseField) (list []float64) {
	n := u.Steps()
	if n <= mostValues {
		for i := range n {
			list = append(list, u.Value(i))
		}
		return list
	}
	for i := range mostValues {
		list = append(list, u.Value(i*(n-1)/(mostValues-1)))
	}
	return list
}

// around are the other values of a field: the two next to one, the ends, then what is further and further off. Near
// values mostly go the same way and are the quickest to find a boat with; the ends are where something breaks.
func around(u *pack.UseField, from float64) (list []float64) {
	at, n := u.StepOf(from), u.Steps()
	steps := []int{at - 1, at + 1, 0, n - 1}
	for d := 2; d < n; d++ {
		steps = append(steps, at-d, at+d)
	}
	for _, i := range steps {
		if i >= 0 && i < n && i != at && !slices.Contains(list, u.Value(i)) {
			list = append(list, u.Value(i))
		}
	}
	return list
}

// distinct are of the other values of a field those that rules and conditions of slots can tell apart: of several that
// are alike to all of them the first. Most fields are read by few conditions, persons by a limit or two, so that of a
// dozen values two or three are left to ask about.
func (p *prover) distinct(field int, from float64) (list []float64) {
	u, alike := &p.pack.Use[field], p.alike[field]()
	seen := []string{alike[u.StepOf(from)]}
	for _, v := range around(u, from) {
		if s := alike[u.StepOf(v)]; !slices.Contains(seen, s) {
			seen, list = append(seen, s), append(list, v)
		}
	}
	return list
}

// signatures tell the values of a field apart: each is what the conditions that read the field alone, or with the hull,
// give with it. Where something else reads the field, no two are the same. A condition is evaluated without a boat,
// with the field and the hull alone, which is all that it reads.
func (p *prover) signatures(field int) []string {
	var atoms []formula.TruthFunc
	apart := p.computedReads(field)
	for _, f := range p.conditions() {
		apart = apart || !atomsOf(f, field, &atoms) ||
			slices.Contains(p.figs.Resolve(formula.Reads{Figures: f.Reads().Figures}).Use, field)
	}
	u := &p.pack.Use[field]
	list := make([]string, u.Steps())
	for i := range list {
		if apart {
			list[i] = fmt.Sprint(i)
			continue
		}
		for h := range p.pack.Hulls {
			st := figures.NewState(p.pack, h, p.engine.StandardUse())
			st.Use[field] = u.Value(i)
			for _, holds := range atoms {
				list[i] += fmt.Sprint(holds(st), " ")
			}
		}
	}
	return list
}

// conditions are those of slots and rules. They are all that can tell two values of a field apart, but for modules that
// fail.
func (p *prover) conditions() (list []formula.Program) {
	for i := range p.pack.Slots {
		list = append(list, p.pack.Slots[i].When)
	}
	for i := range p.pack.Rules {
		list = append(list, p.pack.Rules[i].When, p.pack.Rules[i].Need)
	}
	return list
}

// computedReads says whether a figure that a module computes, and so may fail to, follows from a field. Such a figure
// may change with every step of the field, so that no two values can be called alike.
func (p *prover) computedReads(field int) bool {
	var r formula.Reads
	for i := range p.pack.Figures {
		if p.pack.Figures[i].Computed != "" {
			r.Figures = append(r.Figures, i)
		}
	}
	return slices.Contains(p.figs.Resolve(r).Use, field)
}

// atomsOf finds the conditions within a formula that read a field, and nothing besides but the hull; false where the
// field is read otherwise. It goes down a formula as far as the field takes it: "persons > 6 and mass > 900" has the
// atom "persons > 6".
func atomsOf(f formula.Program, field int, atoms *[]formula.TruthFunc) bool {
	if f.Empty() {
		return true
	}
	r := f.Reads()
	switch {
	case !slices.Contains(r.Use, field):
		return true
	case f.Kind() == formula.Truth && len(r.Use) == 1 && len(r.Options)+len(r.Slots)+len(r.Figures) == 0:
		*atoms = append(*atoms, f.Truth())
		return true
	}
	_, in := f.Split()
	for _, operand := range in {
		if !atomsOf(operand, field, atoms) {
			return false
		}
	}
	return len(in) > 0
}

// uses proves that for every value of every field some boat can be built, and lists where that is not so of a single
// hull. With nothing else changed is what somebody sees who opens the page and moves one field; that no other field
// helps makes it an error of the book. Every field is taken by itself; combinations are left to the questions that
// reasons lead to.
func (p *prover) uses(q *questions) {
	for i := range p.pack.Use {
		v := p.valuesOf(i, q.values[i])
		for h := range p.pack.Hulls {
			if list := v.without[h]; len(list) > 0 {
				p.proof.Hulls[h].Without = append(p.proof.Hulls[h].Without, p.pack.Use[i].ID+" "+shortened(list))
			}
			if list := v.open[h]; len(list) > 0 {
				p.unknown(Diagnostic{Kind: DeadEnd, Index: i, Advice: narrower},
					fmt.Sprintf("whether a boat of %s can be built with %s %s and nothing else changed",
						p.pack.Hulls[h].ID, p.pack.Use[i].ID, shortened(list)), v.openTried[h])
			}
		}
		if len(v.dead) > 0 {
			p.deadEnd(i, v.dead, v.why)
		}
		if len(v.unknown) > 0 {
			p.unknown(Diagnostic{Kind: DeadEnd, Index: i, Advice: narrower},
				fmt.Sprintf("whether any boat can be built with %s %s", p.pack.Use[i].ID, shortened(v.unknown)),
				v.tried)
		}
	}
}

const narrower = "narrow the field to what can be built, or split the rules over figures that take part"

// valued is what is known of the values of a field. Open values are told apart from those that are proved to have no
// boat: they are warnings, and these are errors.
type valued struct {
	without, open [][]string // by hull, with nothing else changed: no boat, or that is open
	openTried     []string   // by hull: what was tried of the first of these
	dead          []float64  // no boat of any hull, whatever else is changed
	why           *Why
	unknown       []string // that is open
	tried         string
}

// valuesOf puts together what is known of the values of a field. A hull whose answer stays open is told only if another
// has a boat: else the value as a whole is.
func (p *prover) valuesOf(field int, of []*ask) valued {
	u, out := &p.pack.Use[field], valued{without: make([][]string, len(p.pack.Hulls)),
		open: make([][]string, len(p.pack.Hulls)), openTried: make([]string, len(p.pack.Hulls))}
	for i, v := range values(u) {
		text, f := p.engine.UseValue(field, v).String(), of[i].is
		p.found(f)
		for _, h := range f.Without {
			out.without[h] = append(out.without[h], text)
		}
		switch {
		case len(f.Boats) > 0:
			for k, h := range f.Unsure {
				if out.open[h] = append(out.open[h], text); len(out.open[h]) == 1 {
					out.openTried[h] = p.tried(&f.Unmade[k])
				}
			}
		case f.Never:
			if out.dead = append(out.dead, v); out.why == nil {
				out.why = f.Why
			}
		default:
			out.unknown, out.tried = append(out.unknown, text), p.tried(f.Effort)
		}
	}
	return out
}

// A boat that is found for one value is kept as a witness for the options too: no question is asked for it alone.

// value goes through the hulls with one value of a field. Only where no hull has a boat is asked whether other fields
// would help, since that is the long question.
func (p *prover) value(field int, v float64) *Finding {
	// All hulls in one question: which of them have no boat is told together, and one boat of any of them is enough.
	f, use := &Finding{}, p.engine.StandardUse()
	use[field] = v
	for h := range p.pack.Hulls {
		switch found, decided, near := p.alive(f, h, use); {
		case found:
		case decided:
			f.Without = append(f.Without, h)
		default:
			spent := Effort{Walk: seekBoats}
			spent.opened(h, use, near)
			f.Unsure, f.Unmade = append(f.Unsure, h), append(f.Unmade, spent)
		}
	}
	if len(f.Boats) > 0 {
		return f
	}
	a := p.otherwise(f, field, use)
	if f.Never = a.never(); f.Never && len(a.reasons) > 0 {
		f.Why, f.Rules = p.whyOf(a.reasons[0].Reason), p.rulesOf(a.reasons)
	} else if a.state == nil && !f.Never {
		f.Effort = &a.effort
	}
	return f
}

// alive looks for a boat of a hull for one use. The search alone answers most of the time; the rest is for decide.
func (p *prover) alive(f *Finding, hull int, use []float64) (found, decided bool, near []int) {
	b := p.fit.Complete(hull, use, p.fit.NewChoices(), fit.DefaultTries)
	if valid(b) {
		p.note(f, b.State)
		return true, true, nil
	}
	if b.Status == fit.Infeasible {
		return false, true, nil
	}
	q := p.anyBoat(nil, hull)
	q.first = b
	st, why, near := p.decide(q, use)
	p.note(f, st)
	return st != nil, st != nil || why != nil, near
}

// otherwise looks for a boat of any hull with one field as it is and the others as they may be. The reasons of the
// first hull come first. A boat of any hull ends it. Without one the counts of all hulls are added up, so that one open
// question leaves the whole open.
func (p *prover) otherwise(f *Finding, field int, use []float64) (all answer) {
	for h := range p.pack.Hulls {
		a := p.overUses(p.anyBoat(nil, h), use, field)
		all.state, all.asked, all.open = a.state, all.asked+a.asked, all.open+a.open
		all.reasons, all.unasked = append(all.reasons, a.reasons...), all.unasked || a.unasked
		all.effort = all.effort.with(a.effort)
		if p.note(f, a.state); a.state != nil {
			return all
		}
	}
	return all
}

// deadEnd tells the values with which nothing can be built, and why the first hull cannot with the first of them. One
// reason is enough to begin with: whoever mends it proves the book again.
func (p *prover) deadEnd(field int, dead []float64, why *Why) {
	u, use := &p.pack.Use[field], p.engine.StandardUse()
	var list []string
	for _, v := range dead {
		list = append(list, p.engine.UseValue(field, v).String())
	}
	use[field] = dead[0]
	message := fmt.Sprintf("with %s %s no boat of any hull can be built", u.ID, shortened(list))
	if why != nil {
		message += fmt.Sprintf("; %s: %s", p.pack.Hulls[0].ID, p.because(why))
	}
	witness := p.engine.SpecOf(0, use, p.fit.NewChoices())
	p.find(Diagnostic{Kind: DeadEnd, Index: field, Message: message,
		Advice: "narrow the field to what can be built, or change a rule", Witness: &witness})
}

// shortened joins values, a long run of them by its ends. Values are tried in rising order, so that the ends say which
// they are, if they hang together.
func shortened(list []string) string {
	if len(list) > 3 {
		return list[0] + " to " + list[len(list)-1]
	}
	return strings.Join(list, ", ")
}
