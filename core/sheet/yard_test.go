package sheet_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

func TestYardSheetIsTheYardsAlone(t *testing.T) {
	for desk, want := range map[pack.Desk]bool{pack.Buyer: false, pack.Show: false, pack.Yard: true} {
		e := enginetest.Small()[desk]
		if got := sheet.ForYard(e, enginetest.Answer(t, e, enginetest.Teasel(t)), quote.Details{}) != nil; got != want {
			t.Errorf("the %s's desk has a sheet: %v, want %v", desk, got, want)
		}
	}
}

func TestYardSheetsOfDemoSpecsAddUp(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for name, s := range enginetest.DemoSpecs(t) {
		a := enginetest.Answer(t, e, s)
		y := sheet.ForYard(e, a, quote.Details{})
		if err := sheetAddsUp(e, a, y); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if (len(y.Clashes) > 0) != strings.HasPrefix(name, "clash-") {
			t.Errorf("%s: clashes %v", name, y.Clashes)
		}
	}
}

// bookLine is the text from a place in the book to the end of its line.
func bookLine(folder, at string) (string, error) {
	parts := strings.Split(at, ":")
	if len(parts) != 3 {
		return "", fmt.Errorf("%q is no place", at)
	}
	text, err := os.ReadFile(filepath.Join(folder, parts[0]))
	if err != nil {
		return "", err
	}
	lines := strings.Split(string(text), "\n")
	line, err1 := strconv.Atoi(parts[1])
	column, err2 := strconv.Atoi(parts[2])
	if err1 != nil || err2 != nil || line < 1 || line > len(lines) || column < 1 ||
		column > len([]rune(lines[line-1])) {
		return "", fmt.Errorf("%s is not in the file", at)
	}
	return string([]rune(lines[line-1])[column-1:]), nil
}

// partOf finds the parts of a form: a formula in single or double quotes, or a plain one.
var partOf = regexp.MustCompile(`\w+: (?:'([^']*)'|"([^"]*)"|([^,}"']+))`)

// layerOf is a layer of a cushion with its thickness.
var layerOf = regexp.MustCompile(`^\{material: [\w-]+, thickness_mm: ([0-9.]+)\}`)

// Every trace names a place that is in the book, where its formula stands, or the parts that it is composed of.
func TestTracesLeadToTheBook(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	traces := 0
	for name, s := range enginetest.DemoSpecs(t) {
		y := sheet.ForYard(e, enginetest.Answer(t, e, s), quote.Details{})
		for _, tr := range tracesOf(y) {
			traces++
			line, err := bookLine(enginetest.DemoBook, tr.At)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			stands := tr.Formula
			for _, key := range []string{"wire: ", "fuse: ", "switch: ", "spare: ", "cut: "} {
				stands = strings.TrimPrefix(stands, key)
			}
			// composed of the parts that stand there
			if form := strings.Index(line, ": {"); strings.HasPrefix(line, "{material: ") && form > 0 {
				parts, _, _ := strings.Cut(line[form+3:], "}, operation: ") // who takes it is no part
				for _, part := range partOf.FindAllStringSubmatch(parts, -1) {
					if text := strings.Trim(part[1]+part[2]+part[3], ` `); !strings.Contains(tr.Formula, text) {
						t.Errorf("%s: at %s stands the part %q, the trace says %q", name, tr.At, text, tr.Formula)
					}
				}
				continue
			}
			// a layer: the area of its cushion, which stands above it, times its own thickness
			if l := layerOf.FindStringSubmatch(line); l != nil {
				if want := " * " + l[1] + " / 1000"; !strings.HasSuffix(tr.Formula, want) {
					t.Errorf("%s: at %s stands a layer of %s mm, the trace says %q", name, tr.At, l[1], tr.Formula)
				}
				continue
			}
			// so much for a square metre × (the area that stands there)
			if strings.HasPrefix(tr.At, "laminates.yaml:") {
				var found bool
				if _, stands, found = strings.Cut(strings.TrimSuffix(tr.Formula, ")"), " * ("); !found {
					t.Errorf("%s: %q is no amount for a square metre times an area", name, tr.Formula)
				}
			}
			if !strings.HasPrefix(strings.TrimLeft(line, `"'`), stands) {
				t.Errorf("%s: at %s stands %.60q, the trace says %q", name, tr.At, line, tr.Formula)
			}
		}
		for _, r := range y.Rates {
			if line, err := bookLine(enginetest.DemoBook, r.At); err != nil || !strings.HasPrefix(line, `"0`) {
				t.Errorf("%s: at %s stands %.60q, want the rate of %s (%v)", name, r.At, line, r.Part, err)
			}
		}
		for _, p := range y.Prices {
			line, err := bookLine(enginetest.DemoBook, p.At)
			if err != nil || p.Method != "list" && !strings.HasPrefix(line, `"0`) {
				t.Errorf("%s: at %s stands %.60q, want the %s of %s (%v)", name, p.At, line, p.Method, p.For, err)
			}
		}
	}
	t.Logf("%d traces", traces)
	if traces < 1000 {
		t.Errorf("only %d traces", traces)
	}
}

func tracesOf(y *sheet.Yard) (list []engine.Trace) {
	for _, w := range y.Work {
		list = append(list, w.Trace)
	}
	for _, m := range y.Materials {
		list = append(list, m.Trace)
	}
	for _, p := range y.Prices {
		list = append(list, p.Terms...)
	}
	return list
}

// A trace says what its formula read: fields of the hull, use, figures, options.
func TestTraceInputs(t *testing.T) {
	e := enginetest.Edited(t, enginetest.Edit{"boat.yaml", `hours: "3 + 1 * hull.top_m2"`,
		`hours: 'use.persons > 2 and use.region == "home" and chosen("top") != "" and has("top-folding") and hull.id == "teasel-48" ? 3 + 1 * hull.top_m2 : 1 * figures.mass_kg'`})[pack.Yard]
	y := sheet.ForYard(e, enginetest.Answer(t, e, enginetest.Teasel(t)), quote.Details{})
	for _, w := range y.Work {
		if w.For != "cloth-light" {
			continue
		}
		var got []string
		for _, in := range w.Trace.Inputs {
			got = append(got, in.Name+" = "+in.Value)
		}
		enginetest.WantList(t, "inputs", got, []string{"hull.top_m2 = 4.5", "hull.id = teasel-48", "use.persons = 4",
			"use.region = home", "figures.mass_kg = 304", `count("top-folding") = 1`, `chosen("top") = 1`})
		if w.Hours.String() != "7.5" || w.Amount.String() != "341.25" || w.Shop != "Canvas shop" ||
			w.Operation != "Cut and sew canvas" {
			t.Errorf("work %+v", w)
		}
	}
}

// The purchases of the small boat: tube by the pack, whose rest is charged; cloth from the store.
func TestYardSheetPurchases(t *testing.T) {
	e := enginetest.Small()[pack.Yard]
	y := sheet.ForYard(e, enginetest.Answer(t, e, enginetest.Teasel(t)), quote.Details{})
	var got []string
	for _, p := range y.Purchases {
		got = append(got, fmt.Sprintf("%s %s %s (%s), %d of %s, rest %s charged %s, stock %v, %s %d", p.Title, p.Used,
			p.Unit, p.UnitCode, p.Packs, p.Pack, p.Leftover, p.Charged, p.Stock, p.Supplier, p.LeadDays))
	}
	enginetest.WantList(t, "purchases", got, []string{
		`Acrylic cloth 5.841 m2 (MTK), 1 of 60, rest 54.159 charged 0, stock true, Invented Weavers 15`,
		`Tube 25 mm 17.712 m (MTR), 3 of 6, rest 0.288 charged 2.76, stock false,  0`,
	})
}
