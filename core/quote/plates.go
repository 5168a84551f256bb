package quote

import (
	"time"

	"ribband/core/capacity"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/msg"
	"ribband/core/pack"
)

// LimitsUS is the word of a region whose boats the United States' rules rule.
const LimitsUS = capacity.UnitedStates

// marketOf is the word of the region for which a boat is built; "" where its rules are not known.
func marketOf(e *engine.Engine, b *fit.Build) string {
	if r := e.Region(b); r != nil {
		return r.Limits
	}
	return ""
}

// HullNumber is the hull identification number, or what is missing to build it.
type HullNumber struct {
	Number  string           `json:"number,omitempty"` // twelve characters
	Full    string           `json:"full,omitempty"`   // with the country
	Missing []msg.Message    `json:"missing,omitempty"`
	Places  []capacity.Place `json:"places"` // where it is put on the boat
}

// Plates are what the details say of the capacity.
func (d *Details) Plates() figures.Plates {
	return figures.Plates{ListTestKg: d.ListTestKg, Persons: d.ListedPersons}
}

// checkPlates refuses details from which no hull number or no capacity can be marked. What is not given yet may follow
// later.
func checkPlates(e *engine.Engine, b *fit.Build, d Details) error {
	if d.Serial != "" {
		if err := capacity.CheckSerial(d.Serial); err != nil {
			return caused("quote.serial", err)
		}
	}
	if d.Built != "" {
		if _, err := time.Parse(monthForm, d.Built); err != nil {
			return msg.Fault("quote.not-a-month", cut("month", d.Built))
		}
	}
	// Only who has the code of the maker can say whether the number comes out.
	if e.Pack.Can(pack.Quotations) && d.Serial != "" && d.Built != "" && e.Pack.Selling.Maker.Code != "" {
		if n := NumberOf(e, marketOf(e, b), d); n.Number == "" {
			return msg.Fault("quote.no-hull-number", msg.Words("missing", msg.Sentences(n.Missing...)))
		}
	}
	// the list test is done on the finished boat: most quotations are issued before it
	if d.ListTestKg == 0 && d.ListedPersons == 0 {
		return nil
	}
	if marketOf(e, b) != LimitsUS {
		return nil // not marked there; the details keep what was measured
	}
	if _, _, err := e.Figures.Capacity(b.State, d.Plates()); err != nil {
		return caused("quote.capacity-label", err)
	}
	return nil
}

// monthForm is a month as the form of the page gives it, in the layout of package time.
const monthForm = "2006-01"

// NumberOf builds the number of a boat from the maker's code and country of the book and the serial and month of the
// details. The market, by the word of a region's limits, decides whether the country is part of it, and by which law it
// is put on.
func NumberOf(e *engine.Engine, market string, d Details) HullNumber {
	// all that is missing at once: whoever fills in the form wants to do it in one go
	maker := e.Pack.Selling.Maker
	n := HullNumber{Places: capacity.HINPlaces(market, true)}
	if maker.Code == "" {
		n.Missing = append(n.Missing, msg.New("quote.no-maker"))
	}
	if maker.Code != "" && maker.Country == "" && capacity.NeedsCountry(market) {
		n.Missing = append(n.Missing, msg.New("quote.no-country"))
	}
	if d.Serial == "" {
		n.Missing = append(n.Missing, msg.New("quote.no-serial"))
	}
	if d.Built == "" {
		n.Missing = append(n.Missing, msg.New("quote.no-month"))
	}
	if len(n.Missing) > 0 {
		return n
	}
	month, err := time.Parse(monthForm, d.Built)
	if err != nil {
		n.Missing = append(n.Missing, msg.New("quote.not-a-month", cut("month", d.Built)))
		return n
	}
	// the year of the model is taken for that of building, as the yard sells what it builds
	hin, err := capacity.BuildHIN(capacity.Identity{Country: maker.Country, Manufacturer: maker.Code, Serial: d.Serial,
		Year: month.Year(), Month: month.Month(), ModelYear: month.Year()})
	if err != nil {
		n.Missing = append(n.Missing, msg.New("quote.number-fault", msg.Words("fault", msg.Of(err))))
		return n
	}
	n.Number, n.Full = hin.String(), hin.Full()
	return n
}
