package fit_test

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/publish"
)

// The boats of these tests are invented.

// Hulls of the hand-made packs, and their only use field and figures.
const (
	short, long = 0, 1
	persons     = "u0"
	mass        = "f0" // what is carried, in kg
	laden       = "f1" // with 80 kg for each person
)

func program(text string) formula.Program {
	p, err := formula.Parse(text)
	if err != nil {
		panic(err)
	}
	return p
}

// slot is a slot with its options, as the packs of these tests are written.
type slot struct {
	pack.Slot
	has []pack.Option
}

// one, atMostOne and multiple make a slot of options named by their identifiers.
func one(id string, options ...string) slot {
	return slot{pack.Slot{ID: id, Title: "Slot " + id, Least: 1, Most: 1}, named(options)}
}

func atMostOne(id string, options ...string) slot {
	return slot{pack.Slot{ID: id, Title: "Slot " + id, Most: 1}, named(options)}
}

// multiple takes options as id or id*most.
func multiple(id string, least, most int, options ...string) slot {
	return slot{pack.Slot{ID: id, Title: "Slot " + id, Multiple: true, Least: least, Most: most}, named(options)}
}

func named(options []string) []pack.Option {
	list := make([]pack.Option, 0, len(options))
	for _, o := range options {
		id, most := counted(o)
		list = append(list, pack.Option{ID: id, Title: "Option " + id, Most: most})
	}
	return list
}

func counted(text string) (id string, n int) {
	id, count, ok := strings.Cut(text, "*")
	n = 1
	if ok {
		n, _ = strconv.Atoi(count)
	}
	return id, n
}

func (s slot) when(text, because string) slot {
	s.When, s.Because = program(text), because
	return s
}

func (s slot) hulls(hulls ...int) slot {
	s.Hulls = hulls
	return s
}

// optionHulls makes one option for these hulls only.
func (s slot) optionHulls(id string, hulls ...int) slot {
	return s.change(id, func(o *pack.Option) { o.Hulls = hulls })
}

// carries gives one option a mass in kg.
func (s slot) carries(id, kg string) slot {
	return s.change(id, func(o *pack.Option) { o.Carries = []pack.Contribution{{Figure: 0, Amount: program(kg)}} })
}

func (s slot) change(id string, to func(*pack.Option)) slot {
	s.has = slices.Clone(s.has)
	for i := range s.has {
		if s.has[i].ID == id {
			to(&s.has[i])
		}
	}
	return s
}

func rule(when, need, because string) pack.Rule {
	return pack.Rule{ID: "rule", When: program(when), Need: program(need), Because: because,
		Advice: "Advice: " + because}
}

// boats is a pack of slots and rules. The standard build is given as option*count; with "short:" or "long:" before it
// for one hull.
func boats(t testing.TB, slots []slot, rules []pack.Rule, standard ...string) (*pack.Pack, *fit.Fit) {
	t.Helper()
	p := &pack.Pack{
		Format: pack.Format, Desk: pack.Buyer, Public: pack.Public{Currency: "EUR", Rounding: "half-even",
			RegionField: -1,
			Sections:    []pack.Section{{ID: "all", Title: "All"}},
			Use:         []pack.UseField{{ID: "persons", Title: "Persons", Min: 1, Max: 12, Step: 1, Standard: 4}},
			Figures: []pack.Figure{{ID: "mass_kg", Unit: "kg"},
				{ID: "laden_kg", Unit: "kg", Formula: program(mass + " n80 " + persons + " * +")}},
			Hulls: []pack.Hull{
				{ID: "short", Title: "Short", Fields: []float64{},
					Carries: []pack.Contribution{{Figure: 0, Amount: program("n300")}}, Standard: []pack.Count{}},
				{ID: "long", Title: "Long", Fields: []float64{},
					Carries: []pack.Contribution{{Figure: 0, Amount: program("n500")}}, Standard: []pack.Count{}},
			},
			Rules: rules, Prices: &pack.Prices{Base: make([]pack.Table, 2)},
		}}
	p.Assemble()
	for i, s := range slots {
		s.First, s.End = len(p.Options), len(p.Options)+len(s.has)
		p.Slots = append(p.Slots, s.Slot)
		for _, o := range s.has {
			o.Slot = i
			p.Options = append(p.Options, o)
			p.Prices.Options = append(p.Prices.Options, make([]pack.Table, 2))
		}
	}
	for _, text := range standard {
		hull, rest, only := strings.Cut(text, ":")
		if !only {
			rest = text
		}
		id, n := counted(rest)
		for h := range p.Hulls {
			if !only || p.Hulls[h].ID == hull {
				p.Hulls[h].Standard = append(p.Hulls[h].Standard, pack.Count{Option: option(p, id), Count: n})
			}
		}
	}
	return p, compiled(t, p)
}

// compiled checks the pack as one that is read from outside, and makes its rules.
func compiled(t testing.TB, p *pack.Pack) *fit.Fit {
	t.Helper()
	text, err := p.Encode()
	if err != nil {
		t.Fatal(err)
	}
	read, err := pack.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	figs, err := figures.Compile(read)
	if err != nil {
		t.Fatal(err)
	}
	return fit.Compile(read, figs)
}

func option(p *pack.Pack, id string) int {
	for i, o := range p.Options {
		if o.ID == id {
			return i
		}
	}
	panic("no option " + id)
}

func slotOf(p *pack.Pack, id string) int {
	for i, s := range p.Slots {
		if s.ID == id {
			return i
		}
	}
	panic("no slot " + id)
}

// settled writes choices as slot=option*count+option; "slot=" settles a slot as empty.
func settled(p *pack.Pack, f *fit.Fit, texts ...string) fit.Choices {
	c := f.NewChoices()
	for _, text := range texts {
		id, content, _ := strings.Cut(text, "=")
		c.Settled[slotOf(p, id)] = true
		for _, o := range strings.Split(content, "+") {
			if o != "" {
				id, n := counted(o)
				c.Counts[option(p, id)] = n
			}
		}
	}
	return c
}

func complete(p *pack.Pack, f *fit.Fit, hull int, texts ...string) *fit.Build {
	return f.Complete(hull, []float64{p.Use[0].Standard}, settled(p, f, texts...), fit.DefaultTries)
}

// contents writes what is in a boat: the options in the order of the pack, each with its count.
func contents(p *pack.Pack, counts []int) string {
	var parts []string
	for o, n := range counts {
		switch {
		case n == 1:
			parts = append(parts, p.Options[o].ID)
		case n != 0:
			parts = append(parts, fmt.Sprintf("%s*%d", p.Options[o].ID, n))
		}
	}
	return strings.Join(parts, " ")
}

// clashes writes each clash as its kind and reason.
func clashes(b *fit.Build) (list []string) {
	for _, c := range b.Clashes {
		list = append(list, string(c.Kind)+": "+c.Reason.String())
	}
	return list
}

// names writes options by their identifiers.
func names(p *pack.Pack, options []int) (list []string) {
	for _, o := range options {
		list = append(list, p.Options[o].ID)
	}
	return list
}

func wantBoat(t *testing.T, p *pack.Pack, b *fit.Build, content string, want ...string) {
	t.Helper()
	if got := contents(p, b.State.Counts); got != content {
		t.Errorf("in the boat: %q, want %q", got, content)
	}
	if got := clashes(b); !slices.Equal(got, want) {
		t.Errorf("clashes: %q, want %q", got, want)
	}
}

const demoBook = "../../rules"

// demo is the buyer's pack of the demo book with its rules, made once.
var demo = sync.OnceValue(func() demoBoats {
	packs, _, problems, err := publish.Load(os.DirFS(demoBook))
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	p := packs[pack.Buyer]
	figs, err := figures.Compile(p)
	if err != nil {
		panic(err)
	}
	return demoBoats{p, fit.Compile(p, figs), figs}
})

type demoBoats struct {
	pack    *pack.Pack
	fit     *fit.Fit
	figures *figures.Figures
}

// use is the use that the book assumes.
func (d demoBoats) use() []float64 {
	use := make([]float64, len(d.pack.Use))
	for i, u := range d.pack.Use {
		use[i] = u.Standard
	}
	return use
}
