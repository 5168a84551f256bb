package screen_test

import (
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/pack"
	"ribband/core/publish"
)

// A buyer reads how many of an option are left, that the last one is gone, and what he has to bring himself.
func TestPageTellsWhatIsLeftAndWhatToBring(t *testing.T) {
	yard := enginetest.Edited(t,
		enginetest.Edit{"boat.yaml", `price: "1450"`, "price: \"1450\"\n        stock: 2\n        stock_shown: true"},
		enginetest.Edit{"boat.yaml", "      - id: cloth-heavy\n", `      - id: cloth-own
        title: Cloth of your own
        materials: [{material: cloth-acrylic, quantity: 5, supplied_by: customer}]
        operations: [{operation: sew-canvas, hours: 5}]
      - id: cloth-heavy
`})[pack.Yard].Pack
	for ordered, want := range map[int]string{0: "2 left.", 1: "1 left.", 2: "Fixed top is sold out."} {
		p, counts := *yard, make([]int, len(yard.Options))
		for o := range yard.Options {
			if yard.Options[o].ID == "top-fixed" {
				counts[o] = ordered
			}
		}
		p.Leave(counts)
		e, err := engine.Compile(publish.For(&p, pack.Buyer))
		if err != nil {
			t.Fatal(err)
		}
		page := view(t, e, enginetest.Teasel(t)).Page()
		for _, text := range []string{want, "You supply it yourself; its weight is counted."} {
			if !strings.Contains(page, text) {
				t.Errorf("with %d of 2 ordered the page has no %q", ordered, text)
			}
		}
	}
}

// Nobody counts beyond what is left, and who has more from before keeps his number in the field.
func TestCountsEndAtWhatIsLeft(t *testing.T) {
	yard := *enginetest.Edited(t, enginetest.Edit{"boat.yaml", "        most: 4\n",
		"        most: 4\n        stock: 3\n        stock_shown: true\n"})[pack.Yard].Pack
	yard.Leave(nil)
	e, err := engine.Compile(publish.For(&yard, pack.Buyer))
	if err != nil {
		t.Fatal(err)
	}
	for has, most := range map[string]string{"stowage=bag-top": "3", "stowage=pocket*2": "3", "stowage=pocket*4": "4"} {
		v := view(t, e, enginetest.Teasel(t, has))
		if page := v.Page(); !strings.Contains(page, `max="`+most+`"`) {
			t.Errorf("with %s the count has not the most of %s", has, most)
		}
		_, _, err := e.Apply(v.Answer, engine.Choose{Option: "pocket", Count: 4})
		if (err == nil) != (most == "4") {
			t.Errorf("with %s four were chosen: %v", has, err)
		}
		if err != nil && !strings.Contains(err.Error(), "choosing Side pocket: 4 are asked for, and 3 are left") {
			t.Error(err)
		}
		if _, _, err := e.Apply(v.Answer, engine.Choose{Option: "pocket", Count: 3}); err != nil {
			t.Errorf("with %s three cannot be chosen: %v", has, err)
		}
	}
}
