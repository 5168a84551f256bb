package spec_test

import (
	"fmt"

	"ribband/core/spec"
)

func ExampleDecode() {
	s, err := spec.Decode([]byte(`{"format": 1, "hull": "reed-65", "choices": {"enclosure": {}}, "use": {"persons": 6, "region": "us"}}`))
	fmt.Println(s.Hull, len(s.Choices["enclosure"]), s.Use["persons"], s.Use["region"], err)

	_, err = spec.Decode([]byte("{\"format\": 1,\n \"hull\": 65}"))
	fmt.Println(err)
	// Output:
	// reed-65 0 6 us <nil>
	// reading a spec: line 2, column 10: hull: this is a number, want a text in quotes
}

func ExampleSpec_Link() {
	s := spec.Spec{
		Format:  spec.Format,
		Hull:    "reed-65",
		Choices: map[string]map[string]int{"top": {"top-folding": 1}, "fenders": {"fender-small": 4}, "enclosure": {}},
		Use:     map[string]spec.Value{"persons": {Number: 6}, "region": {Choice: "us"}},
	}
	fmt.Println(s.Link())
	// Output:
	// 1/reed-65/enclosure=/fenders=fender-small*4/top=top-folding/persons:6/region:us/927bf686
}

// A mail program has cut the link off: what stands there is kept, and the damage is told.
func ExampleFromLink() {
	s, damage := spec.FromLink("1/reed-65/fenders=fender-small*4/top=top-fol")
	fmt.Println(s.Hull, s.Choices)
	for _, d := range damage {
		fmt.Println(d)
	}
	// Output:
	// reed-65 map[fenders:map[fender-small:4] top:map[top-fol:1]]
	// The link is damaged: its checksum is wrong. What could be read is kept; please check it.
}
