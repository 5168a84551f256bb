package proof

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/fit"
	"ribband/core/pack"
)

// mostValues is how many values of a use field are tried one by one; of more, as many spread over them, the ends among them.
const mostValues = 60

// values are those of a field that are tried.
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

// ends are the least and the greatest value of a field, or all of its choices.
func ends(u *pack.UseField) []float64 {
	if len(u.Choices) > 0 {
		return values(u)
	}
	return []float64{u.Value(0), u.Value(u.Steps() - 1)}
}

// around are the other values of a field: the two next to one, the ends, then what is further and further off.
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

func everyField(p *pack.Pack) (list []int) {
	for i := range p.Use {
		list = append(list, i)
	}
	return list
}

// uses proves that for every value of every field some boat can be built, and lists where that is not so of a single hull.
func (p *prover) uses() {
	standard := p.engine.StandardUse()
	for i := range p.pack.Use {
		u := &p.pack.Use[i]
		var dead []float64
		var why *fit.Reason
		without := make([][]string, len(p.pack.Hulls))
		for _, v := range values(u) {
			use := slices.Clone(standard)
			use[i] = v
			alive := false
			for h := range p.pack.Hulls {
				switch found, decided := p.alive(h, use); {
				case found:
					alive = true
				case decided:
					without[h] = append(without[h], value(u, v).String())
				default:
					p.unknown(Finding{Kind: DeadEnd, Index: i}, fmt.Sprintf("whether a boat of %s can be built with %s: %s", p.pack.Hulls[h].ID, u.ID, value(u, v)), triedBoats(seekBoats))
				}
			}
			if alive {
				continue
			}
			switch a := p.otherwise(i, use); {
			case a.never():
				if dead = append(dead, v); len(dead) == 1 && len(a.reasons) > 0 {
					why = a.reasons[0].Reason
				}
			case a.state == nil:
				p.unknown(Finding{Kind: DeadEnd, Index: i}, fmt.Sprintf("whether any boat can be built with %s: %s", u.ID, value(u, v)), a.tried())
			}
		}
		for h, list := range without {
			if len(list) > 0 {
				p.proof.Hulls[h].Without = append(p.proof.Hulls[h].Without, u.ID+" "+shortened(list))
			}
		}
		if len(dead) > 0 {
			p.deadEnd(i, dead, why)
		}
	}
}

// alive looks for a boat of a hull for one use.
func (p *prover) alive(hull int, use []float64) (found, decided bool) {
	b := p.fit.Complete(hull, use, p.fit.NewChoices(), fit.DefaultTries)
	if valid(b) {
		p.keep(b.State)
		return true, true
	}
	if b.Outcome == fit.Hopeless {
		return false, true
	}
	st, why := p.decide(ask(p.book(), hull), use)
	p.keep(st)
	return st != nil, st != nil || why != nil
}

// otherwise looks for a boat of any hull with one field as it is and the others as they may be. The reasons are those of the first hull.
func (p *prover) otherwise(field int, use []float64) (all answer) {
	for h := range p.pack.Hulls {
		a := p.overUses(ask(p.book(), h), use, field)
		if h == 0 {
			all.reasons = a.reasons
		}
		all.state, all.open, all.unasked = a.state, all.open+a.open, all.unasked || a.unasked
		if p.keep(a.state); a.state != nil {
			return all
		}
	}
	return all
}

// deadEnd tells the values with which nothing can be built, and why the first hull cannot with the first of them.
func (p *prover) deadEnd(field int, dead []float64, why *fit.Reason) {
	u, use := &p.pack.Use[field], p.engine.StandardUse()
	var list []string
	for _, v := range dead {
		list = append(list, value(u, v).String())
	}
	use[field] = dead[0]
	message := fmt.Sprintf("with %s %s no boat of any hull can be built", u.ID, shortened(list))
	if why != nil {
		message += fmt.Sprintf("; %s: %s", p.pack.Hulls[0].ID, p.because(why))
	}
	witness := p.spec(0, use, p.fit.NewChoices())
	p.find(Finding{Kind: DeadEnd, Index: field, Message: message, Advice: "narrow the field to what can be built, or change a rule", Witness: &witness})
}

// shortened joins values, a long run of them by its ends.
func shortened(list []string) string {
	if len(list) > 3 {
		return list[0] + " to " + list[len(list)-1]
	}
	return strings.Join(list, ", ")
}
