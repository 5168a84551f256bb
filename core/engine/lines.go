package engine

import (
	"fmt"
	"strings"

	"ribband/core/fit"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/spec"
	"ribband/core/works"
)

// BoatKey is the key of the line for the standard build. A discount on it leaves alone what differs from the standard
// build.
const BoatKey = "boat"

// lines writes what a customer pays for: the standard build as a whole, then every slot that differs from it by its
// difference, then the extra items. The differences are exact, so that the lines add up to the price of the boat.
// A customer reads what the boat costs as it comes and what each choice adds or saves. The other way, a price for every
// option in the boat, would list forty things that nobody chose.
func (e *Engine) lines(a *Answer) ([]price.Line, error) {
	// The standard boat keeps its prices from change to change: most changes are of choices.
	if a.standardPrices == nil {
		list, err := e.slotPrices(a.Standard)
		if err != nil {
			return nil, err
		}
		a.standardPrices = &list
	}
	standard := a.standardPrices
	now, err := e.slotPrices(a.Build)
	if err != nil {
		return nil, err
	}
	// What takes no discount in the standard build (freight, fees) is a line of its own.
	boat, fixed := standard.base, money.Amount{}
	for s := range e.Pack.Slots {
		if e.Pack.Slots[s].NoDiscount {
			fixed = fixed.Add(standard.slots[s])
		} else {
			boat = boat.Add(standard.slots[s])
		}
	}
	lines := []price.Line{{Key: BoatKey, Net: boat,
		Title: msg.New("engine.line-boat", msg.Text("hull", e.Pack.Hulls[a.Hull].Title))}}
	if !fixed.IsZero() {
		lines = append(lines, price.Line{Key: "fixed", Title: msg.New("engine.line-fixed"), Net: fixed,
			Fixed: true})
	}
	// The hull's own price moves where a formula of it reads a choice or the use.
	if d := now.base.Sub(standard.base); !d.IsZero() {
		lines = append(lines, price.Line{Key: "base", Title: msg.New("engine.line-base"),
			Detail: msg.New("engine.line-base-detail"), Net: d})
	}
	for s := range e.Pack.Slots {
		d := now.slots[s].Sub(standard.slots[s])
		detail, changed := e.difference(a, s)
		if !changed && d.IsZero() {
			continue
		}
		gifts, err := e.gifts(a, s)
		if err != nil {
			return nil, err
		}
		lines = append(lines, price.Line{Key: e.Pack.Slots[s].ID, Title: msg.Plain(e.Pack.Slots[s].Title),
			Detail: detail, Net: d, Fixed: e.Pack.Slots[s].NoDiscount, BelowCost: gifts})
	}
	return append(lines, e.extraLines(a)...), nil
}

// gifts are what the options of a slot cost that are in the boat at no charge beyond the standard build. An option at
// no charge that the standard build has as well is no gift: everybody gets it. Nor is one that a dealer sells, who does
// not know what it costs: what he gave away must be the same on his desk and on the yard's.
func (e *Engine) gifts(a *Answer, slot int) (sum money.Amount, err error) {
	if !e.Pack.Can(pack.Margins) || a.Dealer != nil {
		return sum, nil
	}
	st, def := a.Build.State, &e.Pack.Slots[slot]
	for o := def.First; o < def.End; o++ {
		more := st.Counts[o] - a.Standard.State.Counts[o]
		if more <= 0 || !e.Pack.Made(o, st.HullID) {
			continue
		}
		if one, err := e.Pricing.Option(st, o); err != nil || one.Sign() > 0 {
			if err != nil {
				return sum, fmt.Errorf("pricing %s: %w", e.Pack.Options[o].ID, err)
			}
			continue
		}
		// by itself, as if nothing else were bought with it
		c, err := e.Costing.Item(st, works.Of(o, 1))
		if err != nil {
			return sum, err
		}
		sum = sum.Add(c.Total.Times(int64(more)))
	}
	return sum, nil
}

// extraLines are the salesperson's; none where nobody knows what they cost. What one is charged below its cost is
// counted as given away, a credit wholly.
func (e *Engine) extraLines(a *Answer) (lines []price.Line) {
	if !e.Pack.Can(pack.Extras) {
		return nil
	}
	for i, l := range a.Spec.Extras {
		line := price.Line{Key: l.ID, Title: msg.Plain(l.Title), Net: l.Price, Extra: true}
		// Agreed with tax, it stays that sum to the penny for the customer; the books hold it without.
		if l.Basis == spec.WithTax {
			line.Net = e.Pricing.WithoutTax(l.Price, e.Region(a.Build))
		}
		if below := a.extras[i].Alone.Sub(line.Net); below.Sign() > 0 {
			line.BelowCost = below
		}
		lines = append(lines, line)
	}
	return lines
}

// prices are the net sell prices in a boat. The base boat is what the hull costs without any option.
type prices struct {
	base  money.Amount
	slots []money.Amount
}

// slotPrices adds up the options of a boat by slot. One that is not made for the hull clashes and has no price.
func (e *Engine) slotPrices(b *fit.Build) (prices, error) {
	p := prices{slots: make([]money.Amount, len(e.Pack.Slots))}
	var err error
	if p.base, err = e.Pricing.Base(b.State); err != nil {
		return p, err
	}
	for o, n := range b.State.Counts {
		if n > 0 && e.Pack.Made(o, b.State.HullID) {
			one, err := e.Pricing.Option(b.State, o)
			if err != nil {
				return p, fmt.Errorf("pricing %s: %w", e.Pack.Options[o].ID, err)
			}
			s := e.Pack.Options[o].Slot
			p.slots[s] = p.slots[s].Add(one.Times(int64(n)))
		}
	}
	return p, nil
}

// packed names the options by which a slot is there.
func (e *Engine) packed(def *pack.Slot) string {
	var titles []string
	for _, o := range def.When.Reads().Options {
		titles = append(titles, e.Pack.Options[o].Title)
	}
	return strings.Join(titles, ", ")
}

// difference words what a slot holds against the standard build. Changed says whether it holds anything else; where it
// does not, its price may still differ, as that of a cable follows the motor.
func (e *Engine) difference(a *Answer, slot int) (detail msg.Message, changed bool) {
	def := &e.Pack.Slots[slot]
	for o := def.First; o < def.End; o++ {
		changed = changed || a.Build.State.Counts[o] != a.Standard.State.Counts[o]
	}
	now, before := e.Pack.Contents(a.Build.State.Counts, slot), e.Pack.Contents(a.Standard.State.Counts, slot)
	switch {
	case !changed:
		return msg.New("engine.as-needed", msg.Text("now", now)), false
	case now == "":
		return msg.New("engine.without", msg.Text("before", before)), true
	// a package, which is called like its slot: what is in it says more than its name once again
	case before == "" && now == def.Title && !def.When.Empty():
		return msg.Plain(e.packed(def)), true
	// of several, what was taken out shows in the price alone: the list says what is there
	case before == "" || def.Multiple:
		return msg.Plain(now), true
	}
	return msg.New("engine.in-place", msg.Text("now", now), msg.Text("before", before)), true
}
