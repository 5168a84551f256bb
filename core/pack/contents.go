package pack

import (
	"fmt"
	"strings"
)

// Contents names what some counts, by option, have in a slot: "Fender; 2 × Mooring line"; "" for nothing.
func (p *Public) Contents(counts []int, slot int) string {
	var names []string
	for o := p.Slots[slot].First; o < p.Slots[slot].End; o++ {
		if counts[o] > 0 {
			names = append(names, Times(counts[o], p.Options[o].Title))
		}
	}
	return strings.Join(names, "; ")
}

// Times writes a count before a name, where there is more than one of it.
func Times(n int, name string) string {
	if n == 1 {
		return name
	}
	return fmt.Sprintf("%d × %s", n, name)
}
