package figures

import (
	"fmt"
	"slices"

	"ribband/core/capacity"
	"ribband/core/pack"
	"ribband/core/transport"
	"ribband/core/wiring"
)

// check judges what a pack holds as plain numbers and words by the packages that compute with it: reading a pack makes
// sure that every index leads somewhere, not that a table of offsets is that of a boat. Hulls and curves that are made
// here are those that figures are computed from.
func (n *parts) check() error {
	p := n.pack
	for _, r := range p.Regions {
		if _, err := transport.FindRegion(r.Limits); r.Limits != "" && err != nil {
			return fmt.Errorf("region %s: %w", r.ID, err)
		}
	}
	for i := range p.Hulls {
		h := &p.Hulls[i]
		if _, err := n.lines[i](); len(h.Offsets) > 0 && err != nil {
			return fmt.Errorf("offsets of hull %s: %w", h.ID, err)
		}
		if h.Trial != nil {
			if _, err := n.curves[i](); err != nil {
				return fmt.Errorf("trial of hull %s: %w", h.ID, err)
			}
		}
		if err := checkSubmerged(h.ID, h.Submerged); err != nil {
			return err
		}
	}
	for i := range p.Options {
		if err := checkSubmerged(p.Options[i].ID, p.Options[i].Submerged); err != nil {
			return err
		}
	}
	for i := range p.Circuits {
		if err := checkCircuit(&p.Circuits[i]); err != nil {
			return err
		}
	}
	return nil
}

// checkSubmerged judges what something counts as under water.
func checkSubmerged(id, material string) error {
	if material == "" || material == pack.NotSubmerged {
		return nil
	}
	if _, err := capacity.FindMaterial(material); err != nil {
		return fmt.Errorf("what %s counts as under water: %w", id, err)
	}
	return nil
}

// checkCircuit judges the words and counts of a circuit that sizing would refuse on every boat. Whoever compiles a pack
// hears of it then, and not at the first boat that has the circuit.
func checkCircuit(c *pack.Circuit) error {
	if _, err := wiring.ColoursOf(wiring.Function(c.Function)); err != nil {
		return fmt.Errorf("circuit %s: %w", c.ID, err)
	}
	if !slices.Contains(wiring.Ratings(), wiring.Rating(c.Insulation)) {
		return fmt.Errorf("circuit %s has insulation for %d °C", c.ID, c.Insulation)
	}
	if c.Bundled < 0 || c.Parallel < 0 || c.Parallel > wiring.MostParallel {
		return fmt.Errorf("circuit %s has %d conductors side by side, and %d in its "+
			"bundle", c.ID, c.Parallel, c.Bundled)
	}
	return nil
}
