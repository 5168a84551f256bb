package wiring

import (
	"errors"
	"fmt"
	"slices"

	"ribband/core/msg"
)

// Pick is the conductor that a circuit may have in each pole, or several alike of them side by side.
type Pick struct {
	Gauge        Gauge       // by its own name, or the row of the ampacity table that a section counts as
	Section      float64     // mm² of one conductor: of the gauge, or the standard section
	Conductors   int         // side by side in each pole
	CircularMils float64     // of all of them: what counts for the drop
	Ampacity     int         // A, what all of them carry where they run
	Drop         float64     // V lost at the load, by K = 10.75
	Share        float64     // Drop over the nominal voltage
	MostFuse     float64     // A, the largest fuse that protects it
	Decides      msg.Message // what makes it this size
}

// Copper is the section of one pole in mm².
func (p Pick) Copper() float64 { return float64(p.Conductors) * p.Section }

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
	Notes         []msg.Message
}

// candidate is a size on sale. Its row is that of the table of ampacities.
type candidate struct {
	gauge       Gauge
	row         int
	section, cm float64
}

// The sizes on sale, worked out once: figures size a wire for every boat that is judged.
var (
	awgByB258 = awgCandidates(func(g Gauge) (float64, bool) { return g.CircularMils(), true })
	awgBySAE  = awgCandidates(Gauge.SAEMinimum)
	bySection = sectionCandidates(sections)
)

func awgCandidates(mils func(Gauge) (float64, bool)) (list []candidate) {
	for _, g := range gauges {
		if cm, ok := mils(g); ok {
			list = append(list, candidate{g, slices.Index(gauges, g), cm * SquareMillimetres, cm})
		}
	}
	return list
}

func sectionCandidates(sections []float64) (list []candidate) {
	for _, s := range sections {
		if g, ok := TableGauge(s); ok {
			list = append(list, candidate{g, slices.Index(gauges, g), s, s / SquareMillimetres})
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

// Size chooses the conductors and the fuse of a circuit among the standard sizes.
//
// Formula: the smallest size with CM ≥ K×I×L/E, ampacity ≥ I, largest fuse ≥ the standard fuse for I, and not below AWG
// 16 (AWG 18 in a sheath); L = 2×length one way. A metric section has to hold the same circular mils; its ampacity is
// that of [TableGauge]. Of the two forms of the drop K = 10.75 decides: it asks for 9 % more copper than 0.0164. Where
// no single conductor is enough and the circuit allows it, several alike of AWG 1/0 or more lie side by side and carry
// the sum; each pair of them runs apart from the others, so that they do not count as one bundle.
// Valid: up to AWG 4/0 or 150 mm²; steady loads; single conductors.
// Source: ABYC E-11 for the drop and that both tests count; 33 CFR 183.425 and 183.455 for ampacity, least size and
// fuse; conductors side by side from 1/0: NEC 310.10(G), from memory.
func Size(c Circuit, r Rules) (Choice, error) {
	out, err := needs(&c, r)
	if err != nil {
		return Choice{}, err
	}
	awg, metric := candidates(r)
	if out.AWG, err = pick(&out, awg, 0, byPractice); err != nil {
		return Choice{}, err
	}
	if out.Metric, err = pick(&out, metric, 0, byPractice); err != nil {
		return Choice{}, err
	}
	return out, nil
}

// needs is what a circuit asks of its conductors and its fuse.
func needs(c *Circuit, r Rules) (Choice, error) {
	if err := c.check(); err != nil {
		return Choice{}, err
	}
	if err := r.check(); err != nil {
		return Choice{}, err
	}
	out := Choice{Circuit: *c, AllowedDrop: c.Volts * OtherDrop}
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
	if !c.Critical {
		if colours, _ := ColoursOf(c.Function); colours.Critical {
			out.Notes = append(out.Notes, msg.New("wiring.critical", msg.Words("function", c.Function.Words())))
		}
	}
	return out, nil
}

// The tests of a size, as bits of what it fails are numbered.
var tests = []msg.Message{msg.New("wiring.test-drop"), msg.New("wiring.test-ampacity"), msg.New("wiring.test-fuse"),
	msg.New("wiring.test-smallest")}

const smallest = 1 << 3

// Two readings of which fuse protects a conductor: the largest of 33 CFR 183.455, or none above what the conductor
// carries.
const (
	byPractice = false
	byAmpacity = true
)

// pick takes the first candidate that passes every test; each test, once passed, is passed by all thicker sizes.
// Conductors side by side are tried only where no single one passes. A pole has at least so many mm².
func pick(ch *Choice, list []candidate, least float64, strict bool) (Pick, error) {
	c := &ch.Circuit
	column, bundle := slices.Index(ratings, c.Insulation), Bundle(c.Bundled, c.highest())
	for n := 1; n <= max(1, c.Parallel); n++ {
		failed := uint8(smallest) // by the next smaller size
		for _, k := range list {
			if n > 1 && k.gauge > 0 { // thinner than 1/0
				continue
			}
			amps := n * derated(k.row, column, c.EngineSpace, bundle)
			p := Pick{Gauge: k.gauge, Section: k.section, Conductors: n, CircularMils: float64(n) * k.cm,
				Ampacity: amps, MostFuse: float64(amps)}
			if !strict {
				p.MostFuse = mostFuse(amps, c.highest())
			}
			now := fails(ch, &p)
			switch {
			case now == 0 && p.Copper() < least:
				now = smallest
			case now == 0:
				p.Decides = decides[failed]
				p.Drop = ch.NeededCM / p.CircularMils * ch.AllowedDrop
				p.Share = p.Drop / c.Volts
				return p, nil
			}
			failed = now
		}
	}
	return Pick{}, fmt.Errorf("%s: no single conductor carries %v A over %v m at %v V; %w", c.place(), c.Load, c.Length,
		c.Volts, ErrTooMuch)
}

// fails are the tests that a size does not pass, as bits. A fuse is among them only where the wire carries the load:
// else it follows.
func fails(ch *Choice, p *Pick) (failed uint8) {
	thinnest := Gauge(16)
	if ch.Circuit.Sheathed {
		thinnest = 18
	}
	carries := float64(p.Ampacity) >= ch.Circuit.Load
	for i, passed := range [...]bool{p.CircularMils >= ch.NeededCM, carries, p.MostFuse >= ch.Fuse || !carries,
		p.Gauge <= thinnest} {
		if !passed {
			failed |= 1 << i
		}
	}
	return failed
}

// decides words what a size is decided by, for every set of tests that the next smaller one fails.
var decides = func() (words [1 << 4]msg.Message) {
	for failed := range words {
		words[failed] = msg.New("wiring.decides", msg.List("tests", msg.All, names(uint8(failed))...))
	}
	return words
}()

func names(failed uint8) (list []msg.Message) {
	for i, name := range tests {
		if failed&(1<<i) != 0 {
			list = append(list, name)
		}
	}
	return list
}
