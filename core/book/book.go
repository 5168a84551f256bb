// Package book holds a yard's price book as its owner writes it: hulls, slots, options, rules, materials, shops,
// operations, regions and terms, each with the place in the files where it stands.
//
// [Book.Validate] finds everything that is wrong without evaluating a formula, and says each time where and what would
// be right. Formulas are kept as text here; package core/publish checks and lowers them. Reading the files is the work
// of core/book/source. None of these packages is in the page.
package book

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
)

// Book is everything that the files hold. Field tags name the keys; see rules/README.md.
type Book struct {
	// Who builds and quotes.
	Yard Yard `yaml:"yard,required"`
	// Name and date of this state of the book; every quotation bears them.
	Edition Edition `yaml:"edition,required"`
	// Languages that the texts of the book are in, the first one first, as tags of BCP 47: en, nl. Without them every
	// text is in the one language of the book.
	Languages []Text `yaml:"languages" json:",omitempty"`
	// What the texts say in the other languages: by language, then by the text of the first one. The texts that are
	// translated have these words, and so has the digest.
	Translations Translations `yaml:"translations" json:"-"`
	// Currency of all amounts, an alphabetic code of ISO 4217.
	Currency Text `yaml:"currency,required"`
	// How amounts are rounded, and to what step prices go.
	Rounding Rounding `yaml:"rounding,required"`
	// How sell prices follow from costs where an item says nothing else.
	Pricing Pricing `yaml:"pricing,required"`
	// Shares for what no boat alone causes: rent, tools, office.
	Overhead Overhead `yaml:"overhead"`
	// Share added to materials, labour and overhead for what goes wrong.
	Contingency Rate `yaml:"contingency"`
	// How far a salesperson may go below the list.
	Discounts Discounts `yaml:"discounts"`
	// Who else sells the boats, each with his own authority and commission.
	Dealers []Dealer `yaml:"dealers" json:",omitempty"`
	// Days for which a quotation holds.
	ValidityDays Number `yaml:"validity_days"`
	// Days within which a payment is made after it became due; at once where not given.
	PaymentDays Number `yaml:"payment_days"`
	// How each device numbers its quotations, with {year}, {device} and {count} in the text.
	QuotationNumbers Text `yaml:"quotation_numbers"`
	// Payments from order to hand-over; their shares add up to 1.
	Stages []Stage `yaml:"stages"`
	// How and where the boat is handed over, for the quotation.
	Delivery []Text `yaml:"delivery"`
	// What the price does not contain.
	Exclusions []Text `yaml:"exclusions"`
	// What the yard answers for and how long, a sentence each, for the quotation.
	Warranty []Text `yaml:"warranty"`
	// Terms of payment and delivery, a sentence each, for the quotation.
	Terms []Text `yaml:"terms"`
	// What the customer signs, above the signature.
	Acceptance Text `yaml:"acceptance"`
	// What has to be read beside figures and drawings: that they are preliminary, and who decides.
	Cautions []Text `yaml:"cautions"`
	// Words of the trade that the page explains where they stand.
	Glossary []Entry `yaml:"glossary"`
	// Chapters of the specification, in the order in which a boat is built.
	Sections []Section `yaml:"sections"`
	// Numbers that every hull gives in its dimensions; formulas read them as hull.ID.
	HullFields []Field `yaml:"hull_fields"`
	// What a buyer states of the use; formulas read it as use.ID.
	Use []UseField `yaml:"use"`
	// Numbers of the finished boat; formulas read them as figures.ID.
	Figures []Figure `yaml:"figures"`
	// Where a boat may go, each with its tax and the limits that hold there.
	Regions []Region `yaml:"regions"`
	// Departments of the yard with their people, hours and rates.
	Shops []Shop `yaml:"shops"`
	// What is occupied by work on one boat and not used up: moulds, a test tank, a cutting table.
	Equipment []Equipment `yaml:"equipment"`
	// Steps of the build, each done in one shop.
	Operations []Operation `yaml:"operations"`
	// Units of the yard's own, for materials and figures.
	Units []Unit `yaml:"units" json:",omitempty"`
	// What the yard buys, each with unit and cost.
	Materials []Material `yaml:"materials"`
	// The boats that the yard moulds; a book has at least one.
	Hulls []Hull `yaml:"hulls"`
	// Tables of offsets, at most one for a hull: what floating and stability are computed from.
	Offsets []Offsets `yaml:"offsets"`
	// Power over speed as measured, at most one table for a hull: what speed and range follow from.
	Trials []Trial `yaml:"trials"`
	// Lay-ups of glass and resin; they become materials of the base boats.
	Laminates []Laminate `yaml:"laminates"`
	// Pieces that are cut from rolls or sheets.
	Cuts []Cut `yaml:"cuts"`
	// DC circuits, from which cables, fuses and the loom follow.
	Circuits []Circuit `yaml:"circuits"`
	// Cables that the yard keeps, by section.
	Wires []Wire `yaml:"wires"`
	// Fuses that the yard keeps, by current and voltage.
	Fuses []FuseSize `yaml:"fuses"`
	// Battery switches that the yard keeps, by current.
	Switches []Switch `yaml:"switches"`
	// Places in the boat, each with the options that can stand there.
	Slots []Slot `yaml:"slots"`
	// List prices that several options have.
	PriceGroups []PriceGroup `yaml:"price_groups" json:",omitempty"`
	// Options that cost less together.
	Packages []Package `yaml:"packages" json:",omitempty"`
	// What several options have alike.
	Parts []Part `yaml:"parts" json:",omitempty"`
	// What must hold of every boat, with the reason that a buyer is told.
	Rules []Rule `yaml:"rules"`
	// What a buyer may ask for when boats are searched by needs.
	Brief Brief `yaml:"brief"`

	lines  map[string][]string // of its files, for diagnostics
	damage damage              // what reading left out
}

// Digest identifies an edition: SHA-256 over the values of the book, in hexadecimal. Comments, layout and the division
// into files do not change it, nor does the order of files as long as that of the lists stays.
func (b *Book) Digest() string {
	text, err := json.Marshal(b)
	if err != nil { // every type here marshals
		panic(fmt.Sprintf("taking the digest of a book: %v", err))
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
