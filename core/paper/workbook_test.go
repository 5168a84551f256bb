package paper_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/xuri/excelize/v2"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/paper"
	"ribband/core/sheet"
)

// A workbook is what the yard's sheet says, read by a program of another hand: its columns of amounts add up to the
// cost, its hours to those of the boat, and every unit has its code.
func TestWorkbookAddsUp(t *testing.T) {
	for _, name := range []string{"reed-65-fullest", "extras-and-discount", "sedge-46-plainest"} {
		_, y := papersOf(t, yardEngine(), name, nil)
		f, err := excelize.OpenReader(strings.NewReader(write(t, "build-sheet", &paper.Source{Yard: y},
			paper.AsWorkbook)))
		if err != nil {
			t.Fatal(err)
		}
		// column is the values below a head of a sheet; the rows of the foot are taken apart
		column := func(sheet, head string, foot int) (list []string) {
			rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			for i, h := range rows[0] {
				if h == head {
					for _, row := range rows[1 : len(rows)-foot] {
						if i < len(row) {
							list = append(list, row[i])
						} else {
							list = append(list, "")
						}
					}
					return list
				}
			}
			t.Fatalf("%s has no %s: %q", sheet, head, rows[0])
			return nil
		}
		sum := func(list []string) (total decimal.Decimal) {
			for _, s := range list {
				if s != "" {
					total = total.Add(decimal.RequireFromString(s))
				}
			}
			return total
		}
		parts := 6 // of the cost, above it; outside work is one where there is any
		if !y.Cost.Outside.IsZero() {
			parts++
		}
		for _, c := range []struct {
			what string
			got  decimal.Decimal
			want string
		}{
			{"materials", sum(column("Materials", "Cost, EUR", 1)), materials(y).String()},
			{"materials with extra items", sum(column("Materials", "Cost, "+
				"EUR", 0)).Sub(sum(column("Materials", "Cost, EUR", 1))),
				y.Cost.Materials.String()},
			{"left over", sum(column("Bought", "Left over, charged, EUR", 0)), y.Cost.Leftovers.String()},
			{"hours of operations", sum(column("Hours", "Hours", 1)), operations(y).String()},
			{"cost", sum(column("Cost", "EUR", 0)[:parts]), y.Cost.Total.String()},
			{"rates", sum(column("Cost", "EUR", 0)[len(column("Cost", "EUR", 0))-3:]),
				y.Cost.OverheadOnMaterials.Add(y.Cost.OverheadOnLabour).Add(y.Cost.Contingency).String()},
		} {
			if !c.got.Equal(decimal.RequireFromString(c.want)) {
				t.Errorf("%s: %s comes to %s, want %s", name, c.what, c.got, c.want)
			}
		}
		for i, code := range column("Bought", "Unit code", 0) {
			if code != y.Purchases[i].UnitCode || code == "" {
				t.Errorf("%s: the unit of %s has the code %q", name, y.Purchases[i].Material, code)
			}
		}
		if n := len(column("Price", "For", 0)); n != len(y.Prices) || n < 20 {
			t.Errorf("%s: %d prices, want %d", name, n, len(y.Prices))
		}
	}
}

// operations are the hours of all operations.
func operations(y *sheet.Yard) (sum measure.Hours) {
	for _, w := range y.Work {
		sum += w.Hours
	}
	return sum
}

// materials are what all materials cost.
func materials(y *sheet.Yard) (sum money.Amount) {
	for _, m := range y.Materials {
		sum = sum.Add(m.Amount)
	}
	return sum
}
