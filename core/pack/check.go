package pack

import (
	"fmt"
	"math"

	"ribband/core/formula"
	"ribband/core/money"
)

// check makes sure that every index leads somewhere and every formula fits, so that nothing later has to ask.
func (p *Pack) check() error {
	c := &checker{pack: p}
	c.parts()
	if c.err != nil {
		return c.err
	}
	p.Assemble()
	c.space = p.Space()
	c.terms()
	c.hulls()
	c.slots()
	c.rules()
	c.circuits()
	c.stock(&c.pack.Stock)
	for _, l := range p.Left {
		c.left(l.Option, l.Count)
	}
	if l := p.LaunchWeeks; l != nil {
		c.launchWeeks(l)
	}
	if p.Brief != nil {
		c.brief(p.Brief)
	}
	if p.Prices == nil && p.Costs == nil {
		c.fail("it has no prices")
	}
	if p.Prices != nil {
		c.prices(p.Prices)
	}
	if p.Selling != nil && p.Selling.Dealer != nil {
		c.dealer(p.Selling.Dealer)
	}
	if p.Costs != nil {
		c.costs(p.Costs)
		for i := range p.Costs.Dealers {
			c.dealer(&p.Costs.Dealers[i])
		}
	}
	if p.Work != nil {
		c.work(p.Work)
	}
	if p.Planning != nil {
		c.showPlanning(p.Planning)
	}
	c.words()
	return c.err
}

// checker keeps the first error.
type checker struct {
	pack  *Pack
	space formula.Space
	err   error
}

// fail keeps what is wrong first: what follows is often wrong because of it.
func (c *checker) fail(format string, args ...any) {
	if c.err == nil {
		c.err = fmt.Errorf(format, args...)
	}
}

// index checks that one leads into a list of n.
func (c *checker) index(what string, i, n int) {
	if i < 0 || i >= n {
		c.fail("%s %d of %d", what, i, n)
	}
}

// program checks a formula; the empty one is good where it may be.
func (c *checker) program(what string, p formula.Program, kind formula.Kind, mayBeEmpty bool) {
	switch {
	case p.Empty():
		if !mayBeEmpty {
			c.fail("%s has no formula", what)
		}
	case p.Kind() != kind:
		c.fail("the formula of %s gives a %s, want a %s", what, p.Kind(), kind)
	default:
		if err := p.Within(c.space); err != nil {
			c.fail("the formula of %s: %w", what, err)
		}
	}
}

// dealer checks what one may give and gets: shares of a price.
func (c *checker) dealer(d *Dealership) {
	one := money.MustRate("1")
	if d.ID == "" || d.Authority.Sign() < 0 || d.Authority.Cmp(one) > 0 || d.Commission.Sign() < 0 ||
		d.Commission.Cmp(one) > 0 {
		c.fail("the terms of the dealer %.60q are no shares of a price", d.ID)
	}
}

// left checks how many of an option there are.
func (c *checker) left(option, count int) {
	c.index("option that is left", option, len(c.pack.Options))
	if count < 0 {
		c.fail("%d of option %d are left", count, option)
	}
}

// parts checks that the parts can be put together.
func (c *checker) parts() {
	costs, selling := c.pack.Costs, c.pack.Selling
	if selling == nil && costs != nil {
		c.fail("it has costs, and nothing to sell by")
	}
	if own := selling != nil && selling.Dealer != nil; own != (c.pack.Desk.Kind() == Dealer) ||
		own && (costs != nil || c.pack.Desk != DeskOfDealer(selling.Dealer.ID)) {
		c.fail("the desk %s does not go with what it sells by", c.pack.Desk)
	}
	if costs == nil {
		if c.pack.Work != nil {
			c.fail("it has work without costs")
		}
		if c.pack.Planning != nil {
			c.fail("it has planning without costs")
		}
		return
	}
	last := -1
	for i, x := range costs.Circuits {
		if x.Place <= last || x.Place > len(c.pack.Public.Circuits)+i {
			c.fail("circuit %s stands at place %d, behind place %d", x.ID, x.Place, last)
		}
		last = x.Place
	}
}

// terms checks what money, use and figures are counted in. Bounds of a use are what prices are listed over, so that a
// step of nothing would make a list without an end.
func (c *checker) terms() {
	p := c.pack
	if _, err := DeskOf(string(p.Desk)); err != nil {
		c.fail("%w", err)
	}
	if _, err := money.CurrencyOf(p.Currency); err != nil {
		c.fail("%w", err)
	}
	if _, err := money.NewRounding(p.Rounding, money.Exact(1, 0)); err != nil {
		c.fail("%w", err)
	}
	for _, k := range p.SigningKeys {
		if k.Type != "OKP" || k.Curve != "Ed25519" || len(k.X) != 43 {
			c.fail("the signing key %.50q is no public key by Ed25519", k.X)
		}
	}
	if p.LockMinutes < 0 {
		c.fail("a desk is locked after %d minutes", p.LockMinutes)
	}
	for _, s := range p.Stages {
		if s.Share.Sign() < 0 {
			c.fail("stage %s has a negative share", s.ID)
		}
	}
	for _, u := range p.Use {
		if len(u.Choices) > 0 {
			c.index("standard of "+u.ID, int(u.Standard), len(u.Choices))
		} else if !formula.Finite(u.Min) || !formula.Finite(u.Max) || !(u.Step > 0) || u.Max < u.Min ||
			u.Standard < u.Min || u.Standard > u.Max || math.IsNaN(u.Standard) {
			c.fail("use field %s has no bounds", u.ID)
		}
	}
	for _, f := range p.Figures {
		c.program("figure "+f.ID, f.Formula, formula.Number, true)
		if f.Digits < 0 || f.Digits > 4 {
			c.fail("figure %s is shown with %d digits", f.ID, f.Digits)
		}
	}
	for _, r := range p.Regions {
		if r.TaxMode != Inclusive && r.TaxMode != Exclusive && r.TaxMode != Zero || r.TaxRate.Sign() < 0 {
			c.fail("region %s has no tax mode or a negative rate", r.ID)
		}
		if x := r.Currency; x != nil {
			if _, err := money.CurrencyOf(x.Code); err != nil || x.Rate.Sign() <= 0 {
				c.fail("region %s has a currency %.10q at the rate %s", r.ID, x.Code, x.Rate)
			}
		}
		if !(r.Latitude >= -66 && r.Latitude <= 66) || !(r.Sunshine >= 0 && r.Sunshine <= 1) {
			c.fail("region %s has no climate: a latitude of %v, sunshine for a share of %v", r.ID, r.Latitude,
				r.Sunshine)
		}
	}
	if p.RegionField != -1 {
		c.index("region field", p.RegionField, len(p.Use))
		if c.err == nil && (len(p.Regions) == 0 || len(p.Use[p.RegionField].Choices) != len(p.Regions)) {
			c.fail("the use field %s does not choose a region", p.Use[p.RegionField].ID)
		}
	}
}
