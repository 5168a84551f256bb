package price_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"

	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
)

// sheets is how many random sheets are added up. Drawing them by a plain generator is some thirty times as quick as by
// properties, which shrink what fails; so this finds, and the properties beside it explain.
var sheets = flag.Int("sheets", 20_000, "random sheets that have to add up; 10000000 take some minutes")

// Of many sheets each adds up: lines and discounts to goods, net and tax to the total, the stages to what is payable
// once the trade-in is credited, in every mode of tax and rounding, and in currencies of 0, 2 and 3 decimals.
func TestRandomSheetsAddUp(t *testing.T) {
	// one generator for all, so that a sheet that fails comes again
	random := rand.New(rand.NewPCG(2027, 3))
	var yards []yardOf
	for _, currency := range []string{"EUR", "JPY", "KWD"} {
		for _, mode := range []money.Mode{money.HalfEven, money.HalfUp} {
			for range 8 { // other stages each time
				yards = append(yards, anyYard(t, random, currency, mode))
			}
		}
	}
	made, refused := 0, map[string]int{}
	for n := range *sheets {
		y := &yards[n%len(yards)]
		deal, region := randomDeal(random), randomRegion(random)
		s, err := y.pricing.Sheet(deal, region)
		if err != nil {
			refused[fmt.Sprintf("%.24s", err)]++
			continue
		}
		made++
		wantConsistent(t, y.pack, s)
		if t.Failed() {
			t.Fatalf("sheet %d: %+v in %+v", n, deal, region)
		}
	}
	t.Logf("%d sheets add up; refused: %v", made, refused)
	if made < *sheets*3/4 {
		t.Errorf("%d of %d sheets say little", made, *sheets)
	}
}

// yardOf is a book's prices with what they were compiled from.
type yardOf struct {
	pack    *pack.Pack
	pricing *price.Pricing
}

func anyYard(t *testing.T, random *rand.Rand, currency string, mode money.Mode) yardOf {
	p := yard()
	p.Currency, p.Rounding = currency, mode
	for i := range p.Stages {
		p.Stages[i].Share = money.MustRate(money.Exact(1+random.Int64N(10_000), -4).String())
	}
	return yardOf{p, compiled(t, p)}
}

// randomDeal has lines that are prices of a boat, some of them credits, and discounts that mostly leave something.
func randomDeal(random *rand.Rand) (d price.Deal) {
	for i := range 1 + random.IntN(8) {
		l := price.Line{Key: fmt.Sprint("line", i), Net: money.Exact(random.Int64N(10_000_000), -3),
			Fixed: random.IntN(3) == 0, Extra: random.IntN(3) == 0}
		if i > 0 && random.IntN(8) == 0 {
			l.Net = l.Net.Neg()
		}
		if random.IntN(4) == 0 {
			l.BelowCost = money.Exact(random.Int64N(10_000), -2)
		}
		d.Lines = append(d.Lines, l)
	}
	for range random.IntN(4) {
		x := price.Discount{Title: "Any"}
		if l := &d.Lines[random.IntN(len(d.Lines))]; !l.Fixed && random.IntN(2) == 0 {
			x.On = l.Key
		}
		if random.IntN(2) == 0 {
			x.Amount = money.Exact(1+random.Int64N(50_000), -2)
		} else {
			x.Share = money.MustRate(money.Exact(1+random.Int64N(3_000), -4).String())
		}
		d.Discounts = append(d.Discounts, x)
	}
	if random.IntN(3) == 0 {
		d.TradeIn = &price.TradeIn{Title: "Dinghy", Allowance: money.Exact(1+random.Int64N(200_000), -2),
			Value: money.Exact(random.Int64N(200_000), -2)}
	}
	return d
}

func randomRegion(random *rand.Rand) *pack.Region {
	mode := []pack.TaxMode{"", pack.Inclusive, pack.Inclusive, pack.Exclusive, pack.Zero}[random.IntN(5)]
	if mode == "" {
		return nil
	}
	return &pack.Region{TaxMode: mode, TaxRate: money.MustRate(money.Exact(random.Int64N(3_000), -4).String())}
}
