package count_test

import (
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"ribband/core/fit/count"
)

// published are open feature models in DIMACS CNF, of the collection SoftVarE-Group/feature-model-benchmark (MIT),
// where they are kept beside the repository: with each its number of models, on which other counters agree, and its
// core and dead variables, of a solver that enumerates.
const published = "../../../../shared/datasets"

var models = []string{"fm-berkeleydb", "fm-uclibc", "fm-busybox", "fm-financialservices01"}

type facts struct {
	File       string `json:"file"`
	Variables  int    `json:"variables"`
	Clauses    int    `json:"clauses"`
	ModelCount string `json:"model_count"`
	Core       []int  `json:"core"`
	Dead       []int  `json:"dead"`
}

// model reads a feature model with what is known of it, or skips.
func model(t testing.TB, name string) (count.Formula, facts) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(published, name, "facts.json"))
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("the feature models are not beside the repository")
	}
	if err != nil {
		t.Fatal(err)
	}
	var known facts
	if err := json.Unmarshal(text, &known); err != nil {
		t.Fatal(err)
	}
	text, err = os.ReadFile(filepath.Join(published, name, known.File))
	if err != nil {
		t.Fatal(err)
	}
	f := dimacs(t, string(text))
	if f.Variables != known.Variables || len(f.Clauses) != known.Clauses {
		t.Fatalf("%d variables and %d clauses; known are %d and %d", f.Variables, len(f.Clauses), known.Variables,
			known.Clauses)
	}
	return f, known
}

func TestFeatureModels(t *testing.T) {
	for _, name := range models {
		t.Run(name, func(t *testing.T) {
			f, known := model(t, name)
			n, err := f.Count(count.Limits{})
			if err != nil || n.Cmp(number(t, known.ModelCount)) != 0 {
				t.Errorf("%v models, %v; known are %s", n, err, known.ModelCount)
			}
			m, err := f.Marginals(count.Limits{})
			if err != nil || m.Total.Cmp(n) != 0 {
				t.Fatalf("%v models by literal, %v; %v in all", m.Total, err, n)
			}
			all, none := map[int]bool{}, map[int]bool{}
			for _, v := range known.Core {
				all[v] = true
			}
			for _, v := range known.Dead {
				none[v] = true
			}
			for v := 1; v <= f.Variables; v++ {
				with := m.With(v)
				if all[v] != (with.Cmp(n) == 0) || none[v] != (with.Sign() == 0) {
					t.Errorf("variable %d is in %v of %v models; known as core: %t, as dead: %t", v, with, n, all[v],
						none[v])
				}
			}
		})
	}
}
