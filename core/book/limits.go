package book

import "fmt"

// Limit is where a number of a launch's book becomes doubtful: a judgement, with its reason. A limit warns and never
// refuses by itself.
type Limit struct {
	Least, Most  float64
	Unit, Reason string
}

// Limits are all judgements over plain sizes in one place. They are wide: what lies beyond is far more often a slip of
// the unit or the decimal point than meant. Where no source is named they are common practice.
var Limits = struct {
	People, HoursDay, Hours, ShopWeeks, LeadDays, OutsideDays, Waste, Pack           Limit
	ValidityDays, PaymentDays, ClosedDays, WaitHours, SpreadHigh                     Limit
	Length, Beam, Depth, BaseMass, OptionMass                                        Limit
	CableMM2, TimberThickness, TimberWidth, TimberLength, FoamThickness, FoamDensity Limit
	CoatCover, Coats, Volts, Run, Amps, LockMinutes                                  Limit
}{
	People:   Limit{1, 50, "people", "a yard that builds launches to order has fewer in one shop"},
	HoursDay: Limit{1, 12, "h", "one shift; a second one is more people"},
	Hours: Limit{0, 1000, "h", "a person works some 1700 hours in a year, and no operation on a launch takes " +
		"half of that"},
	ShopWeeks:    Limit{0, 52, "weeks", "no shop works a year on one launch"},
	LeadDays:     Limit{0, 366, "days", "that is a year"},
	OutsideDays:  Limit{0, 260, "working days", "that is a year"},
	Waste:        Limit{0, 1, "", "more would be thrown away than is built in; 15 % is 0.15"},
	Pack:         Limit{0.001, 10000, "units of the material", "no supplier of a boatyard packs more"},
	ValidityDays: Limit{1, 366, "days", "a quotation seldom holds for more than a year"},
	PaymentDays:  Limit{0, 90, "days", "a yard that waits for longer lends its customers the boat"},
	ClosedDays:   Limit{1, 60, "days", "a yard that is closed for longer has most likely another year in mind"},
	WaitHours:    Limit{0, 1000, "h by the clock", "that is six weeks: resin, paint and glue have cured long before"},
	SpreadHigh:   Limit{1, 5, "times the hours", "what takes five times as long as planned is another work"},
	LockMinutes:  Limit{1, 120, "minutes", "a device that lies about longer is read by whoever finds it"},

	Length: Limit{2, 24, "m", "small craft end at 24 m (ISO 8666, from memory)"},
	Beam:   Limit{0.5, 8, "m", "small craft of up to 24 m are seldom wider"},
	Depth:  Limit{0.2, 5, "m", "small craft of up to 24 m are seldom deeper"},
	BaseMass: Limit{8, 400, "kg for a square metre of length times beam",
		"an open canoe has some 10, a laden steel barge 300"},
	OptionMass: Limit{0, 2, "times the base boat",
		"lead batteries for a long range may outweigh a bare hull, and nothing else does"},

	CableMM2: Limit{0.3, 300, "mm²", "conductors of small craft go from 0.5 to 240 mm² (sections of IEC 60228, " +
		"from memory)"},
	TimberThickness: Limit{1, 300, "mm", "veneer begins below and no log of a launch is thicker"},
	TimberWidth:     Limit{2, 1500, "mm", "no board is wider"},
	TimberLength:    Limit{0.02, 20, "m", "no board is longer"},
	FoamThickness:   Limit{1, 500, "mm", "no sheet is thicker"},
	FoamDensity:     Limit{10, 300, "kg/m³", "foams of seats weigh 20 to 80"},
	CoatCover:       Limit{1, 40, "m²/l", "paint, varnish and oil cover 4 to 20"},
	Coats:           Limit{1, 30, "coats", "nobody varnishes more often"},
	Volts:           Limit{3, 1000, "V", "DC systems of small craft have 12 to 800 V"},
	Run:             Limit{0.1, 100, "m", "that is four times around a boat of 24 m"},
	Amps:            Limit{0.001, 2000, "A", "a motor of 20 kW at 12 V takes 1700 A"},
}

// MostQuantity is how much of a material a single item of a launch can take, by its unit: more is mostly another unit
// than the formula was written for.
var MostQuantity = map[string]Limit{
	"m3": {0, 5, "m³", "that is some 3 t of timber"}, "m2": {0, 500, "m²", "the shell of a launch has some 30"},
	"m":  {0, 5000, "m", "that is four cones of thread"},
	"kg": {0, 3000, "kg", "a whole launch weighs less"}, "l": {0, 1000, "l", "a launch takes some 20 l of paint"},
	"each": {0, 5000, "pieces", "nobody fits as many"}, "set": {0, 200, "sets", "nobody fits as many"},
	"pair": {0, 200, "pairs", "nobody fits as many"},
}

// Holds says whether a number is within the limit.
func (l Limit) Holds(x float64) bool { return x >= l.Least && x <= l.Most }

// Advice says what is usual and why.
func (l Limit) Advice() string {
	unit := ""
	if l.Unit != "" {
		unit = " " + l.Unit
	}
	return fmt.Sprintf("%g to %g%s are to be expected: %s", l.Least, l.Most, unit, l.Reason)
}

// within warns of a number beyond its limit.
func (v *validation) within(n Number, l Limit, what string) {
	if n.Given() && !l.Holds(n.Value) {
		v.warn(n.At, l.Advice(), "%s is %g", what, n.Value)
	}
}
