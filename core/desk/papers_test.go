package desk_test

import (
	"encoding/base64"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
)

func TestSpecification(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	v.does(desk.Request{Act: "choose", Option: "table-folding-sapele"})
	r := v.does(desk.Request{Act: "specification"})
	if r.Paper == nil || len(r.Fragments) != 0 || !strings.Contains(r.Paper.HTML, "Specification and price") {
		t.Fatalf("%d fragments, paper %+v", len(r.Fragments), r.Paper)
	}
	if f := file(t, r, ".json"); f.Name != "specification-sedge-46.json" || f.Text != r.Spec {
		t.Errorf("the file %q holds %s", f.Name, f.Text)
	}
	if f := file(t, r, ".txt"); !strings.Contains(f.Text, "Folding table in sapele") ||
		!strings.HasPrefix(f.Type, "text/plain") {
		t.Errorf("the file %q of type %q", f.Name, f.Type)
	}
}

func TestSheet(t *testing.T) {
	v := opened(t, demo()[pack.Yard])
	v.does(desk.Request{Act: "freeze", Form: form()})
	r := v.does(desk.Request{Act: "sheet"})
	if r.Paper == nil || r.Paper.Title != "Build sheet, Sedge 46" ||
		!strings.Contains(r.Paper.HTML, "Quotation HL-7/2") || len(r.Paper.Files) != 5 {
		t.Fatalf("the paper is %+v", r.Paper)
	}
	var y struct{ Hull string }
	if err := json.Unmarshal([]byte(file(t, r, ".json").Text), &y); err != nil || y.Hull != "Sedge 46" {
		t.Errorf("the JSON is of %q: %v", y.Hull, err)
	}
	if _, err := csv.NewReader(strings.NewReader(file(t, r, ".csv").Text)).ReadAll(); err != nil {
		t.Error(err)
	}
	// a reply has no bytes: the workbook, an archive, comes as base64
	workbook := file(t, r, ".xlsx")
	if content, err := base64.StdEncoding.DecodeString(workbook.Text); err != nil || !workbook.Base64 ||
		!strings.HasPrefix(string(content), "PK\x03\x04") {
		t.Errorf("the workbook is no archive: %v", err)
	}
	if !strings.Contains(file(t, r, ".txt").Text, "Hours by shop") || file(t, r, ".html").Text != r.Paper.HTML {
		t.Error("the sheet is another in its files")
	}
	r = v.does(desk.Request{Act: "sheet", Value: "electrical"})
	if r.Paper.Title != "Electrical, Sedge 46" || len(r.Paper.Files) != 2 ||
		!strings.Contains(r.Paper.HTML, "Quotation HL-7/2") || strings.Contains(r.Paper.HTML, "Sew") ||
		!strings.Contains(file(t, r, ".txt").Text, "Build the wiring loom") {
		t.Errorf("the sheet of a shop is %q with %d files", r.Paper.Title, len(r.Paper.Files))
	}
	v.fails(desk.Request{Act: "sheet", Value: "electric"}, `did you mean "electrical"?`)
	v.says("loom", "motor controller")
	buyer := opened(t, demo()[pack.Buyer])
	if r := buyer.fails(desk.Request{Act: "sheet"}, "this desk has no build-sheet"); r.Paper != nil {
		t.Error("there is a paper")
	}
}
