package publish_test

import (
	"os"
	"slices"
	"sync"
	"testing"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/spec"
)

// demo is the published demo book.
var demo = sync.OnceValues(func() (publish.Packs, publish.Counts) {
	packs, counts, diagnostics, err := publish.Load(os.DirFS(demoBook))
	if err != nil || len(diagnostics) > 0 {
		panic(reported(diagnostics))
	}
	return packs, counts
})

// readDemo reads the demo book anew, so that a test may change it.
func readDemo(t testing.TB) *book.Book {
	t.Helper()
	b, diagnostics, err := source.Read(os.DirFS(demoBook))
	if err != nil || len(diagnostics) > 0 {
		t.Fatal(err, reported(diagnostics))
	}
	return b
}

func compiled(t testing.TB, p *pack.Pack) *engine.Engine {
	t.Helper()
	e, err := engine.Compile(p)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func TestDemoBookIsSoundAndLarge(t *testing.T) {
	_, _, diagnostics, err := publish.Load(os.DirFS(demoBook))
	if err != nil || len(diagnostics) > 0 {
		t.Fatalf("%v\n%s", err, reported(diagnostics))
	}
	_, counts := demo()
	if counts.Hulls < 4 || counts.Slots < 40 || counts.Options < 160 || counts.Rules < 80 || counts.Materials < 200 ||
		counts.Operations < 20 {
		t.Errorf("the demo book has only %+v", counts)
	}
}

// The demo yard builds on both sides of 20 feet (6.096 m), where rules for small craft in some places change.
func TestDemoHullsOnBothSidesOf20Feet(t *testing.T) {
	short, long := 0, 0
	b := readDemo(t)
	length := slices.IndexFunc(b.HullFields, func(f book.Field) bool { return f.ID.Value == "length_m" })
	for i := range b.Hulls {
		if b.Dimensions(&b.Hulls[i])[length] < 6.096 {
			short++
		} else {
			long++
		}
	}
	if short < 2 || long < 2 {
		t.Errorf("%d hulls under 6.096 m and %d above, want two of each", short, long)
	}
}

// Nothing in the demo book is there in vain: every material and operation is used, and every option is made for a hull.
func TestDemoBookHasNoOrphans(t *testing.T) {
	packs, _ := demo()
	p := packs[pack.Yard]
	materials, operations := map[int]bool{}, map[int]bool{}
	for _, list := range [][]pack.BillOfMaterials{p.Costs.Hulls, p.Costs.Options} {
		for _, item := range list {
			for _, n := range item.Materials { // -1: of a circuit, whose size the boat decides
				materials[n.Index] = true
			}
			for _, n := range item.Operations {
				operations[n.Index] = true
			}
		}
	}
	for _, kept := range [][]int{p.Costs.Kept.Cables, p.Costs.Kept.Fuses, p.Costs.Kept.Holders, p.Costs.Kept.Switches} {
		for _, m := range kept {
			materials[m] = true
		}
	}
	for i, m := range p.Costs.Materials {
		if !materials[i] {
			t.Errorf("the material %s is in nothing", m.ID)
		}
	}
	for i, o := range p.Costs.Operations {
		if !operations[i] {
			t.Errorf("the operation %s is in nothing", o.ID)
		}
	}
	e := compiled(t, p)
	for o := range p.Options {
		made := false
		for h := range p.Hulls {
			made = made || e.Pack.Made(o, h)
		}
		if !made {
			t.Errorf("the option %s is made for no hull", p.Options[o].ID)
		}
		if s := p.Slots[p.Options[o].Slot]; o < s.First || o >= s.End {
			t.Errorf("the option %s is not within its slot %s", p.Options[o].ID, s.ID)
		}
	}
}

// Every option can be had in some boat: chosen on some hull for some use, where it takes so, with others of its slot,
// nothing clashes.
func TestDemoOptionsCanBeHad(t *testing.T) {
	packs, _ := demo()
	e := compiled(t, packs[pack.Buyer])
	for o := range e.Pack.Options {
		if reason := hadSomehow(t, e, o); reason != "" {
			t.Errorf("%s cannot be had: %s", e.Pack.Options[o].ID, reason)
		}
	}
}

// hadSomehow is empty where an option can be had, otherwise a clash of the last boat that was tried.
func hadSomehow(t *testing.T, e *engine.Engine, option int) (reason string) {
	p := e.Pack
	slot := &p.Slots[p.Options[option].Slot]
	for h := range p.Hulls {
		if !e.Pack.Made(option, h) {
			continue
		}
		for _, use := range uses(p) {
			for _, chosen := range contents(t, e, h, option) {
				a, err := e.Answer(spec.Spec{Format: spec.Format, Hull: p.Hulls[h].ID,
					Choices: map[string]map[string]int{slot.ID: chosen}, Use: use})
				if err != nil {
					t.Fatal(err)
				}
				if len(a.Build.Clashes) == 0 {
					return ""
				}
				reason = a.Build.Clashes[0].Reason.String()
			}
		}
	}
	return reason
}

// uses are the standard use, and those with one choice or one number at its end changed.
func uses(p *pack.Pack) []map[string]spec.Value {
	list := []map[string]spec.Value{nil}
	for _, u := range p.Use {
		for _, c := range u.Choices {
			list = append(list, map[string]spec.Value{u.ID: {Choice: c.ID}})
		}
		if len(u.Choices) == 0 {
			list = append(list, map[string]spec.Value{u.ID: {Number: u.Min}},
				map[string]spec.Value{u.ID: {Number: u.Max}})
		}
	}
	return list
}

// contents are ways to fill the slot of an option with it in it: alone, with the standard, with the standard and one
// other.
func contents(t *testing.T, e *engine.Engine, hull, option int) []map[string]int {
	p := e.Pack
	def := &p.Options[option]
	slot := &p.Slots[def.Slot]
	list := []map[string]int{{def.ID: 1}}
	if !slot.Multiple {
		return list
	}
	a, err := e.AnswerStandard(hull, "")
	if err != nil {
		t.Fatal(err)
	}
	for other := slot.First; other < slot.End; other++ {
		chosen := map[string]int{p.Options[other].ID: 1, def.ID: 1}
		for o := slot.First; o < slot.End; o++ {
			if n := a.Build.State.Counts[o]; n > 0 {
				chosen[p.Options[o].ID] = n
			}
		}
		list = append(list, chosen)
	}
	return list
}
