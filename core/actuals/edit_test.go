package actuals_test

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/actuals"
	"ribband/core/book"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/publish"
)

// widened is the demo's hours with an operation that varies much more than the book says.
func widened(t *testing.T, operation string) []actuals.Booking {
	t.Helper()
	list := demo(t)
	for i := range list {
		b := &list[i]
		if b.Operation != opOf(t, operation) {
			continue
		}
		h, err := measure.FromFloat[measure.Hours](b.Planned.Float() * math.Pow(b.Booked.Float()/b.Planned.Float(), 3))
		if err != nil {
			t.Fatal(err)
		}
		b.Booked = h
	}
	return list
}

func opOf(t *testing.T, id string) int {
	t.Helper()
	for i, o := range yard().Work.Operations {
		if o.ID == id {
			return i
		}
	}
	t.Fatalf("no operation %s", id)
	return 0
}

// The owner applies the diff with patch: the book that comes of it has no fault, takes the hours that were booked, and
// has kept its comments.
func TestPatchedBook(t *testing.T) {
	tool, err := exec.LookPath("patch")
	if err != nil {
		t.Skip("no patch on this machine")
	}
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(enginetest.DemoBook)); err != nil {
		t.Fatal(err)
	}
	// check-mould has a spread in the book, float-boat the yard's
	list := widened(t, "check-mould")
	for i, b := range widened(t, "float-boat") {
		if b.Operation == opOf(t, "float-boat") {
			list[i] = b
		}
	}
	r := actuals.Compare(yard(), list)
	e, err := r.Edit(os.DirFS(folder))
	if err != nil || len(e.ByHand) > 0 {
		t.Fatal(err, e.ByHand)
	}
	diff := e.Diff()
	cmd := exec.Command(tool, "-p1", "--fuzz=0")
	cmd.Dir, cmd.Stdin = folder, bytes.NewReader(diff)
	if said, err := cmd.CombinedOutput(); err != nil || strings.Contains(string(said), "offset") {
		t.Fatalf("patch: %v\n%s\n%s", err, said, diff)
	}
	for name, want := range e.Apply() {
		got, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what the edit makes of it: %v", name, err)
		}
		was, err := os.ReadFile(filepath.Join(enginetest.DemoBook, name))
		if err != nil || bytes.Count(was, []byte("#")) != bytes.Count(got, []byte("#")) {
			t.Errorf("%s has lost a comment: %v", name, err)
		}
	}
	packs, _, found, err := publish.Load(os.DirFS(folder))
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range found { // that a margin falls below its floor is what an owner has to know
		if d.Grade == book.Error {
			t.Errorf("the book: %s", d)
		}
	}
	now, err := engine.Compile(packs[pack.Yard])
	if err != nil {
		t.Fatal(err)
	}
	op := opOf(t, "laminate-hull")
	for hull := range now.Pack.Hulls {
		want := 1.0
		for _, x := range []struct {
			kind actuals.Kind
			id   string
		}{{actuals.OfOperation, "laminate-hull"}, {actuals.OfHull, now.Pack.Hulls[hull].ID}} {
			if b, ok := r.Find(x.kind, x.id); ok && b.Off() {
				want *= b.Ratio
			}
		}
		before, after := hoursOf(t, yard(), hull, op), hoursOf(t, now, hull, op)
		if math.Abs(after/before-want) > 0.005 {
			t.Errorf("hull %d: %v h from %v h, want %v times", hull, after, before, want)
		}
	}
	for _, id := range []string{"check-mould", "float-boat"} {
		b, _ := r.Find(actuals.OfOperation, id)
		s := now.Work.Operations[opOf(t, id)].Spread
		if s == yard().Work.Operations[opOf(t, id)].Spread || math.Abs((s.High-s.Low)/6-b.Spread) > 0.01 {
			t.Errorf("%s spreads by %+v, want %v", id, s, b.Spread)
		}
	}
	if s := now.Work.Operations[op].Spread; s != yard().Work.Operations[op].Spread {
		t.Errorf("the spread of laminate-hull became %+v", s)
	}
}

// hoursOf are the hours of an operation in the standard boat of a hull.
func hoursOf(t *testing.T, e *engine.Engine, hull, op int) (h float64) {
	t.Helper()
	a, err := e.AnswerStandard(hull, e.Public().Regions[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range a.Work.Lines {
		if l.Operation == op {
			h += l.Hours.Float()
		}
	}
	return h
}

// Hours that are as the book says change nothing.
func TestNothingToChange(t *testing.T) {
	list := demo(t)
	r := rand.New(rand.NewPCG(11, 1))
	for i := range list {
		b := &list[i]
		by := spreadOfBook(&yard().Work.Operations[b.Operation]) * r.NormFloat64()
		h, err := measure.FromFloat[measure.Hours](b.Planned.Float() * math.Exp(by))
		if err != nil {
			t.Fatal(err)
		}
		b.Booked = h
	}
	e, err := actuals.Compare(yard(), list).Edit(os.DirFS(enginetest.DemoBook))
	if err != nil || len(e.Changes)+len(e.ByHand) > 0 || len(e.Diff()) > 0 {
		t.Errorf("%v %+v\n%s", err, e.Changes, e.Diff())
	}
}

// A book that was changed since it was read is not edited.
func TestOtherBook(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "hulls.yaml"), []byte("hulls: []\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := actuals.Compare(yard(), demo(t)).Edit(os.DirFS(folder))
	if err == nil || !strings.Contains(err.Error(), "the book has changed since it was read; begin anew") {
		t.Errorf("%v", err)
	}
}

// With the hours booked as planned the margin is that of the quotation's cost; a tenth more in one operation costs a
// tenth of its labour, with its overhead and contingency.
func TestMargins(t *testing.T) {
	l := load(t)
	e := yard()
	b := &l.Boats[0]
	for _, more := range []measure.Hours{0, 4_000_000} {
		var rows strings.Builder
		rows.WriteString("boat,operation,hours\n")
		shop, hours := 0, measure.Hours(0)
		for _, task := range b.Tasks {
			if op := e.Work.Operations[task.Operation]; op.ID == "check-mould" {
				shop, hours = task.Shop, task.Hours
				rows.WriteString(b.Order.Number + ",check-mould," + (task.Hours + more).String() + "\n")
			}
		}
		read, err := actuals.Read([]byte(rows.String()), e, l.Boats)
		if err != nil || len(read.Faults) > 0 {
			t.Fatal(err, read.Faults)
		}
		m, err := actuals.Margins(e, read.List, l.Boats)
		if err != nil || len(m) != 1 {
			t.Fatal(err, m)
		}
		rate := e.Pack.Costs.Shops[shop].Rate
		labour := rate.Scaled(int64(more), measure.Exponent)
		add := labour.Add(labour.Share(e.Pack.Costs.OnLabour))
		add = add.Add(add.Share(e.Pack.Costs.Contingency))
		off := m[0].Actual.Sub(m[0].Cost).Sub(add).Abs()
		if m[0].Counted != hours || m[0].Booked != hours+more {
			t.Errorf("%+v", m[0])
		}
		// each amount is rounded by itself
		if off.Cmp(money.MustParse("0.05")) > 0 {
			t.Errorf("%s h more cost %s, want %s", more, m[0].Actual.Sub(m[0].Cost), add)
		}
		if (more == 0) != m[0].Left.Equal(m[0].Quoted) || m[0].Left.Cmp(m[0].Quoted) > 0 {
			t.Errorf("margin %s, quoted %s", m[0].Left, m[0].Quoted)
		}
	}
}
