package render_test

import (
	"fmt"

	"ribband/core/doc"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/render"
)

// A paper is described once; this is its text.
func ExampleText() {
	eur := money.Currency{Code: "EUR", Digits: 2}
	d := &doc.Doc{Blocks: []doc.Block{
		doc.Heading("Oars"),
		doc.Section{Title: "Price", Blocks: []doc.Block{doc.Table{
			Columns: []doc.Column{{Title: "Item"}, {Title: eur.Code, Right: true}},
			Groups: doc.Rows([]string{"Pair of oars, spruce"}, func(title string) doc.Row {
				return doc.Row{Label: title, Cells: []doc.Cell{doc.Money(money.MustParse("180"), eur)}}
			}),
		}}},
		doc.Section{Title: "Terms", Blocks: []doc.Block{doc.List{}}}, // left out
	}}
	fmt.Print(string(render.Text(d, msg.English)))
	// Output:
	// Oars
	// ====
	//
	// Price
	// -----
	// Item                                                                       EUR
	// Pair of oars, spruce                                                    180.00
}
