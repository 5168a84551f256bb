package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const demoHours, demoOrdersFolder = "../testdata/actuals/hours.csv", "../testdata/orders"

// The report of the demo's hours, with some of an order, is as it was; its rows stand in a table for other
// programs, too.
func TestHoursReport(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(demoHours)
	if err != nil {
		t.Fatal(err)
	}
	// an order that is being built, two of whose operations are done
	more := "2026-12-01,2026-031,,check-mould,,,4.5\n2026-12-02,2026-031,,prepare-mould,,,15\n"
	file := write(t, filepath.Join(t.TempDir(), "hours.csv"), string(text)+more)
	args := []string{"actuals", "-book", rulesFolder, "-orders", demoOrdersFolder, "-hours", file}
	o := worked(t, tool(t, "", args...))
	const golden = "../testdata/actuals/report.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(o.out), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if o.out != string(want) {
		t.Errorf("the report is another than before:\n%s\nwant\n%s", o.out, want)
	}
	csv := worked(t, tool(t, "", append(args, "-format", "csv")...)).out
	if rows := strings.Count(csv, "\n"); rows < 200 || !strings.Contains(csv, "Laminate the shell of the hull") {
		t.Errorf("%d rows: %.300s", rows, csv)
	}
}

// What is wrong with rows is told with file, line and remedy; the others count, as text and as JSON, and the exit code
// says that there were such.
func TestHoursWithFaults(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(demoHours)
	if err != nil {
		t.Fatal(err)
	}
	lines := bytes.SplitAfter(text, []byte("\n"))
	few := string(bytes.Join(lines[:80], nil))
	file := write(t, filepath.Join(t.TempDir(), "hours.csv"), few+"2024-02-01,2024-001,sedge-46,lay-lom,,8.00,9\n")
	o := tool(t, "", "actuals", "-book", rulesFolder, "-hours", file, "-json")
	if o.code != 1 || !strings.Contains(o.err, "hours.csv: reading hours: line 81: operation: the book has no "+
		"operation \"lay-lom\"; did you mean \"lay-loom\"?") ||
		!strings.Contains(o.err, "80 rows are read: 79 bookings of 2 boats") {
		t.Errorf("%d %s", o.code, o.err)
	}
	var r ActualsReport
	err = json.Unmarshal([]byte(o.out), &r)
	if err != nil || r.Bookings != 79 || len(r.Faults) != 1 || len(r.Biases) == 0 {
		t.Errorf("%v %.200s", err, o.out)
	}
	refused(t, tool(t, "", "actuals"), 2, "-hours FILE")
	refused(t, tool(t, "", "actuals", "-hours", file, "-json", "-diff"), 2, "-json and -diff")
	refused(t, tool(t, "", "actuals", "-book", rulesFolder, "-hours", "nowhere.csv"), 1, "nowhere.csv")
	// the diff alone goes to standard output
	o = worked(t, tool(t, "", "actuals", "-book", rulesFolder, "-hours", demoHours, "-diff"))
	if !strings.HasPrefix(o.out, "--- a/") || !strings.Contains(o.out, "(1.5 + 1.7 * hull.shell_m2) * 1.2") {
		t.Errorf("%.300s", o.out)
	}
}
