package export_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"ribband/core/doc"
	"ribband/core/export"
	"ribband/core/money"
)

// opened is a workbook as a reader of another hand (xuri/excelize) has it.
func opened(t rapid.TB, text []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Words, numbers, amounts, shares and days come back as what they are, and look as they are meant to.
func TestWorkbookIsReadByAnotherReader(t *testing.T) {
	euro := money.Currency{Code: "EUR", Digits: 2}
	table := doc.Table{
		Columns: []doc.Column{{Title: "Material"}, {Title: "Length", Unit: "m"}, {Title: "Day"}, {Title: "Share"},
			{Title: "Cost", Unit: "EUR"}, {Title: "n"}},
		Groups: []doc.Group{{Rows: []doc.Row{
			{Label: "=1+1", Cells: []doc.Cell{doc.Exact(12.125), doc.Date("2027-03-31"),
				doc.Share(money.MustRate("0.175")),
				doc.Money(money.MustParse("-1234567.5"), euro), doc.Count(3)}},
			{Label: " <b>&\"_x0041_\n\u202e", Cells: []doc.Cell{{}, {}, {}, doc.Money(money.MustParse("0.1"),
				euro)}}}}},
		Foot: []doc.Row{{Label: "Sum", Cells: []doc.Cell{doc.Decimal("12.1250000001")}}}}
	f := opened(t, export.Workbook([]export.Sheet{{"Materials", table}, {"a/b:[c]" + strings.Repeat("x", 40), table}}))
	if names := f.GetSheetList(); len(names) != 2 || names[0] != "Materials" || len(names[1]) != 31 {
		t.Errorf("the sheets are %q", names)
	}
	for _, c := range []struct{ cell, raw, shown string }{
		{"A1", "Material", "Material"}, {"B1", "Length, m", "Length, m"}, {"A2", "=1+1", "=1+1"},
		{"B2", "12.125", "12.125"}, {"C2", "46477", "03-31-27"}, {"D2", "0.175", "17.50%"},
		{"E2", "-1234567.50", "-1,234,567.50"}, {"F2", "3", "3"}, {"A3", " <b>&\"_x0041_\n\u202e",
			" <b>&\"_x0041_\n\u202e"},
		{"B3", "", ""}, {"E3", "0.10", "0.10"}, {"A4", "Sum", "Sum"}, {"B4", "12.1250000001", "12.125000"}} {
		raw, err := f.GetCellValue("Materials", c.cell, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		shown, err := f.GetCellValue("Materials", c.cell)
		if err != nil {
			t.Fatal(err)
		}
		if raw != c.raw || shown != c.shown {
			t.Errorf("%s is %q, shown as %q; want %q, %q", c.cell, raw, shown, c.raw, c.shown)
		}
		if formula, err := f.GetCellFormula("Materials", c.cell); err != nil || formula != "" {
			t.Errorf("%s is the formula %q, %v", c.cell, formula, err)
		}
		kind, err := f.GetCellType("Materials", c.cell)
		if err != nil || (kind == excelize.CellTypeInlineString) != (strings.ContainsAny(c.cell, "A1") && c.raw != "") {
			t.Errorf("%s is of type %d, %v", c.cell, kind, err)
		}
	}
	for cell, bold := range map[string]bool{"A1": true, "A2": false, "B4": true} {
		id, err := f.GetCellStyle("Materials", cell)
		if err != nil {
			t.Fatal(err)
		}
		style, err := f.GetStyle(id)
		if err != nil || style.Font.Bold != bold {
			t.Errorf("%s is bold: %v, %v", cell, !bold, err)
		}
	}
	if panes, err := f.GetPanes("Materials"); err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("the heads do not stand still: %+v, %v", panes, err)
	}
}

// Any text comes back as it was, but for what XML cannot say.
func TestWorkbookKeepsAnyText(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.String().Draw(r, "text")
		f := opened(r, export.Workbook([]export.Sheet{{"S", doc.Table{Columns: make([]doc.Column, 1),
			Groups: []doc.Group{{Rows: []doc.Row{{Label: text}}}}}}}))
		got, err := f.GetCellValue("S", "A2")
		want := strings.Map(func(c rune) rune {
			if c < ' ' && !strings.ContainsRune("\t\n\r", c) || c == 0xfffe || c == 0xffff {
				return '\ufffd'
			}
			return c
		}, text)
		if err != nil || got != want {
			r.Errorf("%q came back as %q, %v", text, got, err)
		}
	})
}

// The archive is one for the standard library, each part of it XML, and too long a text is cut and not the file.
func TestWorkbookIsAnArchiveOfXML(t *testing.T) {
	long := strings.Repeat("ä𝄞", 30_000)
	text := export.Workbook([]export.Sheet{{"S", doc.Table{Columns: make([]doc.Column, 40),
		Groups: []doc.Group{{Rows: []doc.Row{{Label: long, Cells: make([]doc.Cell, 50)}}}}}}})
	z, err := zip.NewReader(bytes.NewReader(text), int64(len(text)))
	if err != nil || len(z.File) != 6 {
		t.Fatal(err, len(z.File))
	}
	for _, part := range z.File {
		r, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r) // checks the checksum
		if err != nil {
			t.Fatal(part.Name, err)
		}
		for d := xml.NewDecoder(bytes.NewReader(content)); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatal(part.Name, err)
			}
		}
	}
	got, err := opened(t, text).GetCellValue("S", "A2")
	if err != nil || !strings.HasSuffix(got, "…") || !strings.HasPrefix(long, strings.TrimSuffix(got, "…")) ||
		len(got) < 40_000 {
		t.Errorf("a long text came back with %d bytes, %v", len(got), err)
	}
}
