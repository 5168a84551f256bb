package editions

import (
	"errors"
	"fmt"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// A quotation that is out is a promise: its price stays, whatever the book says meanwhile. What moves is what it costs
// the yard to keep it, and that is told beside what the same boat would be quoted at today.

// Boat is a quotation, or a wish without a price, by another edition.
type Boat struct {
	File     string `json:"file"`
	Number   string `json:"number,omitempty"` // of a quotation
	Customer string `json:"customer,omitempty"`
	Until    string `json:"valid_until,omitempty"`
	Hull     string `json:"hull"`
	// Then is what the boat was: of a quotation its price, and its cost by the older book where there is one.
	Then *Priced `json:"then,omitempty"`
	// Now is what it is; nothing where there is no such boat any more.
	Now *Priced `json:"now,omitempty"`
	// Kept is the margin of the price then at the cost of now: what is left of a quotation that is accepted.
	Kept *money.Rate `json:"margin_kept,omitempty"`
	Gone []string    `json:"gone,omitempty"` // what no longer fits, and why
}

// Priced is the price of a boat, and what it costs where that is known.
type Priced struct {
	Net    money.Amount  `json:"net"`
	Total  money.Amount  `json:"total"` // as the customer pays it
	Cost   *money.Amount `json:"cost,omitempty"`
	Margin *money.Rate   `json:"margin,omitempty"` // of the net price
}

// Read reads a file of a folder of quotations: a quotation, or a spec. The error is that of its reader.
func Read(text []byte) (q *quote.Quote, s spec.Spec, err error) {
	if quote.Is(text) {
		if q, err = quote.Decode(text); err == nil {
			s = q.Spec
		}
		return q, s, err
	}
	s, err = spec.Decode(text)
	return nil, s, err
}

// Requote answers a quotation or a spec by an edition, and by an older one where it is given. A boat that the older one
// does not have stands without it; an error says that a formula of the newer book fails.
func Requote(file string, text []byte, was, now *engine.Engine) (*Boat, error) {
	q, s, err := Read(text)
	if err != nil {
		return nil, err
	}
	// a boat that the older book does not have was quoted by one before it
	b := &Boat{File: file, Hull: s.Hull}
	if q != nil {
		b.Number, b.Customer, b.Until = q.Number, q.Customer.Name, q.ValidUntil
		b.Then = &Priced{Net: q.Price.Net, Total: q.Price.Total}
	}
	if was != nil {
		if a, err := was.Answer(s); err == nil && len(a.Build.Clashes)+len(a.Notes) == 0 {
			if q == nil { // what was quoted counts, with the cost of the book behind it
				b.Then = &Priced{Net: a.Price.Net, Total: a.Price.Total}
			}
			b.Then.cost(costAt(was, a, b.Then.Net))
		}
	}
	// an engine has no answer at all without a hull
	if find(now.Pack.Hulls, s.Hull, func(h *pack.Hull) string { return h.ID }) < 0 {
		b.Gone = []string{fmt.Sprintf("the hull %s is no longer made", s.Hull)}
		return b, nil
	}
	a, err := now.Answer(s)
	if err != nil {
		return nil, err
	}
	b.Gone = goneOf(now, a)
	if len(b.Gone) > 0 {
		return b, nil
	}
	// the price stands as it was promised, and the cost does not
	b.Now = &Priced{Net: a.Price.Net, Total: a.Price.Total}
	b.Now.cost(costAt(now, a, a.Price.Net))
	if b.Then != nil {
		if kept, ok := money.MarginOf(b.Then.Net, costAt(now, a, b.Then.Net)); ok {
			b.Kept = &kept
		}
	}
	return b, nil
}

// costAt is what a boat costs the yard where it is sold at a net price, of which a dealer has his share.
func costAt(e *engine.Engine, a *engine.Answer, net money.Amount) money.Amount {
	return a.Cost.Summary.Total.Add(e.DealCost(a, net))
}

// cost enters a cost, with the margin that it leaves.
func (p *Priced) cost(c money.Amount) {
	p.Cost = &c
	if m, ok := money.MarginOf(p.Net, c); ok {
		p.Margin = &m
	}
}

// goneOf is why a boat cannot be had: what the book does not know any more, and what clashes, in the words of the book.
func goneOf(e *engine.Engine, a *engine.Answer) (list []string) {
	// first what has no name any more, since what clashes may come of that
	for _, n := range a.Notes {
		list = append(list, e.Text(n.Message()))
	}
	for _, c := range a.Build.Clashes {
		list = append(list, e.Text(engine.Because(c)))
	}
	return list
}

// Sum is what boats come to together: those with a price then and now.
type Sum struct {
	Hull     string       `json:"hull,omitempty"` // "" for all
	Boats    int          `json:"boats"`
	Gone     int          `json:"gone"` // that can no longer be had
	Compared int          `json:"compared"`
	Then     money.Amount `json:"then"` // net, of those compared, as the next
	Now      money.Amount `json:"now"`
	Cost     money.Amount `json:"cost_now"`
}

// Round is a round of quotations.
type Round struct {
	Boats []Boat `json:"boats"`
	Sums  []Sum  `json:"sums"` // by hull in the order in which they come, then of all
}

// Hulls stand in the order in which they come, which is that of the files: the same folder gives the same round.

// RoundOf adds up boats.
func RoundOf(boats []Boat) *Round {
	// a list of none is a list, too, in a part of few files
	r := &Round{Boats: append([]Boat{}, boats...), Sums: []Sum{}}
	all := Sum{}
	for i := range boats {
		b := &boats[i]
		// few hulls: looking through them keeps the order in which they came
		at := find(r.Sums, b.Hull, func(s *Sum) string { return s.Hull })
		if at < 0 {
			at, r.Sums = len(r.Sums), append(r.Sums, Sum{Hull: b.Hull})
		}
		r.Sums[at].add(b)
		all.add(b)
	}
	r.Sums = append(r.Sums, all)
	return r
}

// add counts a boat.
func (s *Sum) add(b *Boat) {
	s.Boats++
	if b.Now == nil {
		s.Gone++
		return
	}
	// sums of boats without a price then would compare what was not asked
	if b.Then != nil {
		s.Compared++
		s.Then, s.Now, s.Cost = s.Then.Add(b.Then.Net), s.Now.Add(b.Now.Net), s.Cost.Add(*b.Now.Cost)
	}
}

// ErrEmpty says that a folder has nothing to ask.
var ErrEmpty = errors.New("it holds no file ending in .json; name a folder of quotations or specs")
