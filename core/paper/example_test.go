package paper_test

import (
	"fmt"
	"strings"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// A quote of an invented yard, by hand; package quote makes them.
func ExamplePaper_Write() {
	q := &quote.Quote{Hull: "Launch of 6 m"}
	q.Number, q.Date, q.Customer.Name = "7", "2027-02-06", "Ottilie Sandmark"
	q.Yard.Name = "Heronmere Launch Yard"
	q.Price = quote.PricePart{
		Currency: money.Currency{Code: "EUR", Digits: 2}, Region: "Germany", TaxName: "VAT",
		TaxRate: money.MustRate("0.19"), TaxMode: "inclusive",
		Lines: []quote.LinePart{{Key: "boat", Title: "Launch of 6 m, standard build",
			Amount: money.MustParse("48000")}},
		Discounts: []quote.LinePart{{Title: "Ordered at the show", Amount: money.MustParse("-1000")}},
		Net:       money.MustParse("39495.80"), Tax: money.MustParse("7504.20"), Total: money.MustParse("47000"),
	}
	p, err := paper.Find("quotation", &pack.Pack{})
	if err != nil {
		fmt.Println(err)
		return
	}
	text, err := p.Write(&paper.Source{Quote: q}, paper.AsCSV)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(strings.ReplaceAll(string(text), "\r\n", "\n"))
	// Output:
	// kind,key,section,title,detail,currency,amount,carried
	// quotation,number,,,7,,,
	// quotation,date,,,2027-02-06,,,
	// quotation,boat,,,Launch of 6 m,,,
	// quotation,customer,,,Ottilie Sandmark,,,
	// quotation,destination,,,Germany,,,
	// quotation,yard,,,Heronmere Launch Yard,,,
	// line,boat,,"Launch of 6 m, standard build",,EUR,48000.00,
	// discount,,,Ordered at the show,,EUR,-1000.00,
	// net,,,,,EUR,39495.80,
	// tax,,,,,EUR,7504.20,
	// total,,,,,EUR,47000.00,
}

// The yard's sheet of a boat, by hand; package quote makes them.
func ExamplePaper_Write_buildSheet() {
	hours := func(text string) (h measure.Hours) {
		if err := h.UnmarshalText([]byte(text)); err != nil {
			fmt.Println(err)
		}
		return h
	}
	euro, err := money.CurrencyOf("EUR")
	if err != nil {
		fmt.Println(err)
	}
	y := &sheet.Yard{
		Hull: "Launch of 6 m", Currency: euro,
		Work: []sheet.WorkPart{{For: "boat", Operation: "Join deck and hull", Shop: "Assembly",
			Hours: hours("18.5"), Amount: money.MustParse("814"), Trace: engine.Trace{At: "hulls.yaml:40:12"}}},
	}
	p, err := paper.Find("build-sheet", &pack.Pack{Work: &pack.Work{}})
	if err != nil {
		fmt.Println(err)
		return
	}
	text, err := p.Write(&paper.Source{Yard: y}, paper.AsCSV)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(strings.ReplaceAll(string(text), "\r\n", "\n"))
	// Output:
	// kind,for,id,title,shop,quantity,unit,currency,amount,packs,pack_size,supplier,lead_days,book
	// work,boat,,Join deck and hull,Assembly,18.5,h,EUR,814.00,,,,,hulls.yaml:40:12
}
