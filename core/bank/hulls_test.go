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

// The invented trials keep to published work: speeds from 2 kn to just under hull speed, and shaft power, with a motor and
// controller of 85 %, at 0.35 to 0.90 of Gerr's formula, which is for common hulls at their service speed.
//
// Source: hull speed from many textbooks; D. Gerr, Propeller Handbook, ch. 2, by way of a calculation page; the factor is ours.
func TestDemoTrialsAgainstPublishedFormulas(t *testing.T) {
	waterlines := map[string]float64{"sedge-46": 4.25, "rush-54": 5.0, "reed-65": 6.05, "osier-76": 7.1}
	hulls := demoHulls(t)
	if len(hulls) != len(waterlines) {
		t.Fatalf("%d hulls", len(hulls))
	}
	for _, h := range hulls {
		waterline := waterlines[h.ID]
		c, err := h.trial().Curve()
		if err != nil {
			t.Errorf("%s: %v", h.ID, err)
			continue
		}
		from, to := c.Range()
		if limit := bank.HullSpeedKn(waterline); from != 2 || to > limit || to < limit-0.15 {
			t.Errorf("%s: %v to %v kn, with a hull speed of %v kn", h.ID, from, to, limit)
		}
		lb, ft := h.DisplacementKg/bank.KgPerLb, waterline/bank.MPerFt
		if highest := bank.GerrHighestSpeedLength(lb, ft); bank.SpeedLength(to, ft) > highest {
			t.Errorf("%s: %v kn is above the highest speed/length ratio of %v", h.ID, to, highest)
		}
		for _, p := range h.Trial {
			gerr := bank.GerrShaftHP(lb, bank.SpeedLength(p.SpeedKn, ft)) * bank.WPerHP
			if share := 0.85 * p.PowerW / gerr; share < 0.35 || share > 0.90 {
				t.Errorf("%s: %v W at %v kn is %v of Gerr's formula", h.ID, p.PowerW, p.SpeedKn, share)
			}
		}
	}
}

// An Admiralty coefficient of a launch is far below a ship's, and falls towards hull speed as the wave is built up.
//
// Source: Schneekluth and Bertram for ships, 400 to 600; that of launches is case C6's order of magnitude, our own bounds.
func TestDemoTrialsByAdmiralty(t *testing.T) {
	for _, h := range demoHulls(t) {
		n := len(h.Trial)
		coefficient := func(i int) float64 {
			return bank.AdmiraltyCoefficient(h.DisplacementKg/1000, h.Trial[i].SpeedKn, h.Trial[i].PowerW/1000)
		}
		if top, middle := coefficient(n-1), coefficient(n/2); top < 40 || middle > 150 || top > middle {
			t.Errorf("%s: %v at the middle of the table, %v at its end", h.ID, middle, top)
		}
	}
}
