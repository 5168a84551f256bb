package sheet

import (
	"fmt"
	"strings"

	"ribband/core/capacity"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/quote"
)

// BoatPapers is what the yard writes on plates and labels of a boat. The parts of the capacity are there for boats that
// the rules of the United States cover; Duty says whether they do.
type BoatPapers struct {
	Duty          string            `json:"duty"`
	Problem       string            `json:"problem,omitempty"` // why nothing may be marked
	Coverage      []capacity.Duty   `json:"coverage,omitempty"`
	Reading       string            `json:"reading,omitempty"`
	Weight        *capacity.Weight  `json:"weight_capacity,omitempty"`
	Persons       *capacity.Persons `json:"persons_capacity,omitempty"`
	Foam          *capacity.Foam    `json:"flotation,omitempty"`
	FittedL       float64           `json:"flotation_fitted_l,omitempty"`
	Capacity      *capacity.Label   `json:"capacity_label,omitempty"`
	Certification *capacity.Label   `json:"certification_label,omitempty"`
	Number        quote.HullNumber  `json:"hull_number"`
	Warnings      []string          `json:"warning_labels,omitempty"`
	Notes         []string          `json:"notes,omitempty"`
	Cautions      []string          `json:"cautions"`
}

func boatPapers(e *engine.Engine, b *fit.Build, d quote.Details) BoatPapers {
	p := BoatPapers{Number: quote.NumberOf(e, d), Warnings: warningLabels(e, b), Cautions: capacity.Cautions()}
	region := e.Region(b)
	if region == nil || region.Limits != quote.LimitsUS {
		p.Duty = "The boat is not bound for the United States: the US rules of capacity and flotation are not worked out. The rules of its waters decide what its plates say."
		return p
	}
	c, ok, err := e.Figures.Capacity(b.State, d.Plates())
	if !ok {
		p.Duty = "The book has no offsets, masses or length to work out capacity and flotation from."
		return p
	}
	p.Duty, p.Coverage = c.Coverage.Sentence, c.Coverage.Duties
	if err != nil {
		p.Problem = quote.OneLine(err) + "."
		return p
	}
	p.certification(e, b, c.Coverage)
	if !c.Weight.Applies {
		return p
	}
	label := capacity.CapacityLabel(c.Persons)
	label.Sentence += fmt.Sprintf(" Persons decided by: %s.", c.Persons.Governs)
	p.Reading, p.Weight, p.Persons, p.Foam, p.Capacity = figures.CapacityReading.Text(), &c.Weight, &c.Persons, &c.Foam,
		&label
	p.FittedL = e.Figure(b, figures.FoamL)
	p.Notes = append(p.Notes,
		fmt.Sprintf("Maximum displacement %.0f kg (%.0f lb): inside the offsets up to the lowest point of the sheer, level, divided by %g for errors of measuring. On an open boat the lowest point where water comes aboard decides: measure cut-outs, wells and drains.",
			c.Weight.Displacement.KG, c.Weight.Displacement.LB, capacity.MeasuringMargin),
		fmt.Sprintf("Boat weight %.0f kg, of it machinery %.0f kg, from the mass table with %.0f %% of growth. The finished boat is weighed.", c.Weight.Boat.KG, c.Weight.Machinery.KG, 100*figures.GrowthShare))
	if own := int(e.Field(b, figures.HullPersons)); own > 0 && own < c.Persons.Number {
		p.Notes = append(p.Notes, fmt.Sprintf("The hull is built for %d persons; the sum gives %d. The builder may mark fewer, and then needs no more foam.", own, c.Persons.Number))
	}
	p.Notes = append(p.Notes, fmt.Sprintf("Foam fitted: %.0f l of closed-cell foam of at most %g kg/m³; needed: %.0f l.", p.FittedL, figures.FlotationFoam.DensityKGM3, 1000*c.Foam.Provide.M3))
	for _, list := range [][]string{c.Weight.Notes, c.Persons.Notes, c.Foam.Notes} {
		p.Notes = append(p.Notes, list...)
	}
	return p
}

// certification adds the maker's label; a yard without an address reads why there is none.
func (p *BoatPapers) certification(e *engine.Engine, b *fit.Build, c capacity.Coverage) {
	yard := e.Pack.Yard
	label, err := capacity.CertificationLabel(c,
		capacity.Maker{Name: yard.Name, Address: strings.Join(yard.Address, ", "),
			Model: e.Pack.Hulls[b.State.HullID].Title, HIN: p.Number.Number})
	if err != nil {
		label = capacity.Label{Sentence: "The certification label cannot be written: " + quote.OneLine(err) + "."}
	}
	p.Certification = &label
}
