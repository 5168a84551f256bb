package plan_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"ribband/core/plan"
)

// node is an activity of a textbook's network: what it comes after, its estimate in units, and what the book says.
type node struct {
	name       string
	a, m, b    float64
	after      string // names, one letter each
	es, ef     float64
	ls, lf     float64
	total, fre float64
}

// network makes a load of nodes, with so many quarter-hours to the unit.
func network(t *testing.T, nodes []node, unit float64) *plan.Load {
	t.Helper()
	l := &plan.Load{Calendars: []plan.Calendar{plan.Always()},
		Boats: []plan.Boat{{Title: "project", Launch: len(nodes) - 1, Due: plan.Never}}}
	for _, n := range nodes {
		mean := plan.ThreePoint{Low: n.a, Likely: n.m, High: n.b}.Mean() * unit
		if math.Abs(mean-math.Round(mean)) > 1e-9 {
			t.Fatalf("%s: %v is not whole", n.name, mean)
		}
		a := plan.Activity{Title: n.name, Duration: plan.Time(math.Round(mean))}
		for _, c := range n.after {
			i := slices.IndexFunc(nodes, func(n node) bool { return n.name == string(c) })
			a.After = append(a.After, plan.After(i)...)
		}
		l.Activities = append(l.Activities, a)
	}
	return l
}

// table compares the critical path with the table of a book, whose last digit may be rounded.
func table(t *testing.T, nodes []node, unit float64, critical string, free bool) *plan.Network {
	t.Helper()
	n, err := plan.CriticalPath(network(t, nodes, unit))
	if err != nil {
		t.Fatal(err)
	}
	var path strings.Builder
	for i, want := range nodes {
		got := []plan.Time{n.EarlyStart[i], n.EarlyFinish[i], n.LateStart[i], n.LateFinish[i], n.Float[i], n.Free[i]}
		list := []float64{want.es, want.ef, want.ls, want.lf, want.total, want.fre}
		if !free {
			got, list = got[:5], list[:5]
		}
		for k := range got {
			if math.Abs(float64(got[k])/unit-list[k]) > 0.0006 {
				t.Errorf("%s: value %d is %v, want %v", want.name, k+1, float64(got[k])/unit, list[k])
			}
		}
		if n.Critical(i) {
			path.WriteString(want.name)
		}
	}
	if path.String() != critical {
		t.Errorf("critical are %s, want %s", path.String(), critical)
	}
	return n
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v within %v", what, got, want, tolerance)
	}
}

// chainOf is the mean and variance of the activities of a path.
func chainOf(nodes []node, path string) (mean, variance float64) {
	var list []plan.ThreePoint
	for _, n := range nodes {
		if strings.Contains(path, n.name) {
			list = append(list, plan.ThreePoint{Low: n.a, Likely: n.m, High: n.b})
		}
	}
	return plan.Chain(list)
}

// hillier is the network of "Reliable Construction".
// Source: F. S. Hillier, G. J. Lieberman, Introduction to Operations Research; data from memory, arithmetic checked.
var hillier = []node{
	{"A", 1, 2, 3, "", 0, 2, 0, 2, 0, 0}, {"B", 2, 3.5, 8, "A", 2, 6, 2, 6, 0, 0},
	{"C", 6, 9, 18, "B", 6, 16, 6, 16, 0, 0}, {"D", 4, 5.5, 10, "C", 16, 22, 20, 26, 4, 0},
	{"E", 1, 4.5, 5, "C", 16, 20, 16, 20, 0, 0}, {"F", 4, 4, 10, "E", 20, 25, 20, 25, 0, 0},
	{"G", 5, 6.5, 11, "D", 22, 29, 26, 33, 4, 0}, {"H", 5, 8, 17, "EG", 29, 38, 33, 42, 4, 0},
	{"I", 3, 7.5, 9, "C", 16, 23, 18, 25, 2, 2}, {"J", 3, 9, 9, "FI", 25, 33, 25, 33, 0, 0},
	{"K", 4, 4, 4, "J", 33, 37, 34, 38, 1, 1}, {"L", 1, 5.5, 7, "J", 33, 38, 33, 38, 0, 0},
	{"M", 1, 2, 3, "H", 38, 40, 42, 44, 4, 4}, {"N", 5, 5.5, 9, "KL", 38, 44, 38, 44, 0, 0},
}

func TestHillierLieberman(t *testing.T) {
	table(t, hillier, 4, "ABCEFJLN", true)
	mean, variance := chainOf(hillier, "ABCEFJLN")
	near(t, "mean", mean, 44, 1e-9)
	near(t, "variance", variance, 9, 1e-9)
	near(t, "P(T <= 47)", plan.Within(mean, variance, 47), 0.8413, 0.0001)
}

// Source: a problem of the type of J. Heizer, B. Render, Operations Management: data, means and standard deviations
// printed, the further rows computed.
func TestHeizerRender(t *testing.T) {
	nodes := []node{
		{"A", 5, 5, 7, "", 0, 5.333, 0, 5.333, 0, 0}, {"B", 1, 2, 5, "", 0, 2.333, 8, 10.333, 8, 0},
		{"C", 5, 5, 5, "A", 5.333, 10.333, 5.333, 10.333, 0, 0}, {"D", 4, 8, 13, "A", 5.333, 13.5, 7.167, 15.333,
			1.833, 0},
		{"E", 1, 10, 17, "BC", 10.333, 20, 10.333, 20, 0, 0}, {"F", 1, 5, 7, "D", 13.5, 18.167, 15.333, 20, 1.833, 0},
		{"G", 2, 6, 9, "D", 13.5, 19.333, 18.5, 24.333, 5, 0}, {"H", 4, 4, 6, "EF", 20, 24.333, 20, 24.333, 0, 0},
		{"I", 2, 7, 10, "GH", 24.333, 31, 24.333, 31, 0, 0}, {"J", 2, 4, 7, "I", 31, 35.167, 33.5, 37.667, 2.5, 0},
		{"K", 6, 10, 13, "I", 31, 40.833, 31, 40.833, 0, 0}, {"L", 2, 6, 6, "J", 35.167, 40.5, 37.667, 43, 2.5, 0},
		{"M", 2, 2, 3, "K", 40.833, 43, 40.833, 43, 0, 0}, {"N", 7, 7, 12, "LM", 43, 50.833, 43, 50.833, 0, 0},
	}
	table(t, nodes, 6, "ACEHIKMN", false)
	mean, variance := chainOf(nodes, "ACEHIKMN")
	near(t, "mean", mean, 305.0/6, 1e-9)
	near(t, "variance", variance, 403.0/36, 1e-9)
	for x, want := range map[float64]float64{53: 0.7414, 54: 0.8280, 55: 0.8935} {
		near(t, fmt.Sprintf("P(T <= %v)", x), plan.Within(mean, variance, x), want, 0.001)
	}
}

// Source: B. W. Taylor, Introduction to Management Science: a path of four activities, printed 0.9633 from a table.
func TestTaylorPath(t *testing.T) {
	mean, variance := plan.Chain([]plan.ThreePoint{{Low: 5, Likely: 8, High: 17}, {Low: 3, Likely: 5, High: 7},
		{Low: 4, Likely: 6, High: 8}, {Low: 3, Likely: 4, High: 5}})
	near(t, "mean", mean, 24, 1e-9)
	near(t, "variance", variance, 5, 1e-9)
	near(t, "P(T <= 28)", plan.Within(mean, variance, 28), 0.9632, 0.0002)
}

// Source: W. J. Stevenson, Operations Management: three paths, which are taken as independent. At 21 computed.
func TestStevensonPaths(t *testing.T) {
	paths := [][]plan.ThreePoint{{{5, 6, 7}, {6, 8, 11}, {5, 6, 9}}, {{9, 12, 15}, {5, 6, 7}, {2, 3, 7}},
		{{8, 8, 11}, {4, 4, 5}, {5, 7, 8}}}
	want := [][3]float64{{20.5, 1.25, 0.9991}, {21.5, 1.8056, 0.9686}, {19.5, 0.5278, 1}}
	joint, sooner := 1.0, 1.0
	for i, p := range paths {
		mean, variance := plan.Chain(p)
		near(t, "mean", mean, want[i][0], 0.0001)
		near(t, "variance", variance, want[i][1], 0.0001)
		near(t, "P(T <= 24)", plan.Within(mean, variance, 24), want[i][2], 0.0005)
		joint *= plan.Within(mean, variance, 24)
		sooner *= plan.Within(mean, variance, 21)
	}
	near(t, "joint P(T <= 24)", joint, 0.9677, 0.0005)
	near(t, "joint P(T <= 21)", sooner, 0.2341, 0.0005)
}

// Source: a problem of the type of B. Render, R. M. Stair (mean 21), and a textbook's exercise (mean 26).
func TestNormalDates(t *testing.T) {
	for x, want := range map[float64]float64{17: 0.02275, 20: 0.3085, 23: 0.8413, 25: 0.97725, 24.29: 0.95} {
		near(t, fmt.Sprintf("P(T <= %v)", x), plan.Within(21, 4, x), want, 0.0005)
	}
	near(t, "P(T <= 25)", plan.Within(26, 2.03*2.03, 25), 0.311, 0.001)
	near(t, "P(T <= 30)", plan.Within(26, 2.03*2.03, 30), 0.975, 0.001)
	if plan.Within(5, 0, 4.9) != 0 || plan.Within(5, 0, 5) != 1 {
		t.Error("what does not vary is done in its time, and not before")
	}
}

// Source: a teaching page on the critical path method: durations, path lengths and the length of 41; the table is ours.
func TestTeachingPage(t *testing.T) {
	var nodes []node
	for _, n := range []struct {
		name                       string
		d                          float64
		after                      string
		es, ef, ls, lf, total, fre float64
	}{
		{"A", 2, "", 0, 2, 0, 2, 0, 0}, {"B", 10, "A", 2, 12, 2, 12, 0, 0}, {"C", 13, "A", 2, 15, 13, 26, 11, 9},
		{"D", 12, "A", 2, 14, 4, 16, 2, 0}, {"E", 12, "B", 12, 24, 18, 30, 6, 6}, {"F", 7, "B", 12, 19, 12, 19, 0, 0},
		{"G", 10, "D", 14, 24, 16, 26, 2, 0}, {"H", 16, "D", 14, 30, 17, 33, 3, 0}, {"I", 6, "F", 19, 25, 19, 25, 0, 0},
		{"J", 12, "CG", 24, 36, 26, 38, 2, 2}, {"K", 5, "I", 25, 30, 25, 30, 0, 0}, {"L", 8, "EK", 30, 38, 30, 38, 0,
			0},
		{"M", 5, "H", 30, 35, 33, 38, 3, 3}, {"N", 3, "JLM", 38, 41, 38, 41, 0, 0},
	} {
		nodes = append(nodes, node{n.name, n.d, n.d, n.d, n.after, n.es, n.ef, n.ls, n.lf, n.total, n.fre})
	}
	n := table(t, nodes, 1, "ABFIKLN", true)
	if n.Ends[0] != 41 {
		t.Errorf("it ends at %d", n.Ends[0])
	}
	for path, want := range map[string]float64{"ABELN": 35, "ABFIKLN": 41, "ACJN": 30, "ADGJN": 39, "ADHMN": 38} {
		mean, _ := chainOf(nodes, path)
		near(t, path, mean, want, 1e-9)
	}
}

// Source: B. W. Taylor, Introduction to Management Science, chapter 8: two networks whose activities are arrows between
// events, the complete tables of the solutions.
func TestTaylorArrows(t *testing.T) {
	type arrow struct{ from, to, d, es, ef, ls, lf, slack plan.Time }
	for end, arrows := range map[plan.Time][]arrow{
		20: {{1, 2, 7, 0, 7, 2, 9, 2}, {1, 3, 10, 0, 10, 0, 10, 0}, {2, 4, 6, 7, 13, 9, 15, 2}, {3, 4, 5, 10, 15, 10,
			15, 0},
			{3, 5, 4, 10, 14, 14, 18, 4}, {4, 5, 3, 15, 18, 15, 18, 0}, {5, 6, 2, 18, 20, 18, 20, 0}},
		38: {{1, 2, 8, 0, 8, 1, 9, 1}, {1, 3, 10, 0, 10, 0, 10, 0}, {1, 4, 9, 0, 9, 6, 15, 6}, {2, 5, 6, 8, 14, 9, 15,
			1},
			{2, 6, 4, 8, 12, 16, 20, 8}, {3, 5, 5, 10, 15, 10, 15, 0}, {4, 5, 0, 9, 9, 15, 15, 6}, {4, 7, 7, 9, 16,
				20, 27, 11},
			{5, 7, 12, 15, 27, 15, 27, 0}, {5, 8, 15, 15, 30, 16, 31, 1}, {6, 9, 18, 12, 30, 20, 38, 8},
			{7, 8, 4, 27, 31, 27, 31, 0}, {8, 9, 7, 31, 38, 31, 38, 0}},
	} {
		l := &plan.Load{Calendars: []plan.Calendar{plan.Always()}, Boats: []plan.Boat{{Title: "project",
			Due: plan.Never}}}
		for _, a := range arrows {
			activity := plan.Activity{Title: fmt.Sprintf("%d-%d", a.from, a.to), Duration: a.d}
			for i, b := range arrows {
				if b.to == a.from {
					activity.After = append(activity.After, plan.After(i)...)
				}
			}
			l.Activities = append(l.Activities, activity)
		}
		n, err := plan.CriticalPath(l)
		if err != nil {
			t.Fatal(err)
		}
		for i, a := range arrows {
			got := []plan.Time{n.EarlyStart[i], n.EarlyFinish[i], n.LateStart[i], n.LateFinish[i], n.Float[i]}
			if want := []plan.Time{a.es, a.ef, a.ls, a.lf, a.slack}; !slices.Equal(got, want) {
				t.Errorf("%d-%d of %d: %v, want %v", a.from, a.to, end, got, want)
			}
		}
		if n.Ends[0] != end {
			t.Errorf("it ends at %d, want %d", n.Ends[0], end)
		}
	}
}

// Source: a lecture, Allocate and level resources: floats, and people by day at the earliest starts.
func TestLevellingLecture(t *testing.T) {
	crew := []int{3, 2, 3, 4, 2, 1, 3, 2, 3, 4, 5}
	durations := []plan.Time{3, 5, 6, 2, 3, 3, 4, 5, 4, 2, 3}
	after := [][]int{{}, {}, {0}, {0}, {3}, {1}, {1}, {6}, {2}, {4, 5, 6, 8}, {9}}
	l := &plan.Load{Calendars: []plan.Calendar{plan.Always()}, Boats: []plan.Boat{{Title: "project", Due: plan.Never}}}
	for i, d := range durations {
		l.Activities = append(l.Activities, plan.Activity{Title: string(rune('A' + i)), Duration: d,
			After: plan.After(after[i]...)})
	}
	n, err := plan.CriticalPath(l)
	if err != nil {
		t.Fatal(err)
	}
	if want := []plan.Time{0, 4, 0, 5, 5, 5, 4, 4, 0, 0, 0}; n.Ends[0] != 18 || !slices.Equal(n.Float, want) {
		t.Errorf("%v, floats %v; want 18, %v", n.Ends, n.Float, want)
	}
	if want := []plan.Time{0, 0, 0, 0, 5, 5, 0, 4, 0, 0, 0}; !slices.Equal(n.Free, want) {
		t.Errorf("free floats are %v, want %v", n.Free, want)
	}
	days, squares := make([]int, 18), 0
	for d := range days {
		for i := range durations {
			if plan.Time(d) >= n.EarlyStart[i] && plan.Time(d) < n.EarlyFinish[i] {
				days[d] += crew[i]
			}
		}
		squares += days[d] * days[d]
	}
	want := []int{5, 5, 5, 9, 9, 9, 9, 9, 6, 5, 5, 5, 5, 6, 4, 5, 5, 5}
	if !slices.Equal(days, want) || squares != 743 {
		t.Errorf("people by day are %v, squares %d; want %v, 743", days, squares, want)
	}
}
