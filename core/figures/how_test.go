package figures_test

import (
	"testing"

	"ribband/core/figures"
)

// Every figure that can be computed says how, and from where.
func TestEveryComputedFigureIsExplained(t *testing.T) {
	for _, name := range figures.Names() {
		if h, ok := figures.Explain(name); !ok || h.Formula == "" || h.Source == "" {
			t.Errorf("%s is not explained: %+v", name, h)
		}
	}
}
