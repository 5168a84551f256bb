package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/emersion/go-ical"
)

const ordersFolder = "../testdata/orders"

// planOf is what plan -json says of a folder of orders.
func planOf(t *testing.T, o outcome) (r PlanReport) {
	t.Helper()
	if err := json.Unmarshal([]byte(o.out), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// What the plan says as text, as data and in a diary is of one plan.
func TestPlanOfOrders(t *testing.T) {
	t.Parallel()
	base := []string{"plan", "-book", rulesFolder, "-orders", ordersFolder, "-effort", "quick"}
	data := planOf(t, worked(t, tool(t, "", append(base, "-json")...)))
	text := worked(t, tool(t, "", base...)).out
	diary := worked(t, tool(t, "", append(base, "-ics")...)).out
	if len(data.Boats) != 12 || len(data.Shops) == 0 || data.Bottleneck == "" || len(data.Gains) == 0 {
		t.Fatalf("%d boats, %d shops, %q, %d gains", len(data.Boats), len(data.Shops), data.Bottleneck, len(data.Gains))
	}
	c, err := ical.NewDecoder(strings.NewReader(diary)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	launches := map[string]string{}
	for _, x := range c.Children {
		if s := x.Props.Get("SUMMARY").Value; strings.HasPrefix(s, "Launch of ") {
			launches[s[len("Launch of "):][:len("2027-001")]] = x.Props.Get("DTSTART").Value
		}
	}
	late := false
	for _, b := range data.Boats {
		line := b.Number + "  " + b.Hull
		if !strings.Contains(text, line) || !strings.Contains(text, b.Launch.String()) {
			t.Errorf("the text lacks %s, %s", line, b.Launch)
		}
		if want := strings.ReplaceAll(b.Launch.String(), "-", ""); launches[b.Number] != want {
			t.Errorf("the diary launches %s on %s, the plan on %s", b.Number, launches[b.Number], want)
		}
		late = late || b.Late > 0
	}
	if late != strings.Contains(text, "weeks late") {
		t.Error("text and data disagree on what is late")
	}
	why := worked(t, tool(t, "", append(base, "-why", "2027-001")...)).out
	for _, r := range data.Boats[7].Chain {
		if !strings.Contains(why, r.Title) {
			t.Errorf("why does not tell of %s", r.Title)
		}
	}
}

// A folder with damaged orders is planned without them, and the exit code says so.
func TestPlanOfDamagedOrders(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(ordersFolder)); err != nil {
		t.Fatal(err)
	}
	edit(t, filepath.Join(dir, "2027-001.json"), `"promised": "2027-`, `"promised": "2027-X`)
	edit(t, filepath.Join(dir, "2026-034.json"), `"operation": "prepare-mould"`, `"operation": "prepare-mold"`)
	o := tool(t, "", "plan", "-book", rulesFolder, "-orders", dir, "-effort", "quick", "-json")
	if o.code != 1 || len(planOf(t, o).Boats) != 11 {
		t.Errorf("exit code %d: %s", o.code, o.err)
	}
	for _, want := range []string{"2027-001.json: reading an order: line 6, column 15: promised",
		"is no week; write it as 2027-W22",
		`2026-034.json: planning an order: done[1].operation: the book has no operation "prepare-mold"; did you mean ` +
			`"prepare-mould"?`, "2 of the files have faults"} {
		if !strings.Contains(o.err, want) {
			t.Errorf("it does not say %q: %s", want, o.err)
		}
	}
}

// The list of purchases is the same as data, as text and for a spreadsheet; a stock takes from it.
func TestPurchasesOfOrders(t *testing.T) {
	t.Parallel()
	base := []string{"purchases", "-book", rulesFolder, "-orders", ordersFolder}
	type list struct {
		Purchases []struct {
			Material, Title, Supplier string
			Needed                    string
		}
	}
	of := func(more ...string) (l list) {
		o := worked(t, tool(t, "", append(append(base, "-format", "json"), more...)...))
		if err := json.Unmarshal([]byte(o.out), &l); err != nil {
			t.Fatal(err)
		}
		return l
	}
	all := of()
	csv := worked(t, tool(t, "", append(base, "-format", "csv")...)).out
	for _, p := range all.Purchases {
		if !strings.Contains(csv, strings.ReplaceAll(p.Title, `"`, `""`)) {
			t.Errorf("the CSV lacks %s", p.Title)
		}
	}
	first := all.Purchases[0]
	stock := write(t, filepath.Join(t.TempDir(), "stock.csv"), "material;quantity\n"+first.Material+";"+
		strings.ReplaceAll(first.Needed, ".", ",")+"\n")
	if got := of("-stock", stock); got.Purchases[0].Material == first.Material ||
		len(got.Purchases) != len(all.Purchases)-1 {
		t.Errorf("%s is in stock, and %d of %d are bought", first.Title, len(got.Purchases), len(all.Purchases))
	}
	out := t.TempDir()
	for _, p := range of("-supplier", first.Supplier).Purchases {
		if p.Supplier != first.Supplier {
			t.Errorf("%s is of %s", p.Title, p.Supplier)
		}
	}
	worked(t, tool(t, "", append(base, "-supplier", first.Supplier, "-out", out)...))
	files, err := os.ReadDir(out)
	if err != nil || len(files) != 1 || !strings.HasPrefix(files[0].Name(), "order-"+fileWords(first.Supplier)+"-20") {
		t.Errorf("orders to suppliers: %v %v", files, err)
	}
}

// A change that is too late says so, and fails a script; what is not understood is told with what would be.
func TestChangeOfAnOrder(t *testing.T) {
	t.Parallel()
	base := []string{"change", "-book", rulesFolder, "-orders", ordersFolder, "-order"}
	o := tool(t, "", append(base, "2026-033", "-set", "gelcoat-hull=gelcoat-hull-navy")...)
	if o.code != 1 || !strings.Contains(o.out, "Can no longer be had: Hull colour") {
		t.Errorf("exit code %d: %s", o.code, o.out)
	}
	free := worked(t, tool(t, "", append(base, "2027-005", "-set", "gelcoat-hull=gelcoat-hull-navy")...)).out
	if !strings.Contains(free, "Price with tax") || strings.Contains(free, "Undone") {
		t.Error(free)
	}
	refused(t, tool(t, "", append(base, "2027-009", "-set", "top=")...), 1, `there is no order "2027-009"`, "2027-00")
	refused(t, tool(t, "", append(base, "2027-005", "-set", "top")...), 2, "write SLOT=OPTION")
	refused(t, tool(t, "", append(base, "2027-005", "-set", "top=a*0")...), 2, `"0" is no count`)
	refused(t, tool(t, "", "change", "-orders", ordersFolder), 2, "-order NUMBER")
	refused(t, tool(t, "", "plan"), 2, "-orders DIR")
	refused(t, tool(t, "", "plan", "-orders", ordersFolder, "-day", "2027-02-30"), 2, "is no day")
	refused(t, tool(t, "", "plan", "-orders", t.TempDir()), 1, "holds no order")
}
