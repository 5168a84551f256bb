package actuals

import (
	"fmt"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/orders"
)

// Margin is what was left of a quotation: the cost with the hours that were booked in the place of the planned ones, at
// the book's rates; what nobody booked is as planned. Amounts are in the currency of the book, without tax.
type Margin struct {
	Order    string        `json:"order"`
	Customer string        `json:"customer"`
	Net      money.Amount  `json:"net"` // as quoted
	Hours    measure.Hours `json:"planned_hours"`
	Counted  measure.Hours `json:"counted_hours"` // of Hours, for which others were booked
	Booked   measure.Hours `json:"booked_hours"`
	Cost     money.Amount  `json:"planned_cost"`
	Actual   money.Amount  `json:"actual_cost"`
	Quoted   money.Rate    `json:"quoted_margin"` // of Net, like Left
	Left     money.Rate    `json:"actual_margin"`
}

// Margins are those of the orders of which hours were booked. The error says at which order the book fails.
func Margins(e *engine.Engine, list []Booking, boats []orders.Boat) (out []Margin, err error) {
	for i := range boats {
		b := &boats[i]
		m := Margin{Order: b.Order.Number, Customer: b.Order.Quote().Details.Customer.Name,
			Net: b.Order.Quote().Price.Net, Hours: b.Answer.Work.Hours().Total()}
		// costed as the quotation was, with other hours: overhead and contingency follow from the labour
		work := *b.Answer.Work
		work.Lines = append(work.Lines[:0:0], work.Lines...)
		for j := range list {
			x := &list[j]
			if x.Boat != m.Order {
				continue
			}
			m.Counted, m.Booked = m.Counted+x.Planned, m.Booked+x.Booked
			left, hours := x.Booked, x.Planned
			for n := range work.Lines {
				if l := &work.Lines[n]; x.holds(b, n) {
					// each line by its share of what is left, so that all add up to what was booked
					was := l.Hours
					l.Hours = share(left, was, hours)
					left, hours = left-l.Hours, hours-was
				}
			}
		}
		// a margin without any hours booked would be the quotation's, and say nothing
		if m.Counted == 0 {
			continue
		}
		var bought []money.Amount
		for _, x := range b.Answer.Cost.Extras {
			bought = append(bought, x.Bought)
		}
		actual, err := e.Costing.Boat(b.Answer.Build.State, &work, bought)
		if err != nil {
			return nil, fmt.Errorf("costing the hours of %s: %w", m.Order, err)
		}
		deal := e.DealCost(b.Answer, m.Net)
		m.Cost, m.Actual = b.Answer.Cost.Summary.Total.Add(deal), actual.Summary.Total.Add(deal)
		// the price is what was quoted, also where the book has become dearer since
		m.Quoted, _ = money.MarginOf(m.Net, m.Cost)
		m.Left, _ = money.MarginOf(m.Net, m.Actual)
		out = append(out, m)
	}
	return out, nil
}

// holds says whether a line of a boat's work is among the planned hours of a booking.
func (x *Booking) holds(b *orders.Boat, line int) bool {
	l := &b.Answer.Work.Lines[line]
	if !of(l, key{x.Boat, x.Operation, x.Option}) {
		return false
	}
	return !optional(l) || x.part(l.For.Index)
}

// part says whether an option's hours are among those planned.
func (x *Booking) part(option int) bool {
	for _, p := range x.Parts {
		if p.Option == option {
			return true
		}
	}
	return false
}

// share is the part of hours that a line has of those planned, to the millionth of an hour.
func share(hours, line, planned measure.Hours) measure.Hours {
	if planned <= 0 { // the last line takes what is left of planned, which is never less than its own
		return 0
	}
	h, err := measure.FromFloat[measure.Hours](hours.Float() * line.Float() / planned.Float())
	if err != nil {
		return 0
	}
	return h
}
