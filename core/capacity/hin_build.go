package capacity

import (
	"fmt"
	"time"
)

// Identity is what a hull identification number is made of.
type Identity struct {
	Country      string // two capitals of ISO 3166-1, such as US or GB; empty for none
	Manufacturer string // code assigned to the maker by the Coast Guard or the country's body
	Serial       string // five characters, see [SerialOf]
	Year         int    // of manufacture or certification, four digits
	Month        time.Month
	ModelYear    int // four digits
}

// SerialOf writes a running number as a serial number of five digits with zeros before it.
//
// Valid: 0 to 99 999. Source: 33 CFR 181.25(b).
func SerialOf(n int) (string, error) {
	if n < 0 || n > 99_999 {
		return "", fmt.Errorf("writing serial number %d: five digits hold 0 to 99999; begin a series with a letter, "+
			"like A0001", n)
	}
	return fmt.Sprintf("%05d", n), nil
}

// CheckSerial says what is wrong with a serial number.
//
// Valid: five capitals and digits without I, O and Q. Source: 33 CFR 181.25(b).
func CheckSerial(serial string) error {
	r := hinReader{text: serial}
	r.serial(serial, 0)
	return r.err("reading serial number")
}

// BuildHIN makes a hull identification number. The date is that of certification where one is required, else of
// manufacture: no earlier than building began, no later than the boat left the works. No number may be given twice;
// the yard's register sees to that, not this function.
//
// Valid: years 1985 to 2099; model year from the year before to the year after that of manufacture (our choice, so that
// the last digits can be checked; the rule sets no limit). Source: 33 CFR 181.23(c), 181.25; ISO 10087, from memory.
func BuildHIN(id Identity) (HIN, error) {
	in := inputs{doing: "building a hull identification number"}
	in.number("the year", float64(id.Year), 1985, 2099, "", "give four digits")
	if id.Month < time.January || id.Month > time.December {
		in.wrong("month %d: give 1 to 12", int(id.Month))
	}
	if d := id.ModelYear - id.Year; d < -1 || d > 1 {
		in.wrong("model year %d is not within a year of %d: give four digits, and check both", id.ModelYear, id.Year)
	}
	if err := in.err(); err != nil {
		return HIN{}, err
	}
	h := HIN{id.Country, id.Manufacturer, id.Serial, id.Month, id.Year % 10, id.ModelYear % 100}
	r := hinReader{text: h.Full()}
	if id.Country != "" {
		r.country(id.Country, 0)
	}
	r.manufacturer(id.Manufacturer, id.Country, 0)
	r.serial(id.Serial, 0)
	if err := r.err(in.doing); err != nil {
		return HIN{}, err
	}
	return h, nil
}
