package pack

// prices checks that there is a table for every option on every hull.
func (c *checker) prices(p *Prices) {
	hulls := len(c.pack.Hulls)
	if len(p.Base) != hulls || len(p.Options) != len(c.pack.Options) {
		c.fail("prices of %d hulls and %d options, want %d and %d", len(p.Base), len(p.Options), hulls,
			len(c.pack.Options))
		return
	}
	for i := range p.Base {
		c.table(&p.Base[i])
	}
	for i := range p.Options {
		if len(p.Options[i]) != hulls {
			c.fail("option %s has prices of %d hulls, want %d", c.pack.Options[i].ID, len(p.Options[i]), hulls)
		}
		for j := range p.Options[i] {
			c.table(&p.Options[i][j])
		}
	}
}

// table checks that a table has a price for every place of its axes, so that none is looked up beyond its end.
func (c *checker) table(t *Table) {
	if len(t.Prices) == 0 && len(t.Axes) == 0 {
		return // an option that is not made for the hull
	}
	rows := 1
	for _, a := range t.Axes {
		switch a.Kind {
		case AxisOneOf:
			c.index("slot of a price", a.Index, len(c.pack.Slots))
			for _, o := range a.Options {
				c.index("option of a price", o, len(c.pack.Options))
			}
			if a.Size != len(a.Options)+2 {
				c.fail("an axis over %d options has %d places", len(a.Options), a.Size)
			}
		case AxisCount:
			c.index("option of a price", a.Index, len(c.pack.Options))
		case AxisUse:
			c.index("use field of a price", a.Index, len(c.pack.Use))
		default:
			c.fail("unknown axis %.40q of a price", a.Kind)
		}
		if a.Size < 1 || a.Size > len(t.Prices) || rows > len(t.Prices) { // so that the product cannot overflow
			c.fail("an axis of a price has %d places", a.Size)
			return
		}
		rows *= a.Size
	}
	if rows != len(t.Prices) {
		c.fail("a table has %d prices, want %d", len(t.Prices), rows)
	}
}
