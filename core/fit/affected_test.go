package fit_test

import (
	"testing"

	"ribband/core/figures"
	"ribband/core/formula"
)

// After one more choice, only those rules of the demo book can be judged otherwise that read something of what changed:
// counted with the figures, and, with every figure resolved to what it is computed from, without them.
func TestOnlyAffectedRulesAreJudgedOtherwise(t *testing.T) {
	d := demo()
	figs, err := figures.Compile(d.pack)
	if err != nil {
		t.Fatal(err)
	}
	list, reads := d.rules()
	resolved := make([]formula.Reads, len(reads))
	for i, r := range reads {
		resolved[i] = figs.Resolve(r)
	}
	rules := formula.NewRules(list)
	direct, indirect := formula.NewIndex(reads, d.pack.Space()), formula.NewIndex(resolved, d.pack.Space())
	judged, otherwise := 0, 0
	for _, boat := range d.changedBoats(100) {
		causes := boat.changed
		causes.Figures = nil
		for name, affected := range map[string][]int{"direct": direct.Affected(boat.changed, nil),
			"resolved": indirect.Affected(causes, nil)} {
			judge := make([]bool, len(list))
			for _, i := range affected {
				judge[i] = true
			}
			judged += len(affected)
			for i := range list {
				if rules.Breaks(i, boat.before) == rules.Breaks(i, boat.after) {
					continue
				}
				if otherwise++; !judge[i] {
					t.Errorf("%s: rule %s is judged otherwise, but not affected by %+v", name, d.pack.Rules[i].ID,
						boat.changed)
				}
			}
		}
	}
	if all := 200 * len(list); otherwise == 0 || judged > all/2 {
		t.Errorf("of %d, %d were affected and %d judged otherwise", all, judged, otherwise)
	}
}
