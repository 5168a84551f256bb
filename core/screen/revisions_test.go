package screen_test

import (
	"strings"
	"testing"

	"ribband/core/pack"
	"ribband/core/screen"
	"ribband/core/spec"
)

// A line of the table says what stands there since the change, where one thing was changed.
func TestRevisionsSayWhatTheBoatBecame(t *testing.T) {
	choose := func(slot string, counts map[string]int) spec.Spec {
		s := standard("reed-65")
		s.Choices = map[string]map[string]int{slot: counts}
		return s
	}
	use := func(field string, v spec.Value) spec.Spec {
		s := standard("reed-65")
		s.Use = map[string]spec.Value{field: v}
		return s
	}
	both := choose("top", map[string]int{"top-canopy": 1})
	both.Use = map[string]spec.Value{"persons": {Number: 4}}
	for _, c := range []struct {
		before, after spec.Spec
		want          string
	}{
		{standard("reed-65"), choose("top", map[string]int{"top-canopy": 1}), "Fixed canvas canopy"},
		{choose("top", map[string]int{"top-canopy": 1}), choose("top", map[string]int{}), "None"},
		{choose("top", map[string]int{"top-canopy": 1}), standard("reed-65"), "as standard"},
		{standard("reed-65"), use("bridge_m", spec.Value{Number: 1.6}), "1.6\u00a0m"},
		{standard("reed-65"), use("region", spec.Value{Choice: "us"}), "United States"},
		{use("bridge_m", spec.Value{Number: 1.6}), standard("reed-65"), "as standard"},
		// an option that this edition does not know has no title
		{standard("reed-65"), choose("top", map[string]int{"top-of-last-year": 1}), ""},
		{standard("reed-65"), both, ""},
		{standard("reed-65"), standard("osier-76"), ""},
	} {
		v := view(t, engines()[pack.Buyer], c.after)
		v.Revisions = []screen.Revision{{What: "Change", Before: c.before, After: c.after}}
		cell := fragment(t, v, "revisions").all("tbody")[0].all("td")[0].text
		if got := strings.TrimPrefix(cell, "Change"); got != c.want {
			t.Errorf("from %v to %v: it says %q, want %q", c.before, c.after, got, c.want)
		}
	}
}
