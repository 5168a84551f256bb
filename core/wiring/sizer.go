package wiring

import (
	"errors"
	"fmt"
	"slices"
)

// Stock is what a yard keeps to wire a boat with. An empty list stands for the standard sizes.
type Stock struct {
	Sections []float64  // mm², of single conductors, thinnest first
	Fuses    []FuseSize // smallest first
	Switches []float64  // A, what battery switches carry all the time, smallest first
}

// FuseSize is a fuse that a yard keeps.
type FuseSize struct {
	Amps     float64
	Volts    float64 // the highest that it may break; 0: not stated
	KiloAmps float64 // interrupting capacity at that voltage; 0: not stated
}

// Sized is a circuit as it was computed, and what is bought for it.
type Sized struct {
	Computed Choice // by the standard sizes; its AWG is empty where no gauge does
	Cable    Pick   // MostFuse is its ampacity
	CableAt  int    // index among the sections of the stock; -1 where the stock lists none
	Fuse     FuseSize
	FuseAt   int // index among the fuses of the stock; -1 where the stock lists none
}

// ErrNoFuse says that no fuse of the stock has the size, the voltage and the interrupting capacity.
var ErrNoFuse = errors.New("keep such a fuse, or split the load over more circuits")

// ErrNoCable says that no cable of the stock is thick enough.
var ErrNoCable = errors.New("keep a thicker cable, split the load or shorten the run")

// Sizer sizes circuits for a yard: by rules, from its stock.
type Sizer struct {
	rules    Rules
	stock    Stock
	sections []candidate
	standard bool // the stock lists no cable
}

// NewSizer prepares a stock whose lists are in order. Sections below AWG 18 are left out.
func NewSizer(r Rules, s Stock) *Sizer {
	z := &Sizer{rules: r, stock: s, sections: bySection, standard: len(s.Sections) == 0}
	if !z.standard {
		z.sections = sectionCandidates(s.Sections)
	}
	return z
}

// Rules are those that circuits are sized by.
func (z *Sizer) Rules() Rules { return z.rules }

// Size computes a circuit, and chooses what is bought for it.
//
// Formula: computed as [Size] says. Bought: the smallest fuse kept that is not below the computed one, may break the
// highest voltage, and interrupts the fault current; the thinnest cable kept that is not thinner than the computed one,
// keeps the drop, and carries by itself as much as that fuse: fuse ≤ ampacity of the cable bought, at its insulation,
// place and bundling. The drop is that of the cable bought.
// Valid: as [Size].
// Source: as [Size]; that a fuse is never above the ampacity is stricter than 33 CFR 183.455, which lets it be 1.5
// times as large below 50 V; voltage and interrupting capacity of a fuse: ABYC E-11, from memory.
func (z *Sizer) Size(c Circuit) (Sized, error) {
	ch, err := needs(&c, z.rules)
	if err != nil {
		return Sized{}, err
	}
	if ch.Metric, err = pick(&ch, bySection, 0, byPractice); err != nil {
		return Sized{}, err
	}
	out := Sized{Computed: ch, CableAt: -1}
	if out.Fuse, out.FuseAt, err = z.fuse(&ch); err != nil {
		return Sized{}, err
	}
	ch.Fuse = out.Fuse.Amps
	if out.Cable, err = pick(&ch, z.sections, ch.Metric.Copper(), byAmpacity); err != nil {
		if z.standard {
			return Sized{}, err
		}
		return Sized{}, fmt.Errorf("%s: it needs a cable that carries as much as its fuse of %g A and loses no more "+
			"than %.3g V, and none of those kept does; %w", c.place(), ch.Fuse, ch.AllowedDrop, ErrNoCable)
	}
	if !z.standard {
		out.CableAt = slices.Index(z.stock.Sections, out.Cable.Section)
	}
	return out, nil
}

// AWG adds the gauge that does as computed, where there is one.
func (z *Sizer) AWG(s *Sized) {
	awg, _ := candidates(z.rules)
	if p, err := pick(&s.Computed, awg, 0, byPractice); err == nil {
		s.Computed.AWG = p
	}
}

// fuse is the smallest that is kept for a circuit.
func (z *Sizer) fuse(ch *Choice) (FuseSize, int, error) {
	if len(z.stock.Fuses) == 0 {
		return FuseSize{Amps: ch.Fuse}, -1, nil
	}
	c := &ch.Circuit
	for i, f := range z.stock.Fuses {
		if f.Amps >= ch.Fuse && (f.Volts == 0 || f.Volts >= c.highest()) &&
			(f.KiloAmps == 0 || 1000*f.KiloAmps >= c.Fault) {
			return f, i, nil
		}
	}
	return FuseSize{}, 0, fmt.Errorf("%s: of the fuses kept none has %g A or more, for %.4g V and a fault current of "+
		"%.3g kA; %w", c.place(), ch.Fuse, c.highest(), c.Fault/1000, ErrNoFuse)
}

// Switch is the smallest battery switch kept that carries as much as the fuse of a circuit; its index among those kept.
func (z *Sizer) Switch(s *Sized) (amps float64, at int, err error) {
	for i, a := range z.stock.Switches {
		if a >= s.Fuse.Amps {
			return a, i, nil
		}
	}
	c := &s.Computed.Circuit
	return 0, 0, fmt.Errorf("%s: of the battery switches kept none carries the %g A of its fuse; keep a larger one, "+
		"or split the load", c.place(), s.Fuse.Amps)
}
