package sheet

import (
	"strings"

	"ribband/core/capacity"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/quote"
)

// BoatPapers is what the yard writes on plates and labels of a boat. The parts of the capacity are there for boats that
// the rules of the United States cover; Duty says whether they do.
type BoatPapers struct {
	Duty    msg.Message `json:"duty"`
	Problem msg.Message `json:"problem,omitzero"` // why nothing may be marked
	// which US rules cover the boat, and why
	Coverage []capacity.Duty `json:"coverage,omitempty"`
	// how the displacement was read from the offsets
	Reading msg.Message `json:"reading,omitzero"`
	// of everything that the boat may carry
	Weight  *capacity.Weight  `json:"weight_capacity,omitempty"`
	Persons *capacity.Persons `json:"persons_capacity,omitempty"` // of them alone
	// how much flotation the boat needs, and where
	Foam *capacity.Foam `json:"flotation,omitempty"`
	// l of foam that its options bring
	FittedL float64 `json:"flotation_fitted_l,omitempty"`
	// what the plates say
	Capacity      *capacity.Label `json:"capacity_label,omitempty"`
	Certification *capacity.Label `json:"certification_label,omitempty"`
	// as far as the details of the order give it
	Number quote.HullNumber `json:"hull_number"`
	// for the labels at bank and cables
	Warnings []msg.Message `json:"warning_labels,omitempty"`
	// what the numbers rest on
	Notes    []msg.Message `json:"notes,omitempty"`
	Cautions []msg.Message `json:"cautions"`
}

// boatPapers works out the plates as far as the rules bind the boat. What does not bind it is left out, with a sentence
// why, so that nobody takes an empty plate for a lost one.
func boatPapers(e *engine.Engine, b *fit.Build, d quote.Details) BoatPapers {
	market := "" // none whose rules are known
	if region := e.Region(b); region != nil {
		market = region.Limits
	}
	p := BoatPapers{Number: quote.NumberOf(e, market, d), Warnings: warningLabels(e, b), Cautions: capacity.Cautions()}
	// the rules of capacity and flotation are those of the United States; elsewhere the boat's own rules decide
	if market != quote.LimitsUS {
		p.Duty = msg.New("sheet.not-to-us")
		if capacity.NeedsCountry(market) { // what the plate of these says is for the builder to fill in
			p.Duty = msg.Sentences(p.Duty, msg.New("sheet.plate", msg.Choice("law", market)))
		}
		return p
	}
	c, ok, err := e.Figures.Capacity(b.State, d.Plates())
	if !ok {
		p.Duty = msg.New("sheet.no-capacity")
		return p
	}
	p.Duty, p.Coverage = c.Coverage.Sentence, c.Coverage.Duties
	if err != nil {
		p.Problem = msg.New("sheet.problem", msg.Words("problem", msg.Of(err)))
		return p
	}
	p.certification(e, b, c.Coverage)
	if !c.Weight.Applies {
		return p
	}
	// with what decided the number of persons: their weight, the list test, or the builder
	label := capacity.CapacityLabel(c.Persons)
	label.Sentence = msg.Sentences(label.Sentence,
		msg.New("sheet.persons-by", msg.Words("by", c.Persons.Governs.Words())))
	p.Reading, p.Weight, p.Persons, p.Foam, p.Capacity = figures.CapacityReading.Text(), &c.Weight, &c.Persons, &c.Foam,
		&label
	// fitted beside needed, and the hull's own persons beside the computed ones, so that a lack is seen here and not at
	// the trial
	p.FittedL = e.Figure(b, figures.FoamL)
	p.Notes = append(p.Notes,
		msg.New("sheet.displacement", msg.Number("kg", c.Weight.Displacement.KG, 0),
			msg.Number("lb", c.Weight.Displacement.LB, 0), msg.Number("margin", capacity.MeasuringMargin, msg.Exact)),
		msg.New("sheet.boat-weight", msg.Number("kg", c.Weight.Boat.KG, 0),
			msg.Number("machinery", c.Weight.Machinery.KG, 0), msg.Number("growth", 100*figures.GrowthShare, 0)))
	if own := int(e.Field(b, figures.HullPersons)); own > 0 && own < c.Persons.Number {
		p.Notes = append(p.Notes, msg.New("sheet.built-for", msg.Count("own", own),
			msg.Count("computed", c.Persons.Number)))
	}
	p.Notes = append(p.Notes, msg.New("sheet.foam-fitted", msg.Number("fitted", p.FittedL, 0),
		msg.Number("density", figures.FlotationFoam.DensityKGM3, msg.Exact),
		msg.Number("needed", 1000*c.Foam.Provide.M3, 0)))
	for _, list := range [][]msg.Message{c.Weight.Notes, c.Persons.Notes, c.Foam.Notes} {
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
		label = capacity.Label{Sentence: msg.New("sheet.no-certification", msg.Words("problem", msg.Of(err)))}
	}
	p.Certification = &label
}

// warningLabels are what labels at bank and cables say, so that a stranger knows the voltage before he opens a cover.
//
// Source: common practice, no source; the standards for electric boats and the rules of its waters say what must stand
// there.
func warningLabels(e *engine.Engine, b *fit.Build) []msg.Message {
	volts, kwh := e.Figure(b, figures.BankV), e.Figure(b, figures.BankKWh)
	if !(volts > 0) {
		return nil
	}
	// a charger puts more on the bank than its nominal voltage, and what it puts is what bites
	highest := volts
	circuits, _ := e.SizedCircuits(b)
	for i := range circuits {
		c := &circuits[i].Computed.Circuit
		highest = max(highest, c.Volts, c.Peak)
	}
	// to a tenth, as a voltmeter shows it, and without a zero that says nothing
	number := func(name string, v float64) msg.Arg { return msg.Number(name, measure.Round(v, 1), msg.Exact) }
	list := []msg.Message{msg.New("sheet.label-bank", number("volts", volts), number("highest", highest),
		number("kwh", kwh))}
	for i := range circuits {
		s := &circuits[i]
		if !figures.ReadsCircuit(&e.Pack.Circuits[s.Index]) {
			continue
		}
		c := &s.Computed.Circuit
		says := []msg.Arg{msg.Count("n", s.Count), msg.Text("circuit", c.Name), number("volts", c.Volts),
			msg.Number("amps", s.Fuse.Amps, msg.Exact)}
		// the same amperes with less breaking capacity would burst
		if s.Fuse.KiloAmps > 0 {
			list = append(list, msg.New("sheet.label-fuse-breaking", append(says,
				msg.Number("kiloamps", s.Fuse.KiloAmps, msg.Exact))...))
		} else {
			list = append(list, msg.New("sheet.label-fuse", says...))
		}
	}
	return append(list, msg.New("sheet.labels-source"))
}
