package quote_test

import (
	"fmt"
	"os"
	"strings"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/quote"
	"ribband/core/spec"
)

// smallYard compiles the pack of the show's desk of the small book.
func smallYard() *engine.Engine {
	packs, _, problems, err := publish.Load(os.DirFS("../../testdata/books/small"))
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	e, err := engine.Compile(packs[pack.Show])
	if err != nil {
		panic(err)
	}
	return e
}

func Example_compile() {
	packs, counts, problems, err := publish.Load(os.DirFS("../../testdata/books/small"))
	if err != nil || len(problems) > 0 {
		fmt.Println(err, problems)
		return
	}
	e, err := engine.Compile(packs[pack.Buyer])
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(e.Pack.Hulls[0].Title, counts.Slots, "slots", counts.Options, "options")
	fmt.Println("costs:", e.Costing != nil)
	// Output:
	// Teasel 48 3 slots 6 options
	// costs: false
}

func Example_answer() {
	e := smallYard()
	s := spec.Spec{Format: spec.Format, Hull: "teasel-48",
		Choices: map[string]map[string]int{"cloth": {"cloth-heavy": 1}, "stowage": {"pocket": 2}}}
	a, err := e.Answer(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range a.Price.Lines {
		fmt.Println(l.Shown.Fixed(2), strings.TrimSpace(l.Title.String()+" "+l.Detail.String()))
	}
	fmt.Println(a.Price.Total.Fixed(2), "with", a.Price.Region.TaxName, a.Price.Tax.Fixed(2))
	fmt.Println("clashes:", len(a.Build.Clashes))
	// Output:
	// 6672.00 Teasel 48, standard build
	// 1428.00 Top Fixed top in place of Folding top
	// 156.00 Cloth Heavy coated cloth in place of Light acrylic cloth
	// 120.00 Stowage 2 × Side pocket
	// 8376.00 with VAT 1396.00
	// clashes: 0
}

func ExampleFreeze() {
	e := smallYard()
	a, err := e.Answer(spec.Spec{Format: spec.Format, Hull: "teasel-48"})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = quote.Freeze(e, a, quote.Details{Date: "2027-02-06"})
	fmt.Println(err)
	q, err := quote.Freeze(e, a, quote.Details{Number: "T-1", Date: "2027-02-06",
		Customer: quote.Party{Name: "Ottilie Sandmark"}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(q.Number, "to", q.Customer.Name, "over", q.Price.Total.Fixed(2), q.Price.Currency.Code, "until",
		q.ValidUntil)
	// Output:
	// freezing a quote: it has no number; give one
	// T-1 to Ottilie Sandmark over 6672.00 EUR until 2027-03-08
}

func ExampleReopen() {
	e := smallYard()
	a, err := e.Answer(spec.Spec{Format: spec.Format, Hull: "teasel-48"})
	if err != nil {
		fmt.Println(err)
		return
	}
	q, err := quote.Freeze(e, a, quote.Details{Number: "T-1", Date: "2027-02-06"})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, _, differences, err := quote.Reopen(e, q)
	fmt.Println(len(differences), "differences", err)
	q.Price.Total = money.MustParse("6000.00") // somebody wrote in the file
	_, _, differences, err = quote.Reopen(e, q)
	fmt.Println(differences[0].Place, err)
	for _, d := range differences[1:] {
		fmt.Println(d.Place, d.Was, "is", d.Now)
	}
	// Output:
	// 0 differences <nil>
	// Digest of the file, which was changed after it was issued <nil>
	// Total EUR 6 000.00 is EUR 6 672.00
}
