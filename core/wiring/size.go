package wiring

import (
	"errors"
	"fmt"
	"strings"
)

// Pick is one conductor that a circuit may have.
type Pick struct {
	Gauge        Gauge   // by its own name, or the row of the ampacity table that a section counts as
	Section      float64 // mm²: of the gauge, or the standard section
	CircularMils float64 // what counts for the drop
	Ampacity     int     // A, where it runs
	Drop         float64 // V lost at the load, by K = 10.75
	Share        float64 // Drop over the nominal voltage
	MostFuse     float64 // A, the largest fuse that protects it
	Decides      string  // what makes it this size
}

// ErrTooMuch says that no single conductor or fuse is large enough.
var ErrTooMuch = errors.New("split the load over more circuits, shorten the run or raise the voltage")

// Choice is what a circuit needs.
type Choice struct {
	Circuit       Circuit
	AllowedDrop   float64 // V
	NeededCM      float64 // circular mils by K = 10.75, which decides for both picks
	NeededSection float64 // mm² by 0.0164, for comparison
	AWG, Metric   Pick
	Fuse          float64 // A, standard; protects both picks
	Notes         []string
}

// candidate is a size on sale.
type candidate struct {
	gauge       Gauge
	section, cm float64
}

// The sizes on sale, worked out once: figures size a wire for every boat that is judged.
var (
	awgByB258 = awgCandidates(func(g Gauge) (float64, bool) { return g.CircularMils(), true })
	awgBySAE  = awgCandidates(Gauge.SAEMinimum)
	bySection = sectionCandidates()
)

func awgCandidates(mils func(Gauge) (float64, bool)) (list []candidate) {
	for _, g := range gauges {
		if cm, ok := mils(g); ok {
			list = append(list, candidate{g, cm * SquareMillimetres, cm})
		}
	}
	return list
}

func sectionCandidates() (list []candidate) {
	for _, s := range sections {
		if g, ok := TableGauge(s); ok {
			list = append(list, candidate{g, s, s / SquareMillimetres})
		}
	}
	return list
}

func candidates(r Rules) (awg, metric []candidate) {
	if r.SAE {
		return awgBySAE, bySection
	}
	return awgByB258, bySection
}

// Size chooses the conductors and the fuse of a circuit.
//
// Formula: the smallest size with CM ≥ K×I×L/E, ampacity ≥ I, largest fuse ≥ the standard fuse for I, and not below AWG
// 16 (AWG 18 in a sheath); L = 2×length one way. A metric section has to hold the same circular mils; its ampacity
// is that of [TableGauge]. Of the two forms of the drop K = 10.75 decides: it asks for 9 % more copper than 0.0164.
// Valid: up to AWG 4/0 or 150 mm²; steady loads; single conductors.
// Source: ABYC E-11 for the drop and that both tests count; 33 CFR 183.425 and 183.455 for ampacity, least size and fuse.
func Size(c Circuit, r Rules) (Choice, error) {
	if err := c.check(); err != nil {
		return Choice{}, err
	}
	if err := r.check(); err != nil {
		return Choice{}, err
	}
	out := Choice{Circuit: c, AllowedDrop: c.Volts * OtherDrop}
	if c.Critical {
		out.AllowedDrop = c.Volts * CriticalDrop
	}
	metres := 2 * c.Length
	out.NeededCM = CopperK * c.Load * metres / footMetres / out.AllowedDrop
	out.NeededSection = CopperISO * c.Load * metres / out.AllowedDrop
	var err error
	if out.Fuse, err = FuseFor(c.Load, r.FuseMargin); err != nil {
		return Choice{}, fmt.Errorf("%s: %w", c.place(), err)
	}
	awg, metric := candidates(r)
	if out.AWG, err = pick(out, awg); err != nil {
		return Choice{}, err
	}
	if out.Metric, err = pick(out, metric); err != nil {
		return Choice{}, err
	}
	if colours, _ := ColoursOf(c.Function); colours.Critical && !c.Critical {
		out.Notes = append(out.Notes, fmt.Sprintf("%s are a critical circuit in practice (ABYC E-11): 3 %% drop, not 10 %%", c.Function))
	}
	return out, nil
}

// The tests of a size by name, as bits of what it fails are numbered.
var tests = []string{"voltage drop", "ampacity", "fuse", "the smallest size allowed"}

const smallest = 1 << 3

// pick takes the first candidate that passes every test. Each test, once passed, is passed by all thicker sizes.
func pick(ch Choice, list []candidate) (Pick, error) {
	c := ch.Circuit
	failed := uint8(smallest) // by the next smaller size
	for _, k := range list {
		amps, err := ampacity(k.gauge, c.Insulation, c.EngineSpace, Bundle(c.Bundled, c.highest()))
		if err != nil {
			return Pick{}, fmt.Errorf("%s: %w", c.place(), err)
		}
		fuse, err := MostFuse(amps, c.highest())
		if err != nil {
			return Pick{}, fmt.Errorf("%s: %w", c.place(), err)
		}
		p := Pick{Gauge: k.gauge, Section: k.section, CircularMils: k.cm, Ampacity: amps, MostFuse: fuse}
		now := fails(ch, p)
		if now == 0 {
			p.Decides = strings.Join(names(failed), " and ")
			p.Drop = ch.NeededCM / k.cm * ch.AllowedDrop
			p.Share = p.Drop / c.Volts
			return p, nil
		}
		failed = now
	}
	return Pick{}, fmt.Errorf("%s: no single conductor carries %v A over %v m at %v V; %w", c.place(), c.Load, c.Length, c.Volts, ErrTooMuch)
}

// fails are the tests that a size does not pass, as bits. A fuse is among them only where the wire carries the load: else it follows.
func fails(ch Choice, p Pick) (failed uint8) {
	thinnest := Gauge(16)
	if ch.Circuit.Sheathed {
		thinnest = 18
	}
	carries := float64(p.Ampacity) >= ch.Circuit.Load
	for i, passed := range [...]bool{p.CircularMils >= ch.NeededCM, carries, p.MostFuse >= ch.Fuse || !carries, p.Gauge <= thinnest} {
		if !passed {
			failed |= 1 << i
		}
	}
	return failed
}

func names(failed uint8) (list []string) {
	for i, name := range tests {
		if failed&(1<<i) != 0 {
			list = append(list, name)
		}
	}
	return list
}
