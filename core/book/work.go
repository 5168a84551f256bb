package book

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// Work: in which shops, by how many people and with which equipment a boat is built, in which order, and how what is
// done is checked. The yard's desk alone reads it, but for the titles and rates that costs follow from.

// Shop is a department: people with one calendar and one rate.
type Shop struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What it is called.
	Title Text `yaml:"title,required"`
	// How many people work there.
	People Number `yaml:"people,required"`
	// Hours that each of them works in a day: a number, which holds from Monday to Friday, or by day:
	// {mon: 8, tue: 8, wed: 8, thu: 8, fri: 6}.
	HoursDay HoursDay `yaml:"hours_day,required"`
	// What only some of its people can do.
	Skills []Skill `yaml:"skills"`
	// Days on which this shop is closed beside those of the yard, written as there.
	Closed []Text `yaml:"closed"`
	// Money an hour.
	Rate Money `yaml:"rate,required"`
	// Drawings and lists on the shop's own card.
	Papers []Text `yaml:"papers"`
}

// HoursDay are the hours that one person works in a day: the same from Monday to Friday, or by day.
type HoursDay struct {
	// Hours from Monday to Friday, where they are the same.
	All Number
	// Hours by day, one of [Weekdays]; a day that is not named is free.
	ByDay Pairs[Number]
	// Where it stands.
	At Position `json:"-"`
}

// Weekdays are the days as a book names them, Monday first.
var Weekdays = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

// Week are the hours of one person by day, Monday first.
func (h *HoursDay) Week() (week [7]float64) {
	for day := range 5 {
		week[day] = h.All.Value
	}
	for _, p := range h.ByDay {
		if day := slices.Index(Weekdays, p.Key.Value); day >= 0 {
			week[day] = p.Value.Value
		}
	}
	return week
}

// HoursWeek are the hours of all people of a shop together in a week without a day closed.
func (s *Shop) HoursWeek() (sum float64) {
	for _, h := range s.HoursDay.Week() {
		sum += h
	}
	return s.People.Value * sum
}

// Skill is what only some people of a shop can do.
type Skill struct {
	// Identifier, lower-case with hyphens, within its shop.
	ID Text `yaml:"id,required"`
	// Who has it is called so: laminator, welder.
	Title Text `yaml:"title,required"`
	// How many of the shop's people have it.
	People Number `yaml:"people,required"`
}

// Days reads a day, or a period with its first and last day: 2027-12-24..2028-01-02.
func Days(text string) (first, last time.Time, err error) {
	from, to, period := strings.Cut(text, "..")
	if first, err = time.Parse(time.DateOnly, from); err != nil {
		return first, last, fmt.Errorf("%q is no day of the calendar", from)
	}
	if !period {
		return first, first, nil
	}
	if last, err = time.Parse(time.DateOnly, to); err != nil {
		return first, last, fmt.Errorf("%q is no day of the calendar", to)
	}
	if last.Before(first) {
		return first, last, fmt.Errorf("%s is before %s", to, from)
	}
	return first, last, nil
}

// Spread is how far the hours of an operation may fall short of or exceed those of the book, which are the most likely
// ones: factors of a PERT estimate.
//
// Source: D. G. Malcolm and others, Application of a technique for research and development program evaluation,
// Operations Research 7 (1959), 646-669.
type Spread struct {
	// Factor of the hours where all goes well, above 0 and at most 1.
	Low Number `yaml:"low,required"`
	// Factor of the hours where much goes wrong, at least 1.
	High Number `yaml:"high,required"`
	// Where it stands.
	At Position `json:"-"`
}

// Equipment is what a boat occupies while it is worked on, or for longer: a mould, the test tank, a bench.
type Equipment struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What it is called.
	Title Text `yaml:"title,required"`
	// What operations call it, where several hulls have one each: hull-mould for hull-mould-46 and hull-mould-54. Its
	// identifier where not given.
	Kind Text `yaml:"kind"`
	// How many alike the yard has; 1 where not given.
	Count Number `yaml:"count"`
	// Hulls that it serves; all where not given.
	Hulls []Text `yaml:"hulls"`
}

// Name is what operations call the equipment.
func (e *Equipment) Name() string {
	if e.Kind.Value != "" {
		return e.Kind.Value
	}
	return e.ID.Value
}

// Operation is one step of the build, in one shop or by a supplier.
type Operation struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What is done, as on the card of the shop.
	Title Text `yaml:"title,required"`
	// The shop that does it; none for what is subcontracted.
	Shop Text `yaml:"shop"`
	// The supplier that does it in place of a shop, outside the yard: no hour and no place of the yard is taken.
	Subcontracted *Subcontract `yaml:"subcontracted" json:",omitempty"`
	// How many people of the shop are at it at once, 1 where not given. Hours stay those of one person: two people
	// are at 6 hours of work for 3 hours.
	Crew Number `yaml:"crew"`
	// Skill of the shop that all of the crew must have.
	Skill Text `yaml:"skill"`
	// How far its hours spread, if not as the yard's.
	Spread *Spread `yaml:"spread"`
	// Operations that must be done before it, each perhaps with the time that has to pass between.
	After []Predecessor `yaml:"after"`
	// Equipment that the boat occupies while this is worked on.
	Uses []Text `yaml:"uses"`
	// Equipment that the boat occupies from the begin of this on, each with the operation whose end gives it free.
	Holds Holds `yaml:"holds"`
	// What is shared by boats in a row, for which setup_hours are worked once: hull, for boats of the same hull, or
	// colour, for boats on which the same options cause it.
	Batch Text `yaml:"batch"`
	// Hours of one person of its hours that set it up: cleaning a gun, changing a colour.
	SetupHours Number `yaml:"setup_hours"`
	// What is to be done, for the shop's card: a short sentence each.
	Steps []Text `yaml:"steps"`
	// Values that the shop fills in on its card.
	Checks []Check `yaml:"checks"`
}

// Subcontract is work that a supplier does: welding, galvanising, upholstery, a survey. The boat, or the part of it, is
// with him in the meantime.
type Subcontract struct {
	// Who does it, as the supplier of a material is called.
	Supplier Text `yaml:"supplier,required"`
	// What the supplier takes for one unit of it, before tax.
	Price Money `yaml:"price,required"`
	// The unit that the price is of; each where not given, for a piece of work as a whole.
	Unit Text `yaml:"unit"`
	// Days of work from the moment at which it goes out until it is back: Monday to Friday, but for those on which the
	// yard is closed.
	Days Number `yaml:"days,required"`
	// Where it stands.
	At Position `json:"-"`
}

// UnitOf is the unit that the price is of.
func (s *Subcontract) UnitOf() string {
	if s.Unit.Value != "" {
		return s.Unit.Value
	}
	return "each"
}

// Predecessor is an operation that must be done before another, with what time has to pass between the end of the one
// and the begin of the other: hours by the clock, in which nobody works. Resin cures at night, too.
type Predecessor struct {
	// The operation that must be done before.
	Operation Text `yaml:"id,required"`
	// Hours by the clock that must pass at least; 0 where not given.
	WaitHours Number `yaml:"wait_hours"`
	// Hours by the clock that may pass at most, as for the next coat; no bound where not given.
	WithinHours Number `yaml:"within_hours"`
	// Where it stands.
	At Position `json:"-"`
}

// Holds are equipment, each with the operation whose end gives it free.
type Holds []Hold

// Hold is equipment that stays occupied until the end of a later operation.
type Hold struct {
	// What is occupied.
	Equipment Text
	// The operation whose end gives it free.
	Until Text
}

// Check is a value that a shop measures or notes, and fills in on its card.
type Check struct {
	// Identifier, lower-case with hyphens, within its operation.
	ID Text `yaml:"id,required"`
	// What is to be filled in.
	Title Text `yaml:"title,required"`
	// Unit of the value, one of those of package measure; none for what is noted in words.
	Unit Text `yaml:"unit"`
	// The least value that is good, in the unit; no bound where not given.
	Least Number `yaml:"least"`
	// The greatest value that is good, in the unit; no bound where not given.
	Most Number `yaml:"most"`
	// The figure of the boat that predicts the value, in the same unit; it stands beside it.
	Figure Text `yaml:"figure"`
}
