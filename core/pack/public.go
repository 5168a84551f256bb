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
	Words        map[string]map[string]string `json:"words,omitempty"`
	Yard         YardInfo                     `json:"yard"`
	Edition      Edition                      `json:"edition"`
	Currency     string                       `json:"currency"` // ISO 4217
	Rounding     money.Mode                   `json:"rounding"`
	ValidityDays int                          `json:"validity"`             // of a quotation
	Stages       []Stage                      `json:"stages,omitempty"`     // of payment
	Delivery     []string                     `json:"delivery,omitempty"`   // paragraphs of a quotation, like the following
	Exclusions   []string                     `json:"exclusions,omitempty"` // what is not in the price
	Warranty     []string                     `json:"warranty,omitempty"`
	Terms        []string                     `json:"terms,omitempty"`
	Acceptance   string                       `json:"acceptance,omitempty"` // above the customer's signature
	Cautions     []string                     `json:"cautions,omitempty"`   // at the foot of page and papers
	Sections     []Section                    `json:"sections"`             // in build order
	HullFields   []Field                      `json:"hull_fields"`
	Use          []UseField                   `json:"use"`
	Figures      []Figure                     `json:"figures"` // that every desk knows
	Regions      []Region                     `json:"regions"`
	RegionField  int                          `json:"region"` // index of the use field that chooses a region; -1 where the book has none
	Hulls        []Hull                       `json:"hulls"`
	Slots        []Slot                       `json:"slots"` // in build order
	Options      []Option                     `json:"options"`
	Rules        []Rule                       `json:"rules"`
	Brief        *Brief                       `json:"brief,omitempty"`    // what may be wished for; nil where the book has none
	Circuits     []Circuit                    `json:"circuits,omitempty"` // those alone from which public figures follow
	// sizes of cables, fuses and switches that the yard keeps; of what materials, the costs say
	Stock  Stock   `json:"stock,omitzero"`
	Prices *Prices `json:"prices,omitempty"` // net sell prices; nil before they are listed
}

// YardInfo is who builds and quotes.
type YardInfo struct {
	Name    string   `json:"name"`
	Note    string   `json:"note,omitempty"`
	Address []string `json:"address,omitempty"`
	Email   string   `json:"email,omitempty"`
	Phone   string   `json:"phone,omitempty"`

	Register  string `json:"register,omitempty"` // of trade, with the number in it
	TaxNumber string `json:"tax_number,omitempty"`
	Bank      Bank   `json:"bank,omitzero"`
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
	Name   string `json:"name"`
	Date   string `json:"date"`   // 2006-01-02
	Digest string `json:"digest"` // SHA-256 of the public part without it, in hexadecimal
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

// UseField is something that a buyer states: a number in Unit from Min to Max by Step, or one of the choices.
type UseField struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	Unit     string   `json:"unit,omitempty"`
	Min      float64  `json:"min,omitempty"`
	Max      float64  `json:"max,omitempty"`
	Step     float64  `json:"step,omitempty"`
	Choices  []Choice `json:"choices,omitempty"`
	Standard float64  `json:"standard"` // what is assumed: a number, or the index of a choice
}

// Choice is one of the values of a use field.
type Choice struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// Figure is a total of what is carried, a formula, or a figure that package figures computes.
type Figure struct {
	ID       string          `json:"id"`
	Title    string          `json:"title"`
	Unit     string          `json:"unit"`               // a word of package measure
	Digits   int             `json:"digits,omitempty"`   // behind the point, as it is shown
	Hidden   bool            `json:"hidden,omitempty"`   // only rules and papers read it
	Quoted   bool            `json:"quoted,omitempty"`   // stands on the customer's quotation
	Compared bool            `json:"compared,omitempty"` // shown beside every option, as the difference that it makes
	Short    string          `json:"short,omitempty"`    // the title where there is little room
	Formula  formula.Program `json:"formula"`
	Computed string          `json:"computed,omitempty"` // its name in package figures
}

// Region is where a boat may go.
type Region struct {
	ID        string     `json:"id"`
	Title     string     `json:"title"`
	TaxName   string     `json:"tax"`
	TaxRate   money.Rate `json:"rate"` // share of the net price
	TaxMode   TaxMode    `json:"mode"`
	Condition string     `json:"condition,omitempty"` // under which no tax is charged
	// whose limits hold for road and capacity; empty where none are known
	Limits   string  `json:"limits,omitempty"`
	Latitude float64 `json:"latitude_deg,omitempty"` // north, for panels
	Sunshine float64 `json:"sunshine,omitempty"`     // share of a summer day's daylight; 0 where it is not known
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
	Guard   bool            `json:"guard,omitempty"` // for later changes of the book: no boat of this edition breaks it
}
