package plan_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"ribband/core/plan"
)

// instance is one of the resource-constrained project scheduling problem: activities numbered from 0.
type instance struct {
	ID           string  `json:"id"`
	Source       string  `json:"source"`
	Durations    []int   `json:"durations"`
	Successors   [][]int `json:"successors"`
	Demands      [][]int `json:"demands"`
	Capacities   []int   `json:"capacities"`
	CriticalPath int     `json:"critical_path"`
	Optimal      int     `json:"optimal_makespan"`
}

// load makes one boat of an instance, on the calendar that is always open.
func (in *instance) load() *plan.Load {
	l := &plan.Load{Calendars: []plan.Calendar{plan.Always()},
		Boats: []plan.Boat{{Title: in.ID, Due: plan.Never, Launch: len(in.Durations) - 1}}}
	for _, c := range in.Capacities {
		l.Resources = append(l.Resources, plan.Resource{Title: "resource", Capacity: c})
	}
	for i, d := range in.Durations {
		a := plan.Activity{Title: in.ID, Duration: plan.Time(d)}
		for r, units := range in.Demands[i] {
			if units > 0 {
				a.Demands = append(a.Demands, plan.Demand{Resource: r, Units: units})
			}
		}
		l.Activities = append(l.Activities, a)
	}
	for i, after := range in.Successors {
		for _, j := range after {
			l.Activities[j].After = append(l.Activities[j].After, plan.After(i)...)
		}
	}
	return l
}

func instances(t testing.TB, file string) []instance {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var list []instance
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	return list
}

// more are twelve further instances with optima that two solvers proved; they lie beside the repository on the machines
// of its authors.
const more = "../../../shared/datasets/rcpsp-own30/instances.json"

func moreInstances(t testing.TB) []instance {
	t.Helper()
	for _, file := range []string{more, filepath.Join("/work", "shared", "datasets", "rcpsp-own30", "instances.json")} {
		if _, err := os.Stat(file); err == nil {
			return instances(t, file)
		}
	}
	t.Skip("the twelve instances of 30 activities are not on this machine")
	return nil
}

// solved gives the makespan of a verified schedule.
func solved(t testing.TB, in *instance, effort plan.Effort) int {
	t.Helper()
	load := in.load()
	s, err := plan.Solve(load, plan.Objective{Total: plan.Makespan}, effort)
	if err != nil {
		t.Fatal(err)
	}
	if err := plan.Verify(load, s); err != nil {
		t.Fatalf("%s: %v", in.ID, err)
	}
	last := plan.Time(0)
	for _, f := range s.Finish {
		last = max(last, f)
	}
	return int(last)
}

func TestQuick(t *testing.T) {
	for _, effort := range []plan.Effort{1, 30, 100, 300, 1000, 3000, 10000, 30000} {
		sum, n, worst := 0.0, 0, time.Duration(0)
		begin := time.Now()
		for _, in := range append(instances(t, "testdata/rcpsp.json"), moreInstances(t)...) {
			b := time.Now()
			got := solved(t, &in, effort)
			worst = max(worst, time.Since(b))
			if got < in.Optimal {
				t.Errorf("%s: %d below %d", in.ID, got, in.Optimal)
			}
			sum += float64(got-in.Optimal) / float64(in.Optimal)
			n++
			if got != in.Optimal {
				t.Log(effort, in.ID, got, in.Optimal)
			}
		}
		t.Log(effort, sum/float64(n)*100, time.Since(begin)/time.Duration(n), worst)
	}
}
