package actuals_test

import (
	"os"
	"strings"
	"testing"

	"ribband/core/actuals"
	"ribband/core/orders"
)

// load is the demo's orders as they are planned.
func load(t testing.TB) *orders.Load {
	t.Helper()
	files := map[string][]byte{}
	const folder = "../../testdata/orders"
	list, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		if files[f.Name()], err = os.ReadFile(folder + "/" + f.Name()); err != nil {
			t.Fatal(err)
		}
	}
	read := orders.Read(files)
	l, faults := orders.NewLoad(yard(), read.Orders, read.Day())
	if len(faults)+len(read.Faults) > 0 {
		t.Fatal(read.Faults, faults)
	}
	return l
}

func TestRows(t *testing.T) {
	const head = "boat,operation,hours,day,option,planned,hull\n"
	const past = "A-1,laminate-hull,20,2025-03-03,,18,reed-65\n"
	boats := load(t).Boats
	for name, c := range map[string]struct {
		rows, want string // the fault or note; "" for neither
		kept       int
	}{
		"a boat of the past": {past, "", 1},
		"an order":           {"2026-031,check-mould,3,,,,\n", "", 1},
		"summed":             {past + "A-1,laminate-hull,3,2025-03-04,,,\n", "", 1},
		"twice on a day": {past + "A-1,laminate-hull,3,2025-03-03,,,\n", "line 3: laminate-hull of A-1 " +
			"stands in line 2 already, of the same day; the hours are summed: take one out if it was entered twice", 1},
		"unknown operation": {past + "A-1,laminate-hul,2,,,2,\n", `line 3: operation: the book has no ` +
			`operation "laminate-hul"; did you mean "laminate-hull"?`, 1},
		"unknown option": {past + "A-1,fit-out,2,,sole-plyy,2,\n", `line 3: option: the book has no option ` +
			`"sole-plyy"; did you mean "sole-ply"?`, 1},
		"unknown hull": {past + "A-2,fit-out,2,,,2,reed-66\n", `line 3: hull: the book has no hull ` +
			`"reed-66"; did you mean "reed-65"?`, 1},
		"another hull": {past + "A-1,fit-out,2,,,2,osier-76\n", "line 3: hull: A-1 is a reed-65 in line " +
			"2; a boat has one hull", 1},
		"unknown boat": {past + "2026-301,fit-out,2,,,2,\n", `line 3: boat: there is no order ` +
			`"2026-301"; did you mean`, 1},
		"no boat": {past + ",fit-out,2,,,2,\n", "line 3: boat: whose hours are these? Give the " +
			"number of its order", 1},
		"negative hours": {past + "A-1,fit-out,-2,,,2,\n", "line 3: hours: -2 h; want 0 to 2000 h", 1},
		"too many hours": {past + "A-1,fit-out,20000,,,2,\n", "line 3: hours: 20000 h; want 0 to 2000 h", 1},
		"no number":      {past + "A-1,fit-out,two,,,2,\n", `line 3: hours: "two" is no number`, 1},
		"both decimal signs": {past + "A-1,fit-out,2.5,,,2,\nA-1,fit-trim,\"2,5\",,,2,\n", "line 4: hours: " +
			"\"2,5\" has a decimal comma, line 3 has the other sign; use one throughout", 2},
		"a lost decimal sign": {past + "A-1,fit-out,250,,,2.4,\n", "line 3: hours: 250 h for fit-out of A-1, " +
			"and 2.4 h planned; look for a decimal sign that is lost, or book it where it was worked", 1},
		"nothing worked": {past + "A-1,fit-out,0,,,2.4,\n", "line 3: hours: 0 h in all for fit-out of A-1; " +
			"enter what it took, or take the row out", 1},
		"nothing planned": {past + "A-1,fit-out,2,,,,\n", "line 3: planned: nothing is planned for fit-out " +
			"of A-1", 1},
		"planned nought": {past + "A-1,fit-out,2,,,0,\n", `line 3: planned: 0 h for "fit-out"; book it ` +
			`where it was planned`, 1},
		"planned otherwise": {past + "A-1,laminate-hull,2,2025-03-05,,19,\n", "line 3: planned: 19 h for " +
			"laminate-hull of A-1, and 18 h in line 2; they are those of all its rows together", 1},
		"no such day": {past + "A-1,fit-out,2,2025-02-30,,2,\n", "line 3: day: ", 1},
		"not of this boat": {past + "2026-031,sew-enclosure,2,,,,\n", `line 3: 2026-031 has no operation ` +
			`"sew-enclosure"; book it where it was worked, or enter the change order`, 1},
		"not of this option": {past + "2026-031,check-mould,2,,sole-ply,,\n", `line 3: 2026-031 has no ` +
			`operation "check-mould" for "sole-ply"`, 1},
		"subcontracted": {past + "A-1,coat-frame,2,,,2,\n", `line 3: operation: "coat-frame" is subcontracted, ` +
			`and has no hours to compare; take the row out`, 1},
		"under way":     {past + "2027-005,wrap-and-load,2,,,,\n", "", 2},
		"a damaged row": {past + "A-1,fit-out\n", "line 3: it has 2 values and the first line 7", 1},
	} {
		b, err := actuals.Read([]byte(head+c.rows), yard(), boats)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var said []string
		for _, f := range b.Faults {
			said = append(said, f.Error())
		}
		said = append(said, b.Notes...)
		got := strings.Join(said, "\n")
		if len(b.List) != c.kept || !strings.Contains(got, c.want) || (c.want == "") != (got == "") || len(said) > 1 {
			t.Errorf("%s: %d kept, %s\nwant %d, %s", name, len(b.List), got, c.kept, c.want)
		}
	}
	if _, err := actuals.Read([]byte("boat,hours\n"), yard(), nil); err == nil ||
		!strings.Contains(err.Error(), `there is no column "operation"`) {
		t.Errorf("no operations: %v", err)
	}
}
