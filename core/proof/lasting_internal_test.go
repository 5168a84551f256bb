package proof

import (
	"testing"

	"ribband/core/pack"
	"ribband/core/spec"
)

// What is open, or told without what it rests on, is asked anew when rules were changed; of a guard it is enough that
// no boat was found. What is about all boats together is asked anew, and so is a rule that is another.
func TestWhatIsOpenDoesNotLast(t *testing.T) {
	p := &pack.Pack{}
	p.Rules = []pack.Rule{{ID: "guard", Guard: true}, {ID: "rule"}}
	l, same := &lasting{prover: &prover{pack: p}}, &others{}
	for _, c := range []struct {
		name string
		ask  ask
		is   Finding
		were *others
		want bool
	}{
		{"proved", ask{}, Finding{Never: true}, same, true},
		{"open", ask{}, Finding{Effort: &Effort{}}, same, false},
		{"a hull is open", ask{}, Finding{Unsure: []int{0}}, same, false},
		{"a hull has none", ask{}, Finding{Without: []int{0}}, same, false},
		{"a formula is open", ask{}, Finding{Open: []int{0}}, same, false},
		{"a formula fails", ask{}, Finding{Gives: "is -1", Spec: &spec.Spec{}}, same, false},
		{"a guard is open", ask{rule: 1}, Finding{Effort: &Effort{}}, same, true},
		{"a rule is open", ask{rule: 2}, Finding{Effort: &Effort{}}, same, false},
		{"a rule is another", ask{rule: 2}, Finding{Never: true}, &others{fresh: []int{1}}, false},
		{"all boats", ask{all: true}, Finding{Count: "12"}, same, false},
	} {
		if got := l.stands(&c.ask, &c.is, c.were); got != c.want {
			t.Errorf("%s: stands %v", c.name, got)
		}
	}
}
