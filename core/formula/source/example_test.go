package source_test

import (
	"fmt"

	"ribband/core/formula"
	"ribband/core/formula/source"
)

func ExampleLower() {
	scope := &source.Scope{
		Options: map[string]source.Option{"top-fixed": {Index: 0, Slot: 0}, "top-hard": {Index: 1, Slot: 0}},
		Slots:   map[string]source.Slot{"top": {Index: 0}},
		Hull:    map[string]int{"top_m2": 0},
	}
	cloth, err := source.Lower(`chosen("top") == "top-fixed" ? 1.2 * hull.top_m2 : 0`, scope, formula.Number)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(cloth)
	fmt.Println(cloth.Number()(&formula.State{Counts: []int{1, 0}, Slots: []int{1}, Hull: []float64{5}}))

	_, err = source.Lower(`has("top-soft")`, scope, formula.Truth)
	fmt.Printf("byte %d: %s\n", err.Offset, err)
	// Output:
	// o0 n1.2 h0 * n0 ?
	// 6
	// byte 4: unknown option "top-soft"; did you mean "top-hard"?
}
