package formula_test

import (
	"slices"
	"testing"

	"ribband/core/formula"
)

func TestGuard(t *testing.T) {
	for text, want := range map[string]*formula.Guard{
		"o1":                     {Options: []int{1}},
		"s2":                     {Slots: []int{2}},
		"o1 f0 n3 < &":           {Options: []int{1}},
		"f0 n3 < o1 &":           {Options: []int{1}},
		"o1 s2 |":                {Options: []int{1}, Slots: []int{2}},
		"o1 s2 | o3 | f0 n3 < &": {Options: []int{1, 3}, Slots: []int{2}},
		"o1 f0 n3 < |":           nil,
		"o1 !":                   nil,
		"f0 n3 <":                nil,
		"o1 n1 n2 ? n0 <":        nil,
		"":                       nil,
	} {
		p, err := formula.Parse(text)
		if err != nil {
			t.Fatal(text, err)
		}
		if got := p.Guard(); (got == nil) != (want == nil) || got != nil &&
			(!slices.Equal(got.Options, want.Options) || !slices.Equal(got.Slots, want.Slots)) {
			t.Errorf("%q is guarded by %v, want %v", text, got, want)
		}
	}
}
