// Command sample does what the engine does to the runtime, and says what came of it: deep stacks while garbage is
// collected, panics that are caught, goroutines, sorts with equal values, maps, texts and reflection.
package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
)

type boat struct {
	Name    string   `json:"name"`
	Length  float64  `json:"length"`
	Options []string `json:"options,omitempty"`
	order   int
}

// deep keeps something living on each of many frames while garbage is collected.
func deep(n int, live []*boat) (length float64) {
	b := &boat{Name: strings.Repeat("x", n%7), Length: float64(n)}
	defer func() { length += b.Length }()
	if n == 0 {
		runtime.GC()
		return 0
	}
	return deep(n-1, append(live, b)) + float64(len(live)%3)
}

// caught gives what a function panics with.
func caught(f func()) (err error) {
	defer func() { err = fmt.Errorf("caught: %v", recover()) }()
	f()
	return errors.New("it did not panic")
}

// random is a sequence that is the same each time.
type random uint32

func (r *random) next(n int) int {
	*r = *r*1664525 + 1013904223
	return int(uint32(*r) >> 8 % uint32(n))
}

func main() {
	// stack maps, and objects on the stack that refer to the heap
	fmt.Println(deep(2000, nil))
	// what is caught is said in the words of the runtime: bounds, nil maps and pointers, types
	var list []int
	var none map[string]int
	var nobody *boat
	// by way of variables, or the compiler would refuse
	index := len(list) + 3
	fmt.Println(caught(func() { fmt.Println(list[index]) }))
	fmt.Println(caught(func() { none["x"] = 1 }))
	fmt.Println(caught(func() { fmt.Println(nobody.Name) }))
	fmt.Println(caught(func() { fmt.Println(any(list).(string)) }))
	// lengths around those at which the sort changes its way: 12, 50
	seed := random(1)
	for _, n := range []int{0, 1, 5, 12, 13, 50, 1000, 5000} {
		boats, numbers := make([]boat, n), make([]int, n)
		for i := range boats {
			boats[i] = boat{Length: float64(seed.next(9)), order: i}
			numbers[i] = seed.next(1000)
		}
		stable := slices.Clone(boats)
		// many are equal: the order among them must stay, stable or not
		slices.SortFunc(boats, func(a, b boat) int { return cmp.Compare(a.Length, b.Length) })
		slices.SortStableFunc(stable, func(a, b boat) int { return cmp.Compare(b.Length, a.Length) })
		slices.Sort(numbers)
		sum := 0
		for i := range boats {
			sum = (sum*31 + boats[i].order*7 + stable[i].order*3 + numbers[i]) % 1_000_000_007
		}
		fmt.Println(n, sum)
	}
	// names of fields and types come from tables beside those that are emptied
	text, err := json.Marshal(map[string]boat{"b": {Name: "Reed", Length: 6.5}, "a": {Options: []string{"top"}}})
	fmt.Println(string(text), err)
	// a fault deep in a decoder, which goes up by a panic of its own
	var back map[string]boat
	fmt.Println(json.Unmarshal([]byte(`{"b": {"length": "six"}}`), &back))
	// goroutines begin with small stacks, which are copied as they grow
	done := make(chan int)
	// each waits for the one that reads: the scheduler parks and wakes them
	for i := range 20 {
		go func() { done <- len(fmt.Sprint(deep(i*20, nil))) }()
	}
	sum := 0
	for range 20 {
		sum += <-done
	}
	fmt.Println(sum)
}
