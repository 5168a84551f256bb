package quote

import (
	"fmt"
	"strings"
	"time"

	"ribband/core/capacity"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/msg"
	"ribband/core/pack"
)

// LimitsUS is the word of a region whose boats the United States' rules rule.
const LimitsUS = "us"

// HullNumber is the hull identification number, or what is missing to build it.
type HullNumber struct {
	Number  string        `json:"number,omitempty"` // twelve characters
	Full    string        `json:"full,omitempty"`   // with the country
	Missing []string      `json:"missing,omitempty"`
	Places  []NumberPlace `json:"places"`
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
			return fmt.Errorf("hull_serial: %s", OneLine(err))
		}
	}
	if d.Built != "" {
		if _, err := time.Parse(monthForm, d.Built); err != nil {
			return fmt.Errorf("hull_built %.40q is no month: write it as 2027-03", d.Built)
		}
	}
	if e.Pack.Can(pack.Quotations) && d.Serial != "" && d.Built != "" && e.Pack.Costs.Maker.Code != "" {
		if n := NumberOf(e, d); n.Number == "" {
			return fmt.Errorf("the hull identification number cannot be built: %s",
				strings.TrimSuffix(strings.Join(n.Missing, " "), "."))
		}
	}
	if d.ListTestKg == 0 && d.ListedPersons == 0 {
		return nil
	}
	region := e.Region(b)
	if region == nil || region.Limits != LimitsUS {
		return nil // not marked there; the details keep what was measured
	}
	if _, _, err := e.Figures.Capacity(b.State, d.Plates()); err != nil {
		return fmt.Errorf("the capacity label: %s", OneLine(err))
	}
	return nil
}

const monthForm = "2006-01"

// OneLine is an error without its line breaks.
func OneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", " ") }

// NumberPlace is where the hull number is put on the boat, in words.
type NumberPlace struct {
	Name     string `json:"name"`
	Where    string `json:"where"`
	Section  string `json:"section"`
	Standing string `json:"status"`
}

func places(l *msg.Language) (list []NumberPlace) {
	for _, p := range capacity.HINPlaces(true) {
		list = append(list, NumberPlace{l.Text(p.Name), l.Text(p.Where), p.Section, l.Text(p.Standing)})
	}
	return list
}

// NumberOf builds the number from the maker's code of the book and the serial and month of the details.
func NumberOf(e *engine.Engine, d Details) HullNumber {
	n := HullNumber{Places: places(msg.English)}
	maker := e.Pack.Costs.Maker
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
		n.Missing = append(n.Missing, OneLine(err)+".")
		return n
	}
	n.Number, n.Full = hin.String(), hin.Full()
	return n
}
