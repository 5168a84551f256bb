package publish_test

import (
	"slices"
	"testing"

	"ribband/core/book"
	"ribband/core/figures"
	"ribband/core/pack"
	"ribband/core/publish"
)

// What the public page says of a laminate is what the book has a figure of.
func TestLayupIsWhatTheBookShows(t *testing.T) {
	whole, diagnostics := publish.Compile(readDemo(t))
	if len(diagnostics) > 0 {
		t.Fatal(reported(diagnostics))
	}
	l := whole.Hulls[0].Layup
	if l == nil || l.ShellKg <= 0 || l.DeckKg <= 0 || l.BottomMm <= 0 || l.KeelMm <= l.BottomMm {
		t.Fatalf("the lay-up is %+v", l)
	}
	b := readDemo(t)
	b.Figures = slices.DeleteFunc(b.Figures, func(f book.Figure) bool {
		return figures.ID(f.Computed.Value) == figures.LaminateBottom
	})
	less, diagnostics := publish.Compile(b)
	if len(diagnostics) > 0 {
		t.Fatal(reported(diagnostics))
	}
	want := *l
	want.BottomMm = 0
	if got := less.Hulls[0].Layup; got == nil || *got != want {
		t.Errorf("without a figure of the bottom the lay-up is %+v, want %+v", got, want)
	}
	if packs, _ := demo(); packs[pack.Buyer].Costs != nil || len(packs[pack.Show].Costs.Glass) != len(whole.Hulls) {
		t.Error("glass and resin are not where the costs are, and there alone")
	}
}
