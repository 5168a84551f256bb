package sat_test

import (
	"bytes"
	"context"
	"fmt"
	"os/exec"
	"strings"
	"testing"
	"time"

	"ribband/core/fit/sat"
)

// splitmix is the generator SplitMix64 of Steele, Lea and Flood (OOPSLA 2014), from memory: the test formulas are the
// same everywhere.
type splitmix uint64

func (g *splitmix) next() uint64 {
	*g += 0x9e3779b97f4a7c15
	z := uint64(*g)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

func (g *splitmix) below(n int) int { return int(g.next() % uint64(n)) }

// threeSAT is a random formula of clauses with three different variables. At 4.26 clauses to a variable about half of
// them have a model, and they are hardest. Source: Mitchell, Selman and Levesque, AAAI 1992; ratio: from memory.
func threeSAT(seed uint64, n int) sat.Formula {
	g := splitmix(seed)
	f := sat.Formula{Variables: n}
	for range n * 426 / 100 {
		var c []sat.Lit
		for len(c) < 3 {
			l := sat.Lit(1 + g.below(n))
			fresh := true
			for _, other := range c {
				fresh = fresh && other.Var() != l.Var()
			}
			if !fresh {
				continue
			}
			if g.below(2) == 0 {
				l = -l
			}
			c = append(c, l)
		}
		f.Clauses = append(f.Clauses, c)
	}
	return f
}

// load makes a solver of a formula that records its proof.
func load(t fataler, f sat.Formula) *sat.Solver {
	s := sat.New(f.Variables)
	s.Proof = &sat.Proof{}
	if err := s.AddFormula(f); err != nil {
		t.Fatalf("%v", err)
	}
	return s
}

// fataler is what a test and a rapid property have in common.
type fataler interface {
	Fatalf(format string, args ...any)
}

// proved fails unless the checker confirms the last Unsat answer.
func proved(t fataler, s *sat.Solver) {
	if err := s.Proof.Check(s.Core()); err != nil {
		t.Fatalf("core %v: %v", s.Core(), err)
	}
}

func dimacs(f sat.Formula, units ...sat.Lit) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "p cnf %d %d\n", f.Variables, len(f.Clauses)+len(units))
	for _, c := range f.Clauses {
		for _, l := range c {
			fmt.Fprintf(&b, "%d ", l)
		}
		b.WriteString("0\n")
	}
	for _, l := range units {
		fmt.Fprintf(&b, "%d 0\n", l)
	}
	return b.Bytes()
}

// peers are solvers that may be on the machine; they answer as the SAT competitions want it.
var peers = []struct {
	name string
	args []string
}{
	{"cadical", []string{"-q", "-n"}},
	{"clasp", []string{"--verbose=0", "--outf=1"}},
}

// run asks another program and gives all that it prints. The exit status of solvers carries the answer, so it is no
// error.
func run(t testing.TB, stdin []byte, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not on this machine", name)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, path, args...)
	cmd.Stdin = bytes.NewReader(stdin)
	out, _ := cmd.Output()
	return string(out)
}

func peerSays(t testing.TB, name string, args []string, f sat.Formula, units ...sat.Lit) sat.Status {
	t.Helper()
	out := run(t, dimacs(f, units...), name, args...)
	switch {
	case strings.Contains(out, "s UNSATISFIABLE"):
		return sat.Unsat
	case strings.Contains(out, "s SATISFIABLE"):
		return sat.Sat
	}
	t.Fatalf("%s gives no verdict: %q", name, out)
	return sat.Unknown
}
