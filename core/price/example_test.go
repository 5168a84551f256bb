package price_test

import (
	"fmt"

	"ribband/core/cost"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/price"
	"ribband/core/takeoff"
	"ribband/core/works"
)

// A quote of an invented yard in a region whose prices include 20 % tax.
func ExamplePricing_Sheet() {
	book := yard()
	costing, _ := cost.Compile(book, works.Compile(book), takeoff.New(book))
	pricing, err := price.Compile(book, costing)
	if err != nil {
		fmt.Println(err)
		return
	}
	lines := []price.Line{
		{Key: "boat", Title: msg.Plain("Launch of 6 m"), Net: money.MustParse("5362.50")},
		{Key: "freight", Title: msg.Plain("Freight"), Net: money.MustParse("300"), Fixed: true},
	}
	discounts := []price.Discount{{Title: "Show discount", Share: money.MustRate("0.05")}}
	sheet, err := pricing.Sheet(price.Deal{Lines: lines, Discounts: discounts}, inclusive)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("goods", sheet.Goods.Fixed(2), "less", sheet.Discounts[0].Amount.Fixed(2))
	fmt.Println("total", sheet.Total.Fixed(2), "of which tax", sheet.Tax.Fixed(2))
	for _, s := range sheet.Stages {
		fmt.Println(s.Amount.Fixed(2), s.Title)
	}
	// Output:
	// goods 6795.00 less 321.75
	// total 6473.25 of which tax 1078.88
	// 970.99 With the order
	// 1941.97 When the hull leaves the mould
	// 2265.64 When deck and systems are joined
	// 1132.82 After the trial in the tank
	// 161.83 At handover
}
