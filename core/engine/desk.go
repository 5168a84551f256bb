package engine

import (
	"ribband/core/money"
	"ribband/core/numbering"
	"ribband/core/pack"
)

// What page and papers may know of the pack. They ask here, and never reach into it: what a part of a pack holds is
// nobody's concern above the engine.

// Public is what everybody may know of the edition.
func (e *Engine) Public() *pack.Public { return &e.Pack.Public }

// Can says what may be seen and done with this edition.
func (e *Engine) Can(a pack.Ability) bool { return e.Pack.Can(a) }

// Desk is for whom the edition was published. It names titles and files, and decides nothing.
func (e *Engine) Desk() pack.Desk { return e.Pack.Desk }

// FigureList are the definitions of the figures, in the order of a boat's state.
func (e *Engine) FigureList() []pack.Figure { return e.Pack.Figures }

// Made says whether an option is made for a hull.
func (e *Engine) Made(option, hull int) bool { return e.Pack.Made(option, hull) }

// Exists says whether a hull has a slot at all.
func (e *Engine) Exists(slot, hull int) bool { return e.Pack.Exists(slot, hull) }

// ShopName names a shop. Its hours and its rate stay in the pack: a page shows who works, not for how much.
type ShopName struct{ ID, Title string }

// Shops are the shops in the order of hours by shop; none on a desk that knows no costs.
func (e *Engine) Shops() (list []ShopName) {
	if e.Pack.Costs == nil {
		return nil
	}
	for _, s := range e.Pack.Costs.Shops {
		list = append(list, ShopName{s.ID, s.Title})
	}
	return list
}

// Authority is the share of the list price that may be given away in a deal: by the dealer who makes it, or else by the
// yard's own people. Limited is false where the book sets no limit, or the desk knows none.
func (e *Engine) Authority(a *Answer) (share money.Rate, limited bool) {
	switch {
	case a.Dealer != nil:
		return a.Dealer.Authority, true
	case e.Pack.Costs == nil:
		return share, false
	}
	return e.Pack.Costs.Authority, e.Pack.Costs.Authority.Sign() > 0
}

// Dealer is whose desk it is; nil where it is no dealer's.
func (e *Engine) Dealer() *pack.Dealership {
	if e.Pack.Selling == nil {
		return nil
	}
	return e.Pack.Selling.Dealer
}

// Dealers are those whom this desk may name as sellers; none on a dealer's own, who sells by himself.
func (e *Engine) Dealers() []pack.Dealership {
	if e.Pack.Costs == nil {
		return nil
	}
	return e.Pack.Costs.Dealers
}

// Numbering is how quotations are numbered.
func (e *Engine) Numbering() numbering.Scheme {
	if e.Pack.Selling == nil || e.Pack.Selling.Numbering == "" {
		return numbering.Default
	}
	return numbering.Scheme(e.Pack.Selling.Numbering)
}
