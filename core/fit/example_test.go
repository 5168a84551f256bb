package fit_test

import (
	"fmt"
	"os"
	"strings"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/publish"
)

// A boat is completed around what a person has settled: here the heavy cloth, for which the top of the standard build
// gives way.
func ExampleFit_Complete() {
	packs, _, _, err := publish.Load(os.DirFS("../../testdata/books/small"))
	if err != nil {
		fmt.Println(err)
		return
	}
	p := packs[pack.Buyer]
	figs, err := figures.Compile(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	f := fit.Compile(p, figs)
	show := func(b *fit.Build) {
		var words []string
		for o, n := range b.State.Counts {
			if n > 0 {
				words = append(words, p.Options[o].Title+".")
			}
		}
		for _, c := range b.Clashes {
			words = append(words, "But: "+c.Reason.String())
		}
		fmt.Println(strings.Join(words, " "))
	}
	hull, use := 0, []float64{4, 0} // four persons, at home
	standard := f.Complete(hull, use, f.NewChoices(), fit.DefaultTries)
	show(standard)
	heavy, folding := 3, 0 // options of the pack
	b := f.Complete(hull, use, f.With(standard, heavy, 1), fit.DefaultTries)
	show(b)
	show(f.Complete(hull, use, f.With(b, folding, 1), fit.DefaultTries))
	// Output:
	// Folding top. Light acrylic cloth.
	// Fixed top. Heavy coated cloth.
	// Folding top. Heavy coated cloth. But: The heavy cloth cracks where it is folded.
}
