package screen_test

import (
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/spec"
)

// The yard's page has what a supplier does as a lane of the build, with his name and the price, and as a part of the
// cost; the show's has the cost alone, and the buyer's page nothing.
func TestOutsideWorkOnThePages(t *testing.T) {
	coated := spec.Spec{Format: spec.Format, Hull: "reed-65", Choices: map[string]map[string]int{
		"top": {"top-canopy": 1}, "frame-material": {"frame-aluminium": 1}}}
	for desk, e := range engines() {
		p := *e.Pack
		if desk == pack.Yard {
			work := *p.Work
			people := len(work.Shops)
			for _, s := range work.Shops {
				people += len(s.Skills)
			}
			work.Load = &pack.Load{Day: "2027-03-01", Built: make([]int, len(p.Hulls)), Taken: plan.Taken{
				Resources: make([]plan.Level, people), Holders: make([]plan.Level, len(work.Equipment))}}
			p.Work = &work
		}
		known, err := engine.Compile(&p)
		if err != nil {
			t.Fatal(err)
		}
		v := view(t, known, coated)
		page := v.Page()
		for word, desks := range map[string]string{"Outside work": "show yard", "145.60": "show yard",
			"Duskbarrow Coaters": "yard", "Duskbarrow Coaters, 8 days": "yard",
			"<title>Powder-coat the welded frame</title>": "yard"} {
			if has := strings.Contains(page, word); has != strings.Contains(desks, string(desk)) {
				t.Errorf("the %s's page has %q: %v", desk, word, has)
			}
		}
	}
}
