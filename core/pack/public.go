package pack

import (
	"ribband/core/formula"
	"ribband/core/money"
)

// Public is the part of a pack that anybody may read: what a boat can be, its figures, and the prices at which it
// sells. Every type that it reaches is public as a whole.
type Public struct {
	// of the book, the first one first, as tags of BCP 47; none where it has one language
	Languages []string `json:"languages,omitempty"`
	// in the other languages of the book, by language and place, see [Pack.In]
	Words    map[string]map[string]string `json:"words,omitempty"`
	Yard     YardInfo                     `json:"yard"`
	Edition  Edition                      `json:"edition"`
	Currency string                       `json:"currency"` // ISO 4217
	Rounding money.Mode                   `json:"rounding"`
	// of a quotation
	ValidityDays int `json:"validity"`
	// by which quotations are verified: whatever else signs them is not this yard
	SigningKeys []SigningKey `json:"signing_keys,omitempty"`
	// without use, after which a sealed desk is locked; 0 where the book does not say
	LockMinutes int `json:"lock_minutes,omitempty"`
	// of payment
	Stages []Stage `json:"stages,omitempty"`
	// paragraphs of a quotation, like the following
	Delivery []string `json:"delivery,omitempty"`
	// what is not in the price
	Exclusions []string `json:"exclusions,omitempty"`
	Warranty   []string `json:"warranty,omitempty"`
	Terms      []string `json:"terms,omitempty"`
	// above the customer's signature
	Acceptance string `json:"acceptance,omitempty"`
	// at the foot of page and papers
	Cautions []string `json:"cautions,omitempty"`
	// words of the trade, for the page alone: no paper and no computation reads them
	Glossary []Entry `json:"glossary,omitempty"`
	// in build order
	Sections   []Section  `json:"sections"`
	HullFields []Field    `json:"hull_fields"`
	Use        []UseField `json:"use"`
	Figures    []Figure   `json:"figures"` // that every desk knows
	Regions    []Region   `json:"regions"`
	// index of the use field that chooses a region; -1 where the book has none
	RegionField int      `json:"region"`
	Hulls       []Hull   `json:"hulls"`
	Slots       []Slot   `json:"slots"` // in build order
	Options     []Option `json:"options"`
	Rules       []Rule   `json:"rules"`
	// what may be wished for; nil where the book has none
	Brief *Brief `json:"brief,omitempty"`
	// those alone from which public figures follow
	Circuits []Circuit `json:"circuits,omitempty"`
	// sizes of cables, fuses and switches that the yard keeps; of what materials, the costs say
	Stock Stock `json:"stock,omitzero"`
	// net sell prices; nil before they are listed
	Prices *Prices `json:"prices,omitempty"`
	// of options of which a number is left: what is sold out, and what the book shows; no part of the edition
	Left []Left `json:"left,omitempty"`
	// nil where the book keeps launch weeks from buyers; no part of the edition, see [Load]
	LaunchWeeks *LaunchWeeks `json:"launch_weeks,omitempty"`
}

// Left is how many of an option are left.
type Left struct {
	Option int `json:"option"`
	Count  int `json:"count"` // 0: nobody can have it
}

// LeftOf is how many of an option are left; -1 where there are enough, or where nobody is told.
func (p *Public) LeftOf(option int) int {
	for _, l := range p.Left {
		if l.Option == option {
			return l.Count
		}
	}
	return -1
}

// MostOf is how many of an option can be chosen: as many as the book allows, and no more than it says are left.
func (p *Public) MostOf(option int) int {
	most := p.Options[option].Most
	if left := p.LeftOf(option); left >= 0 {
		return min(most, left)
	}
	return most
}

// LaunchWeeks are when boats could be launched at the earliest, in whole weeks and without an hour of any shop.
type LaunchWeeks struct {
	Day     string `json:"day"`     // on which that is counted
	Hulls   []int  `json:"hulls"`   // weeks from that day's until the launch of the standard build
	Options []int  `json:"options"` // weeks later with an option on it, on the hull where that is most
}

// Weeks are those until the launch of a boat at the earliest: its standard build, and of its options the one that takes
// longest. That several take longer together is not known here.
func (l *LaunchWeeks) Weeks(hull int, counts []int) int {
	later := 0
	for o, n := range counts {
		if n > 0 {
			later = max(later, l.Options[o])
		}
	}
	return l.Hulls[hull] + later
}

// Entry is a word of the trade, what it means, and how else it is written.
type Entry struct {
	Word  string   `json:"word"`
	Means string   `json:"means"`
	Forms []string `json:"forms,omitempty"`
}

// YardInfo is who builds and quotes.
type YardInfo struct {
	Name    string   `json:"name"`
	Note    string   `json:"note,omitempty"`
	Address []string `json:"address,omitempty"`
	Email   string   `json:"email,omitempty"`
	Phone   string   `json:"phone,omitempty"`
	Page    string   `json:"page,omitempty"` // address of the buyer's page, https
	// Enquiry is the address on the yard's own host to which a buyer's form is posted; "" for none
	Enquiry string `json:"enquiry,omitempty"`

	Register  string `json:"register,omitempty"` // of trade, with the number in it
	TaxNumber string `json:"tax_number,omitempty"`
	Bank      Bank   `json:"bank,omitzero"`
}

// SigningKey is a public key as a JWK of RFC 8037: the page hands it to the browser as it is.
type SigningKey struct {
	Type  string `json:"kty"` // OKP
	Curve string `json:"crv"` // Ed25519
	X     string `json:"x"`   // base64url
}

// Bank is where customers pay to; the IBAN in groups of four.
type Bank struct {
	Name string `json:"name,omitempty"`
	IBAN string `json:"iban,omitempty"`
	BIC  string `json:"bic,omitempty"`
}

// Edition names the book that the pack was made from. Its digest is that of the public part, the same for all desks:
// nothing private can be guessed from it.
type Edition struct {
	Name string `json:"name"`
	Date string `json:"date"` // 2006-01-02
	// the last day on which its prices hold, and what is sold is sold; empty: without end
	Until string `json:"until,omitempty"`
	// SHA-256 of the public part without it, in hexadecimal
	Digest string `json:"digest"`
}

// Stage is one part of the payment.
type Stage struct {
	ID    string     `json:"id"`
	Title string     `json:"title"`
	Share money.Rate `json:"share"` // of the price; those of all stages come to 1
}

// Section is a chapter of the specification.
type Section struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Note  string `json:"note,omitempty"`
}

// Field is a number that every hull gives.
type Field struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Unit   string `json:"unit"`             // a word of package measure
	Quoted bool   `json:"quoted,omitempty"` // stands on the customer's quotation
}

// UseField is something that a buyer states, from which figures, rules and prices may follow: a number in Unit from Min
// to Max by Step, or one of the choices.
type UseField struct {
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Unit    string   `json:"unit,omitempty"`
	Min     float64  `json:"min,omitempty"`
	Max     float64  `json:"max,omitempty"`
	Step    float64  `json:"step,omitempty"`
	Choices []Choice `json:"choices,omitempty"`
	// what is assumed: a number, or the index of a choice
	Standard float64 `json:"standard"`
}

// Choice is one of the values of a use field.
type Choice struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// Figure is a total of what is carried, a formula, or a figure that package figures computes.
type Figure struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Unit  string `json:"unit"` // a word of package measure
	// whose boats have it; none named means all
	Hulls []int `json:"hulls,omitempty"`
	// behind the point, as it is shown
	Digits int `json:"digits,omitempty"`
	// only rules and papers read it
	Hidden bool `json:"hidden,omitempty"`
	// stands on the customer's quotation
	Quoted bool `json:"quoted,omitempty"`
	// shown beside every option, as the difference that it makes
	Compared bool `json:"compared,omitempty"`
	// the title where there is little room
	Short    string          `json:"short,omitempty"`
	Formula  formula.Program `json:"formula"`
	Computed string          `json:"computed,omitempty"` // its name in package figures
}

// Region is where a boat may go. Its tax decides what a price is shown as; its limits, what is marked on the boat and
// how it may travel; its climate, what panels give.
type Region struct {
	ID        string     `json:"id"`
	Title     string     `json:"title"`
	TaxName   string     `json:"tax"`
	TaxRate   money.Rate `json:"rate"` // share of the net price
	TaxMode   TaxMode    `json:"mode"`
	Condition string     `json:"condition,omitempty"` // under which no tax is charged
	// in which totals stand beside those of the book; nil: none
	Currency *Exchange `json:"currency,omitempty"`
	// whose limits hold for road and capacity; empty where none are known
	Limits   string  `json:"limits,omitempty"`
	Latitude float64 `json:"latitude_deg,omitempty"` // north, for panels
	// share of a summer day's daylight; 0 where it is not known
	Sunshine float64 `json:"sunshine,omitempty"`
}

// Exchange is another currency with its rate of a day.
type Exchange struct {
	Code string     `json:"code"` // ISO 4217
	Rate money.Rate `json:"rate"` // what one unit of the book's currency is worth
	Date string     `json:"date"` // 2006-01-02
}

// TaxMode says how a region's tax stands to its prices.
type TaxMode string

const (
	Inclusive TaxMode = "inclusive" // prices are shown with tax
	Exclusive TaxMode = "exclusive" // tax is added below
	Zero      TaxMode = "zero"      // no tax is charged, on a condition
)

// Rule is a condition with its reason.
type Rule struct {
	ID      string          `json:"id"`
	When    formula.Program `json:"when"` // empty: always
	Need    formula.Program `json:"need"`
	Because string          `json:"because"`
	Advice  string          `json:"advice,omitempty"`
	// for later changes of the book: no boat of this edition breaks it
	Guard bool `json:"guard,omitempty"`
}
