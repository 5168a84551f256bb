package price

// A customer abroad thinks in the money of his country. He is shown what the price comes to in it, and nothing follows
// from that: a contract in two currencies is one that nobody can book.

import (
	"fmt"
	"strconv"
	"strings"

	"ribband/core/money"
	"ribband/core/msg"
)

// Converted is what is to pay in the currency of the region, at a rate of a day. It is for reading alone: what is owed
// is the amount in the currency of the sheet.
type Converted struct {
	Amount   money.Amount // rounded to its minor unit
	Currency money.Currency
	Rate     money.Rate // what one unit of the sheet's currency is worth
	Date     string     // of the rate, of ISO 8601
}

// Message says it in a sentence, and that the price is in its own currency.
func (c *Converted) Message(own money.Currency, region string) msg.Message {
	// the digits that the book has, with the decimal sign of the reader
	text := c.Rate.String()
	_, fraction, _ := strings.Cut(text, ".")
	rate, _ := strconv.ParseFloat(text, 64) // a decimal always is one
	return msg.Sentences(msg.New("price.converted", msg.Money("amount", c.Amount, c.Currency, region),
		msg.Number("rate", rate, len(fraction)), msg.Text("code", c.Currency.Code), msg.Text("own", own.Code),
		msg.Date("day", c.Date)), msg.New("price.converted-note", msg.Text("own", own.Code)))
}

// convert states what is to pay in the currency of the region.
func (p *Pricing) convert(s *Sheet) error {
	// the region of the sheet, since a price is shown for where the boat goes
	if s.Region == nil || s.Region.Currency == nil {
		return nil
	}
	x := s.Region.Currency
	c, err := money.CurrencyOf(x.Code)
	if err != nil {
		return fmt.Errorf("converting the price: %w", err)
	}
	minor, err := money.NewRounding(p.pack.Rounding, c.Minor())
	if err != nil {
		return fmt.Errorf("converting the price: %w", err)
	}
	// what is to pay, in one product: stages converted one by one would not add up
	s.Converted = &Converted{minor.Round(s.Payable.Share(x.Rate)), c, x.Rate, x.Date}
	return nil
}
