package clauses_test

import (
	"bytes"
	"errors"
	"fmt"
	"os/exec"
	"slices"
	"testing"
	"time"

	"ribband/core/fit/clauses"
	"ribband/core/fit/sat"
)

// peers are solvers of other hands that are asked where they are installed: Debian packages cadical and clasp.
var peers = []struct {
	name string
	args []string
}{{"cadical", []string{"-q", "-n"}}, {"clasp", []string{"-q2", "--verbose=0"}}}

// dimacs writes what holds for the boats that obey all rules but the lazy ones, and some literals that shall hold too,
// as other solvers read it. Of groups of which at most one holds it writes each pair.
func dimacs(z *puzzle, c *clauses.Clauses, also ...sat.Lit) []byte {
	f := c.Formula()
	for _, group := range f.Sums {
		for i, a := range group.Lits {
			for _, b := range group.Lits[:i] {
				f.Clauses = append(f.Clauses, []sat.Lit{-a, -b})
			}
		}
	}
	for i := range z.pack.Rules {
		if !slices.Contains(c.Lazy(), i) {
			also = append(also, c.Selector(i))
		}
	}
	for _, l := range also {
		f.Clauses = append(f.Clauses, []sat.Lit{l})
	}
	text := fmt.Appendf(nil, "p cnf %d %d\n", f.Variables, len(f.Clauses))
	for _, clause := range f.Clauses {
		for _, l := range clause {
			text = fmt.Appendf(text, "%d ", l)
		}
		text = append(text, "0\n"...)
	}
	return text
}

// peerSays asks a peer. The exit codes are those of the SAT competitions, with 30 for a model beside which clasp knows
// no other.
func peerSays(t testing.TB, name string, args []string, text []byte) sat.Status {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Stdin = bytes.NewReader(text)
	out, err := cmd.Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		switch exit.ExitCode() {
		case 10, 30:
			return sat.Sat
		case 20:
			return sat.Unsat
		}
	}
	t.Fatalf("%s: %v\n%s", name, err, out)
	return sat.Unknown
}

// every is how many options of the demo book lie between those that the peers are asked about: all take too long for a
// test.
const every = 24

// What is always and what is never in a boat of the demo book is held to other solvers, which read it as text.
func TestAlwaysAndNeverAgainstPeers(t *testing.T) {
	z := demo()
	for _, p := range peers {
		t.Run(p.name, func(t *testing.T) {
			if _, err := exec.LookPath(p.name); err != nil {
				t.Skipf("%s is not installed; bash .ci/run installs it", p.name)
			}
			for hull := range z.pack.Hulls {
				c := clauses.Compile(z.pack, z.figures, hull, z.standardUse())
				always, never := fixed(t, c)
				asked := 0
				ask := func(o int, there bool) {
					l := c.AtLeast(o, 1)
					list := never
					if !there {
						l, list = -l, always
					}
					want := sat.Sat
					if slices.Contains(list, o) {
						want = sat.Unsat
					}
					if got := peerSays(t, p.name, p.args, dimacs(z, c, l)); got != want {
						t.Errorf("%s in the %s: %v (there: %v), %s says %v", z.pack.Options[o].ID,
							z.pack.Hulls[hull].ID, want, there, p.name, got)
					}
					asked++
				}
				for o := range z.pack.Options {
					if z.pack.Made(o, hull) && (o%every == hull || slices.Contains(always, o) ||
						slices.Contains(never, o)) {
						ask(o, true)
						ask(o, false)
					}
				}
				t.Logf("%s: %d always, %d never; %d questions", z.pack.Hulls[hull].ID, len(always), len(never), asked)
			}
		})
	}
}

func fixed(t testing.TB, c *clauses.Clauses) (always, never []int) {
	t.Helper()
	always, err := c.Always(sat.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if never, err = c.Never(sat.Limits{}); err != nil {
		t.Fatal(err)
	}
	return always, never
}

// What is written reads back as what was compiled.
func TestDIMACSReadsBack(t *testing.T) {
	z := demo()
	c := clauses.Compile(z.pack, z.figures, 0, z.standardUse())
	f, err := sat.ReadDIMACS(bytes.NewReader(dimacs(z, c)))
	if err != nil {
		t.Fatal(err)
	}
	if f.Variables != c.Formula().Variables || len(f.Clauses) <= len(c.Formula().Clauses) {
		t.Errorf("%d variables and %d clauses came back", f.Variables, len(f.Clauses))
	}
	s := sat.New(0)
	if err := s.AddFormula(f); err != nil || s.Solve() != sat.Sat {
		t.Fatal("no boat came back", err)
	}
	if clash := z.fit.Complete(0, z.standardUse(), z.allSettled(c, s.Model()), 1).Clashes; slices.ContainsFunc(clash,
		notLazy(c)) {
		t.Errorf("the boat that came back breaks %+v", clash)
	}
}

// BenchmarkAgainstCadical is all that is always or never in a boat of the demo book, beside one question for each
// option there: ours share what they learn, the peer begins anew each time and reads the clauses as text.
func BenchmarkAgainstCadical(b *testing.B) {
	if _, err := exec.LookPath("cadical"); err != nil {
		b.Skip("cadical is not installed")
	}
	z := demo()
	c := clauses.Compile(z.pack, z.figures, 0, z.standardUse())
	var ours, theirs time.Duration
	for b.Loop() {
		start := time.Now()
		fixed(b, c)
		half := time.Now()
		for o := 0; o < len(z.pack.Options); o += every {
			if z.pack.Made(o, 0) {
				peerSays(b, "cadical", peers[0].args, dimacs(z, c, c.AtLeast(o, 1)))
				peerSays(b, "cadical", peers[0].args, dimacs(z, c, -c.AtLeast(o, 1)))
			}
		}
		ours += half.Sub(start)
		theirs += every * time.Since(half)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "ratio")
	b.ReportMetric(float64(ours.Microseconds())/float64(b.N), "our-µs/op")
}
