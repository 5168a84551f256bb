package screen_test

import (
	"math"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
)

// Beside every open option stands the price of the boat with it against the price now, as two answers give it; on the
// yard's desk alone there are hours.
func TestNetEffectsStandBesideOptions(t *testing.T) {
	for desk, e := range engines() {
		v := view(t, e, demoSpecs()["reed-65-fullest"])
		page := parse(t, v.Page())
		looked, withFigures, withHours := 0, 0, 0
		for o := range v.Engine.Pack.Options {
			verdict := alternative(v, o)
			id := "option-" + e.Pack.Options[o].ID
			control, effects := page.byID(id), page.byID("effects-"+id)
			if verdict.Status != fit.Open {
				if effects != nil {
					t.Errorf("%s: %s is %s and has effects %q", desk, id, verdict.Status, effects.text)
				}
				continue
			}
			if effects != nil {
				withFigures++
				if control.attr["aria-describedby"] != "effects-"+id {
					t.Errorf("%s: %s is not described by its effects", desk, id)
				}
				if strings.Contains(effects.text, "\u00a0h") {
					withHours++
				}
			}
			if looked++; looked%9 > 0 {
				continue // each costs an answer
			}
			then, _, err := e.Apply(v.Answer, engine.Choose{Option: e.Pack.Options[o].ID, Count: 1})
			if err != nil {
				t.Fatal(err)
			}
			want := money.Grouped(then.Price.Goods.Sub(v.Answer.Price.Goods).Fixed(2))
			if got := rowOf(control); strings.TrimPrefix(got, "+") != want {
				t.Errorf("%s: beside %s stands %q, want %q", desk, id, got, want)
			}
		}
		if withFigures < 50 || (withHours > 20) != e.Can(pack.Hours) {
			t.Errorf("%s: of %d options %d have figures and %d hours", desk, looked, withFigures, withHours)
		}
	}
}

// The small figures are in the reader's units, with sign, and only where they change by as much as is shown.
func TestSmallFigures(t *testing.T) {
	v := view(t, engines()[pack.Yard], standard("reed-65"))
	option := -1
	for o := range v.Engine.Pack.Options {
		if alternative(v, o).Effect != nil {
			option = o
		}
	}
	id, n := "option-"+v.Engine.Pack.Options[option].ID, alternative(v, option)
	slot := "choices-" + v.Engine.Pack.Slots[v.Engine.Pack.Options[option].Slot].ID
	shops := v.Engine.Pack.Costs.Shops
	set := func(mass, draft, freeboard, miles float64, hours ...measure.Hours) {
		figures, byShop := []float64{mass, draft, freeboard, miles}, make([]measure.Hours, len(shops))
		copy(byShop, hours)
		for i, c := range v.Engine.Columns() {
			switch c.Kind {
			case engine.InUnits:
				n.Effect[i] = engine.Delta{Known: !math.IsNaN(figures[0]), Number: figures[0]}
				figures = figures[1:]
			case engine.InHours:
				n.Effect[i] = engine.Delta{Known: true, ByShop: byShop}
			}
		}
	}
	const hour = measure.Hours(1_000_000)
	for _, c := range []struct {
		system measure.System
		set    func()
		want   string
	}{
		{measure.Sea, func() { set(-12.4, 0.012, -0.004, 3.04) }, "Weight −12 kg, draught +0.01 m, range +3.0 nm"},
		{measure.USCustomary, func() { set(-12.4, 0.012, -0.004, 3.04) },
			"Weight −27 lb, draught +0.04 ft, freeboard −0.01 ft, range +3.0 nm"},
		{measure.Sea, func() { set(0.4, 0.004, -0.004, -0.04) }, ""},
		{measure.Sea, func() { set(0.4, math.NaN(), math.Inf(1), -10) }, "Range −10.0 nm"},
		{measure.Sea, func() { set(0, 0, 0, 0, 3*hour/2) }, shops[0].Title + " +1.5 h"},
		{measure.Sea, func() { set(1, 0, 0, 0, 3*hour/2, -4*hour) },
			"Weight +1 kgHours −2.5" + shops[0].Title + " +1.5 h, " + shops[1].Title + " −4.0 h"},
		{measure.Sea, func() { set(0, 0, 0, 0, hour, -hour) },
			"Hours 0" + shops[0].Title + " +1.0 h, " + shops[1].Title + " −1.0 h"},
		{measure.Sea, func() { set(0, 0, 0, 0, hour/100) }, ""},
	} {
		v.System = c.system
		c.set()
		got := ""
		if e := fragment(t, v, slot).byID("effects-" + id); e != nil {
			got = strings.ReplaceAll(e.text, "\u00a0", " ")
		}
		if got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if n.Effect = nil; !strings.Contains(rowOf(fragment(t, v, slot).byID(id)), "price not known") {
		t.Error("a price that is not known is shown")
	}
}

// What the numbers are is said on the page of every section, before its first slot.
func TestNumbersAreExplained(t *testing.T) {
	for name, v := range pages() {
		const words = "with everything the option adds or removes"
		if sections := len(v.Engine.Public().Sections); strings.Count(v.page.text, words) != sections ||
			strings.Index(v.markup, words) > strings.Index(v.markup, `class="slot"`) {
			t.Errorf("%s: it is not said on the page of each of %d sections", name, sections)
		}
		if strings.Contains(v.page.text, "and in hours.") != v.Engine.Pack.Can(pack.Hours) {
			t.Errorf("%s: hours are for the yard alone", name)
		}
	}
}
