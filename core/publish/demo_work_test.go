package publish_test

import (
	"slices"
	"strings"
	"testing"

	"ribband/core/book"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/works"
)

// Every operation of the demo has a card: three to six steps, none of them an essay, and what can hurt says so.
func TestEveryOperationOfTheDemoHasItsCard(t *testing.T) {
	b := readDemo(t)
	if len(b.Operations) < 60 {
		t.Errorf("%d operations, want 60 or more", len(b.Operations))
	}
	// a card without values to fill in proves nothing afterwards, and a book without waits lets paint be walked on
	checks, waits := 0, 0
	for _, o := range b.Operations {
		// a supplier has his own
		if steps := len(o.Steps); o.Subcontracted == nil && (steps < 3 || steps > 6) {
			t.Errorf("%s has %d steps", o.ID, len(o.Steps))
		}
		card := ""
		for _, s := range o.Steps {
			if card += s.Value; len(s.Value) > 130 || !strings.HasSuffix(s.Value, ".") {
				t.Errorf("a step of %s: %q", o.ID, s)
			}
		}
		checks += len(o.Checks)
		for _, a := range o.After {
			if a.WaitHours.Value > 0 {
				waits++
			}
		}
		for word, warns := range map[string][]string{
			"hoist":         {"nobody"}, // below a load
			"spray-bay":     {"mask", "gelcoat"},
			"welding-bench": {"fire", "qualified", "openings"},
		} {
			if slices.ContainsFunc(o.Uses, func(u book.Text) bool { return u.Value == word }) &&
				!slices.ContainsFunc(warns, func(w string) bool { return strings.Contains(strings.ToLower(card), w) }) {
				t.Errorf("%s uses %s and warns of nothing: %s", o.ID, word, card)
			}
		}
	}
	if checks < 60 || waits < 20 {
		t.Errorf("%d checks and %d waits, want more", checks, waits)
	}
}

// The standard boats can be built in the time of their longest chain of work and waits, and no window closes on the
// way: earliest begins by the critical path method, without people or equipment being short, by the clock and with
// work going on round it.
//
// Source: J. E. Kelley and M. R. Walker, Critical-path planning and scheduling, 1959.
func TestStandardBoatsKeepTheirWindows(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for hull := range e.Pack.Hulls {
		tasks := standardTasks(t, e, hull)
		start := make([]measure.Hours, len(tasks))
		// an operation that has to begin soon after another lets that one begin later: repeated until nothing moves
		for moved, round := true, 0; moved; round++ {
			if moved = false; round > len(tasks)*len(tasks) {
				t.Fatalf("%s: windows that no begin keeps", e.Pack.Hulls[hull].ID)
			}
			for i, task := range tasks {
				for _, l := range task.After {
					end := start[l.Task] + tasks[l.Task].Elapsed
					if least := end + l.Wait; start[i] < least {
						start[i], moved = least, true
					}
					if l.Bounded && start[i] > end+l.Within {
						start[l.Task], moved = start[i]-l.Within-tasks[l.Task].Elapsed, true
					}
				}
			}
		}
		var end measure.Hours
		for i, task := range tasks {
			end = max(end, start[i]+task.Elapsed)
			if task.Crew > e.Work.Shops[task.Shop].People {
				t.Errorf("%s: a crew of %d", e.Work.Operations[task.Operation].ID, task.Crew)
			}
		}
		// some 220 to 550 h of work by one to three people at once, and nights in which something cures
		if h := end.Float(); h < 100 || h > 500 {
			t.Errorf("%s is done after %.0f h by the clock", e.Pack.Hulls[hull].ID, h)
		}
		// one for the hull and one for the deck, of the four of each that the yard has
		moulds := 0
		for _, task := range tasks {
			for _, h := range task.Holds {
				if strings.Contains(e.Pack.Work.Equipment[h.Equipment].ID, "-mould-") {
					moulds++
				}
			}
		}
		if moulds != 2 {
			t.Errorf("%s occupies %d moulds", e.Pack.Hulls[hull].ID, moulds)
		}
	}
}

func standardTasks(t *testing.T, e *engine.Engine, hull int) []works.Task {
	t.Helper()
	a, err := e.AnswerStandard(hull, "de")
	if err != nil {
		t.Fatal(err)
	}
	return a.Work.Tasks()
}
