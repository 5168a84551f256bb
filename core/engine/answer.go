package engine

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/cost"
	"ribband/core/fit"
	"ribband/core/launch"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/spec"
	"ribband/core/suggest"
	"ribband/core/works"
)

// Answer is everything that the desk may know about a spec. What it shares with the answer before it is not computed
// again: see [Engine.Apply].
type Answer struct {
	Spec         spec.Spec
	Hull         int
	Build        *fit.Build
	Standard     *fit.Build   // the standard build of the hull for the same use
	Notes        []Unresolved // what of the spec could not be used
	Price        *price.Sheet
	Dealer       *pack.Dealership // who sells it for the yard; nil where the yard does itself
	Work         *works.Boat      // nil on the buyer's desk, like the following
	StandardWork *works.Boat
	Cost         *cost.Sheet
	Margin       money.Rate    // of the net price
	Warnings     []msg.Message // beyond the salesperson's authority

	extras         []cost.ExtraLine
	standardPrices *prices
	alternatives   *Alternatives // nil until they are asked for
	launch         *launch.Boat  // nil until it is asked for
}

// Answer completes the spec to a boat and computes everything about it. A spec with unknown names is answered without
// them, with notes; one that clashes is answered with its clashes. An error means that there is no answer: an unknown
// hull, or a formula of the book that fails on this boat, with its place.
func (e *Engine) Answer(s spec.Spec) (*Answer, error) { return e.answer(s, nil, nil) }

// answer answers a spec with what an answer before it has, where that is the same; a build is the boat of the spec, if
// it is known. What it takes over depends on hull and use alone, or on the choices too; price and
// cost are computed anew, as any choice may change them.
func (e *Engine) answer(s spec.Spec, before *Answer, build *fit.Build) (*Answer, error) {
	r, err := e.resolve(s)
	if err != nil {
		return nil, err
	}
	a := &Answer{Spec: s, Hull: r.hull, Notes: r.notes, Build: build}
	e.seller(a)
	// the standard build depends on hull and use alone
	if before != nil && before.Hull == r.hull && slices.Equal(before.Build.State.Use, r.use) {
		a.Standard, a.StandardWork, a.standardPrices = before.Standard, before.StandardWork, before.standardPrices
		if was := before.Build.Choices; a.Build == nil && slices.Equal(was.Settled, r.choices.Settled) &&
			slices.Equal(was.Counts, r.choices.Counts) {
			a.Build, a.alternatives = before.Build, before.alternatives
		}
	}
	// what is not proved at once is given to the solver and a longer search
	if a.Build == nil {
		a.Build = e.Fit.CompleteDeep(r.hull, r.use, r.choices)
	}
	if a.Standard == nil {
		a.Standard = e.Fit.CompleteDeep(r.hull, r.use, e.Fit.NewChoices())
	}
	return a, e.compute(a, r)
}

// compute works out price, cost, margin and warnings of the boat of an answer. The order matters: lines read the costs
// of extra items, the margin reads the price, and warnings read both.
func (e *Engine) compute(a *Answer, r *request) error {
	if e.Pack.Can(pack.Margins) {
		a.extras = e.Costing.Extras(r.extras, r.bought)
	}
	lines, err := e.lines(a)
	if err != nil {
		return err
	}
	if a.Price, err = e.Pricing.Sheet(price.Deal{Lines: lines, Discounts: e.discounts(a, lines), TradeIn: e.tradeIn(a)},
		e.Region(a.Build)); err != nil {
		return err
	}
	if e.Pack.Can(pack.Margins) {
		if err := e.computeCost(a, r); err != nil {
			return err
		}
		// the net price is above zero, so that the margin is one
		a.Margin, _ = money.MarginOf(a.Price.Net, a.Cost.Summary.Total.Add(e.DealCost(a, a.Price.Net)))
	}
	e.warn(a)
	return nil
}

// seller finds the dealer whom a spec names. A dealer's desk sells in his own name whatever a file says; where nobody
// can know him, as on the buyer's, the boat is what counts.
func (e *Engine) seller(a *Answer) {
	if d := e.Dealer(); d != nil {
		a.Spec.Dealer = d.ID
	}
	if a.Spec.Dealer == "" || !e.Pack.Can(pack.Discounts) {
		return
	}
	if a.Dealer = e.Pack.DealerOf(a.Spec.Dealer); a.Dealer == nil {
		a.Notes = append(a.Notes, Unresolved{"dealer",
			msg.New("engine.no-dealer", msg.Text("dealer", suggest.Clip(a.Spec.Dealer, 60))),
			msg.New("engine.name-a-dealer")})
	}
}

// Commission is what of a net price is the dealer's, rounded to the minor unit; nothing where the yard sells itself.
func (e *Engine) Commission(a *Answer, net money.Amount) money.Amount {
	if a.Dealer == nil {
		return money.Amount{}
	}
	return e.Pricing.Rounded(net.Share(a.Dealer.Commission))
}

// DealCost is what a deal at a net price costs the yard beyond the boat: the dealer's commission, and what is allowed
// for a trade-in above its value.
func (e *Engine) DealCost(a *Answer, net money.Amount) money.Amount {
	return e.Commission(a, net).Add(a.Price.TradeIn.Over())
}

// computeCost computes the work of the boat and of the standard build, and what the boat costs. The work comes first,
// since labour is costed by its hours.
func (e *Engine) computeCost(a *Answer, r *request) (err error) {
	if a.Work, err = e.Work.Boat(a.Build.State, r.extras); err != nil {
		return err
	}
	if a.StandardWork == nil {
		if a.StandardWork, err = e.Work.Boat(a.Standard.State, nil); err != nil {
			return err
		}
	}
	a.Cost, err = e.Costing.Boat(a.Build.State, a.Work, r.bought)
	return err
}

// discounts are those of the spec that find their line. A slot that is as in the standard build again has no line to
// give one on: that is noted.
func (e *Engine) discounts(a *Answer, lines []price.Line) []price.Discount {
	e.noteDeals(a)
	if !e.Pack.Can(pack.Discounts) {
		return nil
	}
	var list []price.Discount
	for i, d := range a.Spec.Discounts {
		if d.On != "" && !slices.ContainsFunc(lines, func(l price.Line) bool { return l.Key == d.On && !l.Fixed }) {
			a.Notes = append(a.Notes, Unresolved{fmt.Sprintf("discounts[%d]", i),
				msg.New("engine.no-line", msg.Text("line", suggest.Clip(d.On, 60)), msg.Text("title", d.Title)),
				msg.New("engine.name-a-line")})
			continue
		}
		list = append(list, price.Discount{On: d.On, Title: d.Title, Share: d.Share, Amount: d.Amount})
	}
	return list
}

// noteDeals notes what of a deal this desk cannot make: a file from a salesperson opens on the buyer's as the boat that
// it holds, at its list price, and on a dealer's with the discounts alone.
func (e *Engine) noteDeals(a *Answer) {
	var keys []string // that the spec has, as a file names them
	if len(a.Spec.Extras) > 0 && !e.Pack.Can(pack.Extras) {
		keys = append(keys, "extras")
	}
	if len(a.Spec.Discounts) > 0 && !e.Pack.Can(pack.Discounts) {
		keys = append(keys, "discounts")
	}
	if a.Spec.TradeIn != nil && !e.Pack.Can(pack.Extras) {
		keys = append(keys, "trade_in")
	}
	why := msg.New("engine.no-deals")
	if e.Pack.Can(pack.Discounts) {
		why = msg.New("engine.no-extras")
	}
	if len(keys) > 0 {
		a.Notes = append(a.Notes, Unresolved{strings.Join(keys, ", "), why, msg.New("engine.left-out-here")})
	}
}

// tradeIn is what is taken in payment; none on a desk where nothing can be dealt.
func (e *Engine) tradeIn(a *Answer) *price.TradeIn {
	if t := a.Spec.TradeIn; t != nil && e.Pack.Can(pack.Extras) {
		return &price.TradeIn{Title: t.Title, Allowance: t.Allowance, Value: t.Value}
	}
	return nil
}

// warn says where a quote goes beyond what its seller may give. A warning refuses nothing here: a quotation that has
// one needs the name of whoever approved it.
func (e *Engine) warn(a *Answer) {
	r := &a.Price.Reductions
	if limit, limited := e.Authority(a); limited && r.Share.Cmp(limit) > 0 {
		a.Warnings = append(a.Warnings, msg.New("engine.over-authority", msg.Share("share", r.Share),
			msg.Share("limit", limit)))
	}
	t := e.Pack.Costs
	if t == nil {
		return
	}
	for i, l := range a.Spec.Extras {
		if l.Price.IsZero() && a.extras[i].Alone.IsZero() {
			a.Warnings = append(a.Warnings, msg.New("engine.uncounted-gift", msg.Text("item", l.Title)))
		}
	}
	if t.MarginFloor.Sign() > 0 && a.Margin.Cmp(t.MarginFloor) < 0 {
		a.Warnings = append(a.Warnings, msg.New("engine.low-margin", msg.Share("margin", a.Margin),
			msg.Share("floor", t.MarginFloor)))
	}
}

// Region is where a boat goes, by its use: it says how tax is shown and what papers go with it. Nil where the book has
// no regions.
func (e *Engine) Region(b *fit.Build) *pack.Region {
	// a book for one country has no regions
	if e.Pack.RegionField < 0 {
		return nil
	}
	return &e.Pack.Regions[int(b.State.Use[e.Pack.RegionField])]
}

// AnswerStandard answers the standard build of a hull for a region; "" is the standard region. It is what the page
// shows first, and what a test of the book asks for every hull.
func (e *Engine) AnswerStandard(hull int, region string) (*Answer, error) {
	s := spec.Spec{Format: spec.Format, Hull: e.Pack.Hulls[hull].ID}
	if region != "" {
		s.Use = map[string]spec.Value{e.Pack.Use[e.Pack.RegionField].ID: {Choice: region}}
	}
	return e.Answer(s)
}
