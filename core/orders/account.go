package orders

import (
	"fmt"

	"ribband/core/money"
	"ribband/core/suggest"
)

// Account is what the customer of an order owes and has paid, stage by stage, in the currency of the quotation. Its
// amounts are those of the last quotation, to the cent: a change order gives new ones, and what was paid stays.
type Account struct {
	Order    string         `json:"order"`
	Customer string         `json:"customer"`
	Hull     string         `json:"hull"`
	Currency money.Currency `json:"currency"`
	Stages   []StageAccount `json:"stages"`
	// of all stages
	Amount money.Amount `json:"amount"`
	Paid   money.Amount `json:"paid"`
	Open   money.Amount `json:"open"`
	// Paid beyond all stages, as after a change to a cheaper boat: to be paid back. Amount and Surplus are Paid and
	// Open.
	Surplus money.Amount `json:"surplus,omitzero"`
	// Open of what is due, by [Dues] alone: the yard asks for it.
	Asked money.Amount `json:"asked,omitzero"`
}

// StageAccount is one stage.
type StageAccount struct {
	Title  string       `json:"title"` // as the quotation calls it
	Amount money.Amount `json:"amount"`
	// in the stage, with what a trade-in pays of it; the stages come to that of the whole
	Tax  money.Amount `json:"tax"`
	Paid money.Amount `json:"paid"`
	// what was paid too much for other stages and stands in for this one; below zero, what is taken from this one
	SetOff money.Amount `json:"set_off,omitzero"`
	Open   money.Amount `json:"open"` // never below zero

	// By [Dues] alone: the title of the operation that makes it due, "" for the order itself; since when it is due,
	// none where it is not; the last day on which it is paid in time; and how many days it is late.
	Operation string `json:"operation,omitempty"`
	Due       Day    `json:"due,omitzero"`
	PayBy     Day    `json:"pay_by,omitzero"`
	Late      int    `json:"late_days,omitempty"`
}

// Account adds up what was paid of each stage. What is too much of one is set off against the others in their order,
// so that nobody is asked for what he has paid: what is left of it after all stages is the surplus.
func (o *Order) Account() (*Account, error) {
	q := o.Quote()
	a := &Account{Order: o.Number, Customer: q.Customer.Name, Hull: q.Hull, Currency: q.Price.Currency}
	taxes, err := o.stageTaxes()
	if err != nil {
		return nil, fmt.Errorf("adding up the payments of the order %s: %w", o.Number, err)
	}
	// First what each stage has by itself, then what is too much: a customer who pays two stages in one sum enters it
	// under the first, and is asked for neither.
	var over money.Amount
	for i, s := range q.Price.Stages {
		x := StageAccount{Title: s.Title, Amount: s.Amount, Tax: taxes[i]}
		for _, p := range o.Paid {
			if p.Stage == s.Title {
				x.Paid = x.Paid.Add(p.Amount)
			}
		}
		if x.Open = x.Amount.Sub(x.Paid); x.Open.Sign() < 0 {
			over = over.Sub(x.Open)
			x.SetOff, x.Open = x.Open, money.Amount{}
		}
		a.Amount, a.Paid = a.Amount.Add(x.Amount), a.Paid.Add(x.Paid)
		a.Stages = append(a.Stages, x)
	}
	// the earlier stages first, since they are due first
	for i := range a.Stages {
		x := &a.Stages[i]
		if part := least(over, x.Open); part.Sign() > 0 {
			x.SetOff, x.Open, over = part, x.Open.Sub(part), over.Sub(part)
		}
		a.Open = a.Open.Add(x.Open)
	}
	a.Surplus = over
	return a, nil
}

// least is the smaller of two amounts.
func least(a, b money.Amount) money.Amount {
	if a.Cmp(b) < 0 {
		return a
	}
	return b
}

// stageTaxes divides the tax of the whole among the stages as they share the total, by the largest remainder, so that
// the parts come to it exactly. A trade-in pays a part of a stage and leaves its tax as it is.
func (o *Order) stageTaxes() ([]money.Amount, error) {
	p := &o.Quote().Price
	if len(p.Stages) == 0 {
		return nil, nil
	}
	// of the whole stage, since the tax is on the boat, and not on what is left to pay of it
	var whole []money.Amount
	for _, s := range p.Stages {
		whole = append(whole, s.Amount.Sub(s.TradeIn)) // which is below zero
	}
	return money.Allocate(p.Tax, whole, p.Currency.Minor())
}

// Stage is the title of a stage, as the quotation has it.
func (o *Order) Stage(name string) (string, error) {
	var known []string
	for _, s := range o.Quote().Price.Stages {
		if known = append(known, s.Title); s.Title == name {
			return name, nil
		}
	}
	return "", fmt.Errorf("the order %s has no stage %.60q; %s", o.Number, name, suggest.Nearest(name, known,
		fmt.Sprintf("its stages are %q", known)))
}
