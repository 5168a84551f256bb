package count_test

import (
	"fmt"

	"ribband/core/fit/count"
)

func ExampleCount() {
	// A folding top (1) needs a frame (2) and does not go with a hard top (3).
	n, err := count.Count(3, [][]int{{-1, 2}, {-1, -3}}, count.Limits{})
	fmt.Println(n, err)
	// Output: 5 <nil>
}

func ExampleFormula_Marginals() {
	const (
		tiller = iota + 1
		sideWheel
		centreWheel
		dashSide
		dashCentre
		noDash
	)
	f := count.Formula{Variables: noDash}
	f.ExactlyOne(tiller, sideWheel, centreWheel)
	f.ExactlyOne(dashSide, dashCentre, noDash)
	f.Clauses = append(f.Clauses, []int{-tiller, noDash}, []int{-sideWheel, dashSide}, []int{-centreWheel, -noDash})
	m, err := f.Marginals(count.Limits{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("boats", m.Total)
	fmt.Println("with a side dash", m.With(dashSide))
	fmt.Println("without a centre wheel", m.With(-centreWheel))
	// Output:
	// boats 4
	// with a side dash 2
	// without a centre wheel 2
}
