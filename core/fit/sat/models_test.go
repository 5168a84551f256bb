package sat_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ribband/core/fit/sat"
)

// datasets is the folder of published data, where it is kept beside the repository, or beside the folder of its
// worktrees.
func datasets() string {
	for _, beside := range []string{"../../../..", "../../../../.."} {
		if folder := filepath.Join(beside, "shared", "datasets"); isThere(folder) {
			return folder
		}
	}
	return ""
}

func isThere(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// featureModels are rules of real product lines, from the feature-model benchmark of the SoftVarE group, with the
// variables that are true in every model (core) and in none (dead) as counted there and by several solvers.
var featureModels = []string{"berkeleydb", "busybox", "financialservices01", "uclibc"}

type featureModel struct {
	formula    sat.Formula
	core, dead []int
}

func readModel(t testing.TB, name string) featureModel {
	t.Helper()
	folder := filepath.Join(datasets(), "fm-"+name)
	if !isThere(folder) {
		t.Skip("the feature models are not beside the repository")
	}
	text, err := os.ReadFile(filepath.Join(folder, name+".cnf"))
	if err != nil {
		t.Fatal(err)
	}
	f, err := sat.ReadDIMACS(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	text, err = os.ReadFile(filepath.Join(folder, "facts.json"))
	if err != nil {
		t.Fatal(err)
	}
	var known struct{ Core, Dead []int }
	if err := json.Unmarshal(text, &known); err != nil {
		t.Fatal(err)
	}
	return featureModel{f, known.Core, known.Dead}
}

// coreAndDead asks of each variable whether it can be false and whether it can be true.
func coreAndDead(s *sat.Solver, n int) (core, dead []int) {
	for v := 1; v <= n; v++ {
		if s.Solve(sat.Lit(-v)) == sat.Unsat {
			core = append(core, v)
		}
		if s.Solve(sat.Lit(v)) == sat.Unsat {
			dead = append(dead, v)
		}
	}
	return core, dead
}

func TestFeatureModels(t *testing.T) {
	for _, name := range featureModels {
		t.Run(name, func(t *testing.T) {
			m := readModel(t, name)
			s := load(t, m.formula)
			if got := s.Solve(); got != sat.Sat || !allows(m.formula, s.Model()) {
				t.Fatalf("%v, want a model", got)
			}
			core, dead := coreAndDead(s, m.formula.Variables)
			if !slices.Equal(core, m.core) {
				t.Errorf("core %v, want %v", core, m.core)
			}
			if !slices.Equal(dead, m.dead) {
				t.Errorf("dead %v, want %v", dead, m.dead)
			}
			// One proof has all the refusals in it.
			for _, v := range core {
				if err := s.Proof.Check([]sat.Lit{sat.Lit(-v)}); err != nil {
					t.Errorf("core %d: %v", v, err)
				}
			}
			for _, v := range dead {
				if err := s.Proof.Check([]sat.Lit{sat.Lit(v)}); err != nil {
					t.Errorf("dead %d: %v", v, err)
				}
			}
		})
	}
}

func TestFeatureModelsAgainstPeers(t *testing.T) {
	for _, name := range featureModels {
		t.Run(name, func(t *testing.T) {
			m := readModel(t, name)
			t.Run("clasp", func(t *testing.T) {
				always, ever := consequences(t, m.formula, "cautious"), consequences(t, m.formula, "brave")
				s := load(t, m.formula)
				core, dead := coreAndDead(s, m.formula.Variables)
				for v := 1; v <= m.formula.Variables; v++ {
					if slices.Contains(core, v) != always[v] || slices.Contains(dead, v) == ever[v] {
						t.Errorf("variable %d: core %t and dead %t; clasp: always %t, ever %t", v,
							slices.Contains(core, v), slices.Contains(dead, v), always[v], ever[v])
					}
				}
			})
			for _, p := range peers {
				t.Run(p.name, func(t *testing.T) {
					s := load(t, m.formula)
					for v := 1; v <= m.formula.Variables; v += 1 + m.formula.Variables/20 {
						for _, l := range []sat.Lit{sat.Lit(v), sat.Lit(-v)} {
							if got, want := s.Solve(l), peerSays(t, p.name, p.args, m.formula, l); got != want {
								t.Errorf("assuming %d: %v, %s says %v", l, got, p.name, want)
							}
						}
					}
				})
			}
		})
	}
}

// The least total of random weights over a feature model, with some of them negative, is that of clasp.
func TestMinimiseAgainstClasp(t *testing.T) {
	for _, name := range featureModels {
		t.Run(name, func(t *testing.T) {
			m := readModel(t, name)
			for seed := range uint64(3) {
				lits, weights := randomWeights(seed, m.formula.Variables)
				s := load(t, m.formula)
				best, err := s.Minimise(lits, weights)
				if err != nil || best.Status != sat.Sat || !allows(m.formula, best.Model) ||
					weigh(best.Model, lits, weights) != best.Weight {
					t.Fatalf("%v, %v", best.Status, err)
				}
				out := run(t, opb(m.formula, lits, weights), "clasp", "--verbose=0", "--outf=1", "--opt-strategy=usc")
				if want := "o " + strconv.FormatInt(best.Weight, 10) + "\n"; !strings.Contains(out, want) ||
					!strings.Contains(out, "OPTIMUM FOUND") {
					t.Errorf("least %d; clasp: %.200s", best.Weight, out)
				}
			}
		})
	}
}

func randomWeights(seed uint64, n int) (lits []sat.Lit, weights []int64) {
	g := splitmix(seed)
	for v := 1; v <= n; v++ {
		lits, weights = append(lits, sat.Lit(v)), append(weights, int64(g.below(30))-6)
	}
	return lits, weights
}

// opb is a formula of clauses with what is to be least, in the format of the pseudo-Boolean competitions (from memory).
func opb(f sat.Formula, lits []sat.Lit, weights []int64) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "* #variable= %d #constraint= %d\nmin:", f.Variables, len(f.Clauses))
	for i, l := range lits {
		fmt.Fprintf(&b, " %+d x%d", weights[i], l)
	}
	b.WriteString(" ;\n")
	for _, c := range f.Clauses {
		least := 1
		for _, l := range c {
			sign := 1
			if l < 0 {
				sign = -1
				least--
			}
			fmt.Fprintf(&b, "%+d x%d ", sign, l.Var())
		}
		fmt.Fprintf(&b, ">= %d ;\n", least)
	}
	return b.Bytes()
}

// consequences are the variables true in every model (cautious) or in any (brave), as clasp finds them.
func consequences(t testing.TB, f sat.Formula, mode string) map[int]bool {
	t.Helper()
	out := run(t, dimacs(f), "clasp", "--verbose=0", "--outf=1", "--enum-mode="+mode, "-n0")
	if !strings.Contains(out, "s SATISFIABLE") {
		t.Fatalf("clasp gives no answer: %q", out)
	}
	found, within := map[int]bool{}, false
	for _, line := range strings.Split(out, "\n") {
		words := strings.Fields(line)
		if len(words) == 0 || words[0] != "v" {
			within = false
			continue
		}
		if !within { // it comes nearer in steps; the last list counts
			found, within = map[int]bool{}, true
		}
		for _, w := range words[1:] {
			if v, err := strconv.Atoi(w); err == nil && v > 0 {
				found[v] = true
			}
		}
	}
	return found
}
