package engine_test

import (
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/spec"
)

// A solar hard top is wanted and the lowest bridge is 1.6 m. No other choice brings it under the bridge, and no search
// proves that: it was a dead end. Now the height decides in so many words, and each hull has a way out: another bridge,
// or a longer hull with it.
func TestUnderALowBridge(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	want := engine.Want{Option: "top-solar"}
	for o := range e.Pack.Options {
		if e.Pack.Options[o].ID != want.Option {
			continue
		}
		for h, hull := range e.Pack.Hulls {
			a := enginetest.Answer(t, e, spec.Spec{Format: spec.Format, Hull: hull.ID,
				Use: map[string]spec.Value{"bridge_m": {Number: 1.6}}})
			x := e.Alternatives(a).Option(e, o)
			made := e.Pack.Made(o, h)
			if x.Status != fit.Blocked && made || x.Status != fit.Absent && !made {
				t.Fatalf("%s: the solar top is %s", hull.ID, x.Status)
			}
			if made {
				d := e.Alternatives(a).Decides(&x.Verdict)
				if d == nil {
					t.Fatalf("%s: no number decides", hull.ID)
				}
				text := strings.ReplaceAll(e.Text(d.Message(measure.Sea)), "\u00a0", " ")
				if !strings.HasPrefix(text, "Height above the water: ") ||
					!strings.HasSuffix(text, " m; at most 1.60 m (Lowest bridge).") {
					t.Errorf("%s: it says %q", hull.ID, text)
				}
			}
			ways, err := e.Others(a, want, nil)
			if err != nil || len(ways) == 0 {
				t.Fatalf("%s: no way out, %v", hull.ID, err)
			}
			for _, way := range ways {
				then := enginetest.Answer(t, e, way.Spec)
				price := then.Price.Goods.Sub(a.Price.Goods)
				if len(then.Build.Clashes) > 0 || then.Build.State.Counts[o] != 1 || !way.Effect.Price().Equal(price) {
					t.Errorf("%s: %v gives %v at %s, and says %s", hull.ID, way.Changes, then.Build.Clashes, price,
						way.Effect.Price())
				}
				if stay := way.Spec.Hull == hull.ID; stay != (len(way.Changes) == 1) || stay && !made {
					t.Errorf("%s: the way %v", hull.ID, way.Changes)
				}
			}
			if first := ways[0]; made && (first.Spec.Hull != hull.ID || first.Spec.Use["bridge_m"].Number <= 1.6 ||
				first.Spec.Use["bridge_m"].Number > 3) {
				t.Errorf("%s: the first way is %v", hull.ID, first.Changes)
			}
		}
	}
}

// The nearest value is one: a step less would not do.
func TestAWayByUseIsTheNearest(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	s := spec.Spec{Format: spec.Format, Hull: "reed-65", Use: map[string]spec.Value{"bridge_m": {Number: 1.6}}}
	a := enginetest.Answer(t, e, s)
	ways, err := e.Others(a, engine.Want{Option: "top-hard"}, nil)
	if err != nil || len(ways) == 0 {
		t.Fatal(ways, err)
	}
	lower := ways[0].Spec.Clone()
	lower.Use["bridge_m"] = spec.Value{Number: measure.Round(ways[0].Spec.Use["bridge_m"].Number-0.1, 1)}
	if then := enginetest.Answer(t, e, lower); len(then.Build.Clashes) == 0 {
		t.Errorf("%v, and a bridge 0.1 m lower does too", ways[0].Changes)
	}
}
