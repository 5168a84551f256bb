package proof

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/formula"
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

// usesOf are the standard use, and it with one of the fields at other values.
func (p *prover) usesOf(fields []int, values func(u *pack.UseField) []float64) [][]float64 {
	standard := p.engine.StandardUse()
	return append([][]float64{standard}, p.varied(standard, fields, values)...)
}

// varied is a use with one of the fields at other values.
func (p *prover) varied(from []float64, fields []int, values func(u *pack.UseField) []float64) (list [][]float64) {
	for _, i := range fields {
		for _, v := range values(&p.pack.Use[i]) {
			if v != from[i] {
				use := slices.Clone(from)
				use[i] = v
				list = append(list, use)
			}
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

// fieldsOf are the fields of the use that something reads, through figures too.
func (p *prover) fieldsOf(r formula.Reads) []int { return p.figs.Resolve(r).Use }

// uses proves that for every value of every field some boat can be built, and lists where that is not so of a single hull.
func (p *prover) uses() {
	standard := p.engine.StandardUse()
	for i := range p.pack.Use {
		u := &p.pack.Use[i]
		var dead []float64
		without := make([][]string, len(p.pack.Hulls))
		for _, v := range values(u) {
			use := slices.Clone(standard)
			use[i] = v
			alive := false
			for h := range p.pack.Hulls {
				b, decided := p.complete(p.fit, h, use, p.fit.NewChoices())
				alive = alive || b != nil || !decided
				switch {
				case b == nil && !decided:
					p.open("whether a boat of %s can be built with %s: %s", p.pack.Hulls[h].ID, u.ID, value(u, v))
				case b == nil:
					without[h] = append(without[h], value(u, v).String())
				}
			}
			if !alive && !p.aliveWith(i, use) {
				dead = append(dead, v)
			}
		}
		for h, list := range without {
			if len(list) > 0 {
				p.proof.Hulls[h].Without = append(p.proof.Hulls[h].Without, u.ID+" "+shortened(list))
			}
		}
		if len(dead) > 0 {
			p.deadEnd(i, dead)
		}
	}
}

// aliveWith says whether a value of a field allows a boat when another field changes too.
func (p *prover) aliveWith(field int, use []float64) bool {
	others := slices.DeleteFunc(everyField(p.pack), func(i int) bool { return i == field })
	for _, other := range p.varied(use, others, ends) {
		for h := range p.pack.Hulls {
			if b, decided := p.complete(p.fit, h, other, p.fit.NewChoices()); b != nil || !decided {
				return true
			}
		}
	}
	return false
}

// deadEnd tells the values with which nothing can be built, and why the first hull cannot with the first of them.
func (p *prover) deadEnd(field int, dead []float64) {
	u, use := &p.pack.Use[field], p.engine.StandardUse()
	var list []string
	for _, v := range dead {
		list = append(list, value(u, v).String())
	}
	use[field] = dead[0]
	message := fmt.Sprintf("with %s %s no boat of any hull can be built", u.ID, shortened(list))
	if why := p.fit.Reason(0, use, p.fit.NewChoices(), -1); why != nil {
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
