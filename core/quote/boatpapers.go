package quote

import (
	"fmt"
	"strings"
	"time"

	"ribband/core/capacity"
	"ribband/core/figures"
	"ribband/core/fit"
)

// limitsUS is the word of a region whose boats the United States' rules rule.
const limitsUS = "us"

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
	Number        HullNumber        `json:"hull_number"`
	Warnings      []string          `json:"warning_labels,omitempty"`
	Notes         []string          `json:"notes,omitempty"`
	Cautions      []string          `json:"cautions"`
}

// HullNumber is the hull identification number, or what is missing to build it.
type HullNumber struct {
	Number  string           `json:"number,omitempty"` // twelve characters
	Full    string           `json:"full,omitempty"`   // with the country
	Missing []string         `json:"missing,omitempty"`
	Places  []capacity.Place `json:"places"`
}

func (e *Engine) boatPapers(b *fit.Build, d Details) BoatPapers {
	p := BoatPapers{Number: e.hullNumber(d), Warnings: e.warningLabels(b), Cautions: capacity.Cautions()}
	region := e.region(b)
	if region == nil || region.Limits != limitsUS {
		p.Duty = "The boat is not bound for the United States: the US rules of capacity and flotation are not worked out. The rules of its waters decide what its plates say."
		return p
	}
	c, ok, err := e.figures.Capacity(b.State, d.plates())
	if !ok {
		p.Duty = "The book has no offsets, masses or length to work out capacity and flotation from."
		return p
	}
	p.Duty, p.Coverage = c.Coverage.Sentence, c.Coverage.Duties
	if err != nil {
		p.Problem = oneLine(err) + "."
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
	v := e.look(b)
	p.FittedL = v.total(figures.FoamL)
	p.Notes = append(p.Notes,
		fmt.Sprintf("Maximum displacement %.0f kg (%.0f lb): inside the offsets up to the lowest point of the sheer, level, divided by %g for errors of measuring. On an open boat the lowest point where water comes aboard decides: measure cut-outs, wells and drains.",
			c.Weight.Displacement.KG, c.Weight.Displacement.LB, capacity.MeasuringMargin),
		fmt.Sprintf("Boat weight %.0f kg, of it machinery %.0f kg, from the mass table with %.0f %% of growth. The finished boat is weighed.", c.Weight.Boat.KG, c.Weight.Machinery.KG, 100*figures.GrowthShare))
	if own := int(v.field(figures.HullPersons)); own > 0 && own < c.Persons.Number {
		p.Notes = append(p.Notes, fmt.Sprintf("The hull is built for %d persons; the sum gives %d. The builder may mark fewer, and then needs no more foam.", own, c.Persons.Number))
	}
	p.Notes = append(p.Notes, fmt.Sprintf("Foam fitted: %.0f l of closed-cell foam of at most %g kg/m³; needed: %.0f l.", p.FittedL, figures.FlotationFoam.DensityKGM3, 1000*c.Foam.Provide.M3))
	for _, list := range [][]string{c.Weight.Notes, c.Persons.Notes, c.Foam.Notes} {
		p.Notes = append(p.Notes, list...)
	}
	return p
}

// plates are what the details say of the capacity.
func (d *Details) plates() figures.Plates {
	return figures.Plates{ListTestKg: d.ListTestKg, Persons: d.ListedPersons}
}

// checkPlates refuses details from which no hull number or no capacity can be marked. What is not given yet may follow
// later.
func (e *Engine) checkPlates(b *fit.Build, d Details) error {
	if d.Serial != "" {
		if err := capacity.CheckSerial(d.Serial); err != nil {
			return fmt.Errorf("hull_serial: %s", oneLine(err))
		}
	}
	if d.Built != "" {
		if _, err := time.Parse(monthForm, d.Built); err != nil {
			return fmt.Errorf("hull_built %.40q is no month: write it as 2027-03", d.Built)
		}
	}
	if e.Pack.Trade != nil && d.Serial != "" && d.Built != "" && e.Pack.Trade.Maker.Code != "" {
		if n := e.hullNumber(d); n.Number == "" {
			return fmt.Errorf("the hull identification number cannot be built: %s",
				strings.TrimSuffix(strings.Join(n.Missing, " "), "."))
		}
	}
	if d.ListTestKg == 0 && d.ListedPersons == 0 {
		return nil
	}
	region := e.region(b)
	if region == nil || region.Limits != limitsUS {
		return nil // not marked there; the details keep what was measured
	}
	if _, _, err := e.figures.Capacity(b.State, d.plates()); err != nil {
		return fmt.Errorf("the capacity label: %s", oneLine(err))
	}
	return nil
}

const monthForm = "2006-01"

func oneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", " ") }

// certification adds the maker's label; a yard without an address reads why there is none.
func (p *BoatPapers) certification(e *Engine, b *fit.Build, c capacity.Coverage) {
	yard := e.Pack.Yard
	label, err := capacity.CertificationLabel(c,
		capacity.Maker{Name: yard.Name, Address: strings.Join(yard.Address, ", "),
			Model: e.Pack.Hulls[b.State.HullID].Title, HIN: p.Number.Number})
	if err != nil {
		label = capacity.Label{Sentence: "The certification label cannot be written: " + oneLine(err) + "."}
	}
	p.Certification = &label
}

// hullNumber builds the number from the maker's code of the book and the serial and month of the details.
func (e *Engine) hullNumber(d Details) HullNumber {
	n := HullNumber{Places: capacity.HINPlaces(true)}
	maker := e.Pack.Trade.Maker
	if maker.Code == "" {
		n.Missing = append(n.Missing, "The book has no maker_code under yard: the code that the authority assigned to the yard.")
	}
	if d.Serial == "" {
		n.Missing = append(n.Missing, "The details of the quotation have no hull_serial: the yard's running number, five characters.")
	}
	if d.Built == "" {
		n.Missing = append(n.Missing, "The details of the quotation have no hull_built: the month of building or certification, like 2027-03.")
	}
	if len(n.Missing) > 0 {
		return n
	}
	month, err := time.Parse(monthForm, d.Built)
	if err != nil {
		n.Missing = append(n.Missing, fmt.Sprintf("hull_built %.40q is no month: write it as 2027-03.", d.Built))
		return n
	}
	hin, err := capacity.BuildHIN(capacity.Identity{Country: maker.Country, Manufacturer: maker.Code, Serial: d.Serial,
		Year: month.Year(), Month: month.Month(), ModelYear: month.Year()})
	if err != nil {
		n.Missing = append(n.Missing, oneLine(err)+".")
		return n
	}
	n.Number, n.Full = hin.String(), hin.Full()
	return n
}
