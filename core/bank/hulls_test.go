package bank_test

import (
	"os"
	"testing"

	"github.com/goccy/go-yaml"

	"ribband/core/bank"
)

// demoHull is a hull of rules/trials.yaml.
type demoHull struct {
	ID    string `yaml:"hull"`
	Trial []struct {
		SpeedKn float64 `yaml:"speed_kn"`
		PowerW  float64 `yaml:"power_w"`
	} `yaml:"points"`
	DisplacementKg float64 `yaml:"displacement_kg"`
}

func (h demoHull) trial() bank.Trial {
	t := bank.Trial{DisplacementKg: h.DisplacementKg}
	for _, p := range h.Trial {
		t.Points = append(t.Points, bank.Point{SpeedKn: p.SpeedKn, PowerW: p.PowerW})
	}
	return t
}

func demoHulls(t *testing.T) []demoHull {
	t.Helper()
	text, err := os.ReadFile("../../rules/trials.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Trials []demoHull }
	if err := yaml.UnmarshalWithOptions(text, &file, yaml.Strict()); err != nil {
		t.Fatal(err)
	}
	return file.Trials
}

// The invented trials keep to published work. Up to hull speed the shaft power, with a motor and controller of 85 %, is
// 0.35 to 0.90 of Gerr's formula, which is for common hulls at their service speed; beyond it a displacement hull takes
// ever more than that. The largest motor of the hull brings the boat as tried to no more than the highest speed/length
// ratio that Gerr gives a hull of this weight, within 7 %. The tables go on to what the lightest boat reaches: 0.65 of
// the displacement on trial.
//
// Source: hull speed from many textbooks; D. Gerr, Propeller Handbook, ch. 2, by way of a calculation page; the factors
// are ours.
func TestDemoTrialsAgainstPublishedFormulas(t *testing.T) {
	known := map[string]struct{ waterline, motorKW float64 }{"sedge-46": {4.25, 4}, "rush-54": {5.0, 6},
		"reed-65": {6.05, 10}, "osier-76": {7.1, 15}}
	hulls := demoHulls(t)
	if len(hulls) != len(known) {
		t.Fatalf("%d hulls", len(hulls))
	}
	for _, h := range hulls {
		k := known[h.ID]
		c, err := h.trial().Curve()
		if err != nil {
			t.Errorf("%s: %v", h.ID, err)
			continue
		}
		limit := bank.HullSpeedKn(k.waterline)
		lb, ft := h.DisplacementKg/bank.KgPerLb, k.waterline/bank.MPerFt
		last := 0.0
		for _, p := range h.Trial {
			gerr := bank.GerrShaftHP(lb, bank.SpeedLength(p.SpeedKn, ft)) * bank.WPerHP
			share := 0.85 * p.PowerW / gerr
			if p.SpeedKn <= limit && (share < 0.35 || share > 0.90) || p.SpeedKn > limit && share <= last {
				t.Errorf("%s: %v W at %v kn is %v of Gerr's formula", h.ID, p.PowerW, p.SpeedKn, share)
			}
			last = share
		}
		electrical := 1000 * k.motorKW / 0.85
		from, to := c.Range()
		top := from
		for w, err := c.PowerW(top); err == nil && w < electrical; w, err = c.PowerW(top) {
			top += 0.01
		}
		if highest := bank.GerrHighestSpeedLength(lb, ft); top < limit || bank.SpeedLength(top, ft) > 1.07*highest {
			t.Errorf("%s: the largest motor gives %.2f kn, with a hull speed of %.2f kn and a highest speed/length "+
				"ratio of %.2f", h.ID, top, limit, highest)
		}
		if w, _ := c.PowerW(to); from != 2 || w*bank.AdmiraltyScale(0.65, 1) < electrical {
			t.Errorf("%s: the table from %v to %v kn ends before the largest motor of the lightest boat", h.ID, from,
				to)
		}
	}
}

// An Admiralty coefficient of a launch is far below a ship's, and falls towards hull speed as the wave is built up.
//
// Source: Schneekluth and Bertram for ships, 400 to 600; that of launches is case C6's order of magnitude, our own
// bounds.
func TestDemoTrialsByAdmiralty(t *testing.T) {
	for _, h := range demoHulls(t) {
		n := len(h.Trial)
		coefficient := func(i int) float64 {
			return bank.AdmiraltyCoefficient(h.DisplacementKg/1000, h.Trial[i].SpeedKn, h.Trial[i].PowerW/1000)
		}
		if top, middle := coefficient(n-1), coefficient(n/2); top < 15 || middle > 150 || top > middle {
			t.Errorf("%s: %v at the middle of the table, %v at its end", h.ID, middle, top)
		}
	}
}
