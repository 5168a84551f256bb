package formula_test

import (
	"fmt"

	"ribband/core/formula"
)

// Two fenders for each metre of hull field 0, but none where option 3 is chosen.
func ExampleParse() {
	p, err := formula.Parse("o3 n0 n2 h0 * ^ ?")
	if err != nil {
		fmt.Println(err)
		return
	}
	run := p.Number()
	fmt.Println(run(&formula.State{Counts: []int{0, 0, 0, 0}, Hull: []float64{5.4}}))
	fmt.Println(run(&formula.State{Counts: []int{0, 0, 0, 1}, Hull: []float64{5.4}}))
	_, err = formula.Parse("h0 n2 * o3 +")
	fmt.Println(err)
	// Output:
	// 11
	// 0
	// reading a lowered formula: step 5: "+" does not fit what stands before it
}

// Option 0 needs option 1 or 2; hull field 0 must be at least 5 where option 3 is chosen.
func ExampleRules() {
	var list []formula.Rule
	for _, texts := range [][2]string{{"o0", "o1 o2 |"}, {"o3", "n5 h0 {"}} {
		when, err1 := formula.Parse(texts[0])
		need, err2 := formula.Parse(texts[1])
		if err1 != nil || err2 != nil {
			fmt.Println(err1, err2)
			return
		}
		list = append(list, formula.Rule{When: when, Need: need})
	}
	rules := formula.NewRules(list)
	fmt.Println(rules.Broken(&formula.State{Counts: []int{1, 0, 0, 1}, Hull: []float64{4.6}}, nil))
	fmt.Println(rules.Broken(&formula.State{Counts: []int{1, 0, 1, 1}, Hull: []float64{4.6}}, nil))
	// Output:
	// [0 1]
	// [1]
}

// Where only option 1 changes, the second of three programs keeps its value.
func ExampleIndex() {
	var reads []formula.Reads
	for _, text := range []string{"o1 n2 n0 ?", "h0 n2 *", "c1 c0 +"} {
		p, err := formula.Parse(text)
		if err != nil {
			fmt.Println(err)
			return
		}
		reads = append(reads, p.Reads())
	}
	index := formula.NewIndex(reads, formula.Space{Options: 2, Hull: 1})
	fmt.Println(index.Affected(formula.Reads{Options: []int{1}}, nil))
	// Output:
	// [0 2]
}
