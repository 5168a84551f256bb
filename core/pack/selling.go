package pack

import "ribband/core/money"

// Selling is the part of a pack by which somebody quotes. It has no cost in it, and nothing of the yard's own
// authority, so that a dealer may have it.
type Selling struct {
	Maker     Maker       `json:"maker"`
	Numbering string      `json:"numbering"`        // how quotations are numbered, see package numbering
	Dealer    *Dealership `json:"dealer,omitempty"` // whose desk it is; nil on the yard's own
}

// Maker is the yard's part of a hull number; empty where the book has none.
type Maker struct {
	Code    string `json:"code,omitempty"`
	Country string `json:"country,omitempty"` // ISO 3166-1, two letters
}

// Dealership is somebody who sells the yard's boats in its name, with what he may give away and what he gets. What a
// customer's paper has of it is the firm with its address.
type Dealership struct {
	ID      string   `json:"id"`
	Firm    string   `json:"firm"`
	Address []string `json:"address,omitempty"` // line by line
	Email   string   `json:"email,omitempty"`
	Phone   string   `json:"phone,omitempty"`
	// share of the list price that he may give away; 0: nothing
	Authority money.Rate `json:"authority"`
	// share of the net price after all discounts that is his
	Commission money.Rate `json:"commission"`
}

// DealerOf is a dealer that this desk knows by his identifier: on his own desk himself alone, where there are costs
// everybody, else nobody.
func (p *Pack) DealerOf(id string) *Dealership {
	if p.Selling != nil && p.Selling.Dealer != nil && p.Selling.Dealer.ID == id {
		return p.Selling.Dealer
	}
	if p.Costs != nil {
		for i := range p.Costs.Dealers {
			if d := &p.Costs.Dealers[i]; d.ID == id {
				return d
			}
		}
	}
	return nil
}
