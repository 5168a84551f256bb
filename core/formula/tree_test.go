package formula_test

import (
	"testing"

	"ribband/core/formula"
)

// A program taken apart is its operands in order, then its operation.
func TestSplit(t *testing.T) {
	for text, want := range map[string][]string{
		"T":                                nil,
		"o3":                               nil,
		"o1 !":                             {"o1"},
		"o1 o2 o3 & |":                     {"o1", "o2 o3 &"},
		"c1 n2 + f3 <":                     {"c1 n2 +", "f3"},
		"o1 n2 n3 ~ ? c4 {":                {"o1 n2 n3 ~ ?", "c4"},
		"o1 o2 & s3 ! h0 u1 m n4 = ? o5 |": {"o1 o2 & s3 ! h0 u1 m n4 = ?", "o5"},
		"o1 o2 & s3 ! h0 u1 m n4 = ?":      {"o1 o2 &", "s3 !", "h0 u1 m n4 ="},
	} {
		p, err := formula.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		root, operands := p.Split()
		again := []formula.Step{}
		for i, x := range operands {
			if i >= len(want) || x.String() != want[i] {
				t.Errorf("%s: operand %d is %s, want %q", text, i, x, want)
			}
			again = append(again, x.Steps()...)
		}
		whole, err := formula.New(append(again, root))
		if err != nil || whole.String() != text || len(operands) != len(want) {
			t.Errorf("%s: taken apart and put together it is %s, %v", text, whole, err)
		}
	}
}
