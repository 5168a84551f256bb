package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// accepted is how many quotations become orders in the story. Each command of it has a test of its own, so that a run
// without the flag can do without the minute that the whole takes: `go test ./web -run FromYes -accepted 5`.
var accepted = flag.Int("accepted", 0, "how many quotations the story of a yard begins with, from 2 to 5")

// issued writes the quotation of a specimen, as the show's desk does for the yard.
func issued(t *testing.T, e *engine.Engine, name, number, customer string) string {
	t.Helper()
	text, err := os.ReadFile("../testdata/specs/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	s, err := spec.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	a, err := e.Answer(s)
	if err != nil {
		t.Fatal(err)
	}
	q, err := quote.Freeze(e, a, quote.Details{Number: number, Revision: 1, Date: "2027-02-10",
		Customer: quote.Party{Name: customer}})
	if err != nil {
		t.Fatal(err)
	}
	return write(t, filepath.Join(t.TempDir(), "quotation.json"), string(q.Encode()))
}

// The whole way, as the README tells it: quotations are accepted and planned into a loaded yard; their material has
// dates, and each shop its cards; a boat that is half built is changed; hours are booked; and the book learns of them.
func TestFromYesToLaunch(t *testing.T) {
	if *accepted < 2 {
		t.Skip("the story takes a minute; tell it with -accepted 5")
	}
	t.Parallel()
	dir, out := yardOrders(t), t.TempDir()
	e, err := engine.Compile(packsOf(t)[pack.Show])
	if err != nil {
		t.Fatal(err)
	}
	yard := func(command string, args ...string) string {
		t.Helper()
		return worked(t, tool(t, "", append([]string{command, "-book", rulesFolder, "-orders", dir}, args...)...)).out
	}
	all := []string{"sedge-46-plainest", "rush-54-fullest", "reed-65-plainest", "osier-76-plainest",
		"extras-and-discount"}
	n := min(*accepted, len(all))
	for i, name := range all[:n] {
		number := fmt.Sprintf("2027-0%02d", 10+i)
		file := issued(t, e, name, "Q-"+number, "Customer "+number)
		said := yard("order", "-quotation", file, "-number", number, "-accepted", "2027-02-15", "-promised",
			"2027-W52")
		if !strings.Contains(said, "Wrote ") || !strings.Contains(said, "four of five by 2027-W") {
			t.Fatal(said)
		}
	}
	// planned: no order has fallen out, and nothing of the five comes before what was ordered first
	var p orders.Plan
	if err := json.Unmarshal([]byte(yard("plan", "-json")), &p); err != nil {
		t.Fatal(err)
	}
	if len(p.Boats) != 12+n || p.Bottleneck == "" {
		t.Errorf("%d boats, waiting for %q", len(p.Boats), p.Bottleneck)
	}
	for _, b := range p.Boats {
		if b.Number >= "2027-010" && (b.Late > 0 || len(b.Chain) == 0) {
			t.Errorf("%s is late by %d weeks, for %d reasons", b.Number, b.Late, len(b.Chain))
		}
	}
	// bought: every row has the day by which it is ordered
	rows := strings.Split(strings.TrimSpace(yard("purchases", "-order", "2027-011", "-format", "csv")), "\n")
	if len(rows) < 50 || !strings.Contains(rows[1], "2027-") {
		t.Errorf("%d rows, the first %q", len(rows), rows[min(1, len(rows)-1)])
	}
	// on cards: every shop that has work on the boat gets one
	yard("cards", "-order", "2027-010", "-effort", "quick", "-format", "html", "-out", out)
	cards, err := filepath.Glob(filepath.Join(out, "2027-010-*.html"))
	if err != nil || len(cards) < 8 {
		t.Errorf("%d cards, %v", len(cards), err)
	}
	// changed at half build, and booked on
	yard("change", "-order", "2026-032", "-set", "bottom-paint=bottom-copper-free", "-day", "2027-02-15", "-promised",
		"2027-W14", "-out", out, "-accept")
	list := write(t, filepath.Join(out, "cards.csv"), "order,operation,begun,done,hours\n"+
		"2027-011,build-loom,2027-02-16,2027-02-17,14\n2027-011,glue-foams,2027-02-18,2027-02-18,2\n")
	if said := yard("booked", "-list", list); !strings.Contains(said, "2 operations entered") {
		t.Error(said)
	}
	learnt(t, dir, 12+n)
}

// learnt holds the last step of the story: what was booked in two years corrects the book, which is as sound as before.
func learnt(t *testing.T, dir string, boats int) {
	t.Helper()
	diff := worked(t, tool(t, "", "actuals", "-book", rulesFolder, "-orders", dir, "-hours", demoHours, "-diff")).out
	if strings.Count(diff, "\n+") < 3 {
		t.Fatalf("there is nothing to correct: %s", diff)
	}
	book := copyBook(t)
	if _, err := exec.LookPath("patch"); err != nil {
		t.Skip("there is no patch to apply the diff with")
	}
	patch := exec.Command("patch", "-p1", "--no-backup-if-mismatch")
	patch.Dir, patch.Stdin = book, strings.NewReader(diff)
	if said, err := patch.CombinedOutput(); err != nil {
		t.Fatalf("patch: %v\n%s", err, said)
	}
	// the same orders by the corrected book: other hours, and everything still planned
	var p orders.Plan
	text := worked(t, tool(t, "", "plan", "-book", book, "-orders", dir, "-json")).out
	if err := json.Unmarshal([]byte(text), &p); err != nil || len(p.Boats) != boats {
		t.Errorf("%v: %d boats", err, len(p.Boats))
	}
	if _, err := os.Stat(filepath.Join(book, "yard.yaml")); err != nil {
		t.Error(err)
	}
}
