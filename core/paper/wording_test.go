package paper_test

import (
	"regexp"
	"testing"

	"ribband/core/paper"
	"ribband/core/sheet"
	"ribband/testdata/wording"
)

// isoDate is how files write a date, and not people.
var isoDate = regexp.MustCompile(`\b20[0-9]{2}-[0-9]{2}-[0-9]{2}\b`)

// What a person reads on the papers of all demo boats is in plain British trade English.
func TestWordingOfThePapers(t *testing.T) {
	read := func(name, text string) {
		text = wording.Visible(text)
		for _, fault := range wording.Faults(text) {
			t.Errorf("%s: %s", name, fault)
		}
		if date := isoDate.FindString(text); date != "" {
			t.Errorf("%s: the date %s is not as people write it", name, date)
		}
	}
	e := yardEngine()
	for _, name := range specNames(t) {
		q, y := papersOf(t, e, name, nil)
		read(name, customer(t, q, paper.AsText))
		read(name+", HTML", customer(t, q, paper.AsHTML))
		read(name+", yard", yard(t, y, q, paper.AsText))
		read(name+", yard, HTML", yard(t, y, q, paper.AsHTML))
		a, err := e.Answer(readSpec(t, name))
		if err != nil {
			t.Fatal(err)
		}
		pictures, err := sheet.Pictures(e, a.Build)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range pictures {
			read(name+", "+p.ID, p.Title+" "+p.SVG)
		}
		for i, def := range e.Pack.Costs.Shops {
			s, err := sheet.ForShop(e, a, i, nil)
			if err != nil {
				t.Fatal(err)
			}
			read(name+", "+def.ID, card(t, s, nil, paper.AsText))
		}
	}
}
