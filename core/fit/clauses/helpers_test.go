package clauses_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"testing"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/fit/clauses"
	"ribband/core/fit/sat"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/publish"
)

// The boats of these tests are invented.

func program(text string) formula.Program {
	p, err := formula.Parse(text)
	if err != nil {
		panic(err)
	}
	return p
}

// puzzle is a small random book of one hull: three to five slots, rules over options, counts, and what the options
// carry.
type puzzle struct {
	pack    *pack.Pack
	figures *figures.Figures
	fit     *fit.Fit
	slots   int // with a condition
}

func anyPuzzle(t testing.TB, r *rand.Rand) *puzzle {
	p := &pack.Pack{
		Format: pack.Format, Desk: pack.Buyer, Public: pack.Public{Currency: "EUR", Rounding: "half-even",
			RegionField: -1,
			Sections:    []pack.Section{{ID: "all", Title: "All"}},
			Use:         []pack.UseField{{ID: "persons", Title: "Persons", Min: 1, Max: 12, Step: 1, Standard: 4}},
			Figures: []pack.Figure{{ID: "mass", Unit: "kg"}, {ID: "laden", Unit: "kg",
				Formula: program("f0 n10 u0 * +")},
				// of the first slot alone, so that no slot's condition follows from the slot
				{ID: "ballast", Unit: "kg"}},
			Hulls:  []pack.Hull{{ID: "short", Title: "Short", Fields: []float64{}, Standard: []pack.Count{}}},
			Prices: &pack.Prices{Base: make([]pack.Table, 1)},
		}}
	p.Assemble()
	var ones []int
	conditions := 0
	for i := range 3 + r.IntN(3) {
		s := pack.Slot{ID: fmt.Sprint("slot", i), Title: "Slot", First: len(p.Options), Most: 1, Least: r.IntN(2)}
		if s.Multiple = r.IntN(4) == 0; s.Multiple {
			s.Least, s.Most = r.IntN(3), []int{0, 2, 3, 4}[r.IntN(4)]
		}
		if i > 0 && r.IntN(3) == 0 {
			s.When, s.Because = program(strings.ReplaceAll(anyCondition(r, len(p.Options), ones, 1), "f1", "f2")),
				"Closed."
			conditions++
		}
		for j := range 2 + r.IntN(2) {
			o := pack.Option{ID: fmt.Sprintf("%c%d", 'a'+i, j), Title: "Option", Slot: i, Most: 1,
				Carries: []pack.Contribution{{Figure: 0, Amount: program(fmt.Sprint("n", r.IntN(30)))}}}
			if i == 0 {
				o.Carries = append(o.Carries, pack.Contribution{Figure: 2, Amount: program(fmt.Sprint("n",
					r.IntN(130)))})
			}
			if s.Multiple {
				o.Most += r.IntN(3)
			}
			p.Options, p.Prices.Options = append(p.Options, o), append(p.Prices.Options, make([]pack.Table, 1))
			if r.IntN(5) == 0 {
				p.Hulls[0].Standard = append(p.Hulls[0].Standard, pack.Count{Option: len(p.Options) - 1, Count: 1})
			}
		}
		if s.End = len(p.Options); !s.Multiple {
			ones = append(ones, i)
		}
		p.Slots = append(p.Slots, s)
	}
	p.Hulls[0].Standard = oneEach(p, p.Hulls[0].Standard)
	for range 1 + r.IntN(6) {
		p.Rules = append(p.Rules, pack.Rule{ID: "rule", Because: "Rule.",
			Need: program(anyCondition(r, len(p.Options), ones, 2)),
			When: program(anyCondition(r, len(p.Options), ones, 1))})
	}
	figs, err := figures.Compile(p)
	if err != nil {
		t.Fatal(err)
	}
	return &puzzle{p, figs, fit.Compile(p, figs), conditions}
}

// oneEach leaves one option in a slot of one.
func oneEach(p *pack.Pack, standard []pack.Count) []pack.Count {
	held, list := map[int]bool{}, []pack.Count{}
	for _, n := range standard {
		if s := p.Options[n.Option].Slot; !held[s] || p.Slots[s].Multiple {
			held[s], list = true, append(list, n)
		}
	}
	return list
}

// anyCondition writes a condition over the first options, and over slots of one.
func anyCondition(r *rand.Rand, options int, ones []int, depth int) string {
	if depth == 0 || r.IntN(4) == 0 {
		o := r.IntN(options)
		switch r.IntN(9) {
		case 0:
			return fmt.Sprintf("c%d c%d n%d + {", o, r.IntN(options), r.IntN(2))
		case 1:
			return fmt.Sprintf("n%d f1 <", 40+r.IntN(90))
		case 2:
			return fmt.Sprintf("c%d n%d =", o, r.IntN(3))
		case 3:
			if len(ones) > 0 {
				return fmt.Sprint("s", ones[r.IntN(len(ones))])
			}
		case 4:
			return []string{"T", "F", "u0 n4 =", "u0 n3 <"}[r.IntN(4)]
		}
		return fmt.Sprint("o", o)
	}
	a, b := anyCondition(r, options, ones, depth-1), anyCondition(r, options, ones, depth-1)
	switch r.IntN(6) {
	case 0, 1:
		return a + " !"
	case 2, 3:
		return a + " " + b + " |"
	case 4:
		return a + " " + b + " &"
	}
	return a + " " + b + " " + anyCondition(r, options, ones, depth-1) + " ?"
}

var use = []float64{4}

// boats visits every filling of the slots that package fit finds nothing wrong with.
func (z *puzzle) boats(c fit.Choices, visit func(counts []int)) {
	all := fit.Choices{Settled: make([]bool, len(z.pack.Slots)), Counts: append([]int(nil), c.Counts...)}
	for s := range all.Settled {
		all.Settled[s] = true
	}
	var from func(o int)
	from = func(o int) {
		switch {
		case o == len(all.Counts):
			if len(z.fit.Complete(0, use, all.Clone(), 1).Clashes) == 0 {
				visit(all.Counts)
			}
		case c.Settled[z.pack.Options[o].Slot]:
			from(o + 1)
		default:
			for n := range z.pack.Options[o].Most + 1 {
				all.Counts[o] = n
				if !z.pack.Slots[z.pack.Options[o].Slot].Multiple && n > 0 && z.others(all.Counts, o) {
					continue
				}
				from(o + 1)
			}
			all.Counts[o] = 0
		}
	}
	from(0)
}

// fillings is how many fillings there are, rules and limits aside.
func (z *puzzle) fillings() int {
	n := 1
	for _, s := range z.pack.Slots {
		contents := 1 + s.End - s.First
		if s.Multiple {
			contents = 1
			for o := s.First; o < s.End; o++ {
				contents *= 1 + z.pack.Options[o].Most
			}
		}
		n *= contents
	}
	return n
}

// others says whether there is an option before one in its slot.
func (z *puzzle) others(counts []int, o int) bool {
	for before := z.pack.Slots[z.pack.Options[o].Slot].First; before < o; before++ {
		if counts[before] > 0 {
			return true
		}
	}
	return false
}

const demoBook = "../../../rules"

// demo is the buyer's pack of the demo book, made once.
var demo = sync.OnceValue(func() *puzzle {
	packs, _, problems, err := publish.Load(os.DirFS(demoBook))
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	p := packs[pack.Buyer]
	figs, err := figures.Compile(p)
	if err != nil {
		panic(err)
	}
	return &puzzle{pack: p, figures: figs, fit: fit.Compile(p, figs)}
})

// standardUse is the use that the book assumes.
func (z *puzzle) standardUse() []float64 {
	use := make([]float64, len(z.pack.Use))
	for i, u := range z.pack.Use {
		use[i] = u.Standard
	}
	return use
}

// asked asks for a boat with some choices under the rules of the book.
func asked(c fit.Choices) clauses.Question {
	return clauses.Question{Settled: c.Settled, Counts: c.Counts}
}

// statusOf is what package fit calls an answer.
func statusOf(a *clauses.Answer) fit.Status {
	return map[sat.Status]fit.Status{sat.Sat: fit.Optimal, sat.Unsat: fit.Infeasible,
		sat.Unknown: fit.Unknown}[a.Status]
}
