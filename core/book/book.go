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
	Yard         Yard        `yaml:"yard,required"`
	Edition      Edition     `yaml:"edition,required"`
	Currency     Text        `yaml:"currency,required" doc:"alphabetic code of ISO 4217"`
	Rounding     Rounding    `yaml:"rounding,required"`
	Pricing      Pricing     `yaml:"pricing,required"`
	Overhead     Overhead    `yaml:"overhead"`
	Contingency  Rate        `yaml:"contingency" doc:"share added to materials, labour and overhead"`
	Discounts    Discounts   `yaml:"discounts"`
	ValidityDays Number      `yaml:"validity_days" doc:"days for which a quote holds"`
	Stages       []Stage     `yaml:"stages"`
	Delivery     []Text      `yaml:"delivery" doc:"how and where the boat is handed over, for the quotation"`
	Exclusions   []Text      `yaml:"exclusions" doc:"what the price does not contain"`
	Warranty     []Text      `yaml:"warranty"`
	Terms        []Text      `yaml:"terms"`
	Acceptance   Text        `yaml:"acceptance" doc:"what the customer signs, above the signature"`
	Cautions     []Text      `yaml:"cautions"`
	Sections     []Section   `yaml:"sections"`
	HullFields   []Field     `yaml:"hull_fields"`
	Use          []UseField  `yaml:"use"`
	Figures      []Figure    `yaml:"figures"`
	Regions      []Region    `yaml:"regions"`
	Shops        []Shop      `yaml:"shops"`
	Operations   []Operation `yaml:"operations"`
	Materials    []Material  `yaml:"materials"`
	Hulls        []Hull      `yaml:"hulls"`
	Offsets      []Offsets   `yaml:"offsets"`
	Trials       []Trial     `yaml:"trials"`
	Laminates    []Laminate  `yaml:"laminates"`
	Cuts         []Cut       `yaml:"cuts"`
	Circuits     []Circuit   `yaml:"circuits"`
	Wires        []Wire      `yaml:"wires"`
	Fuses        []FuseSize  `yaml:"fuses"`
	Switches     []Switch    `yaml:"switches"`
	Slots        []Slot      `yaml:"slots"`
	Rules        []Rule      `yaml:"rules"`
	Brief        Brief       `yaml:"brief"`

	lines map[string][]string // of its files, for diagnostics
}

// Yard is who builds and quotes.
type Yard struct {
	Name    Text   `yaml:"name,required"`
	Note    Text   `yaml:"note"`
	Address []Text `yaml:"address"`
	Email   Text   `yaml:"email"`
	Phone   Text   `yaml:"phone"`

	MakerCode Text `yaml:"maker_code" doc:"manufacturer's part of the hull number, three characters"`
	Country   Text `yaml:"country" doc:"country before the hull number, two letters of ISO 3166-1"`

	Register  Text `yaml:"register" doc:"register of companies and number there"`
	TaxNumber Text `yaml:"tax_number" doc:"number for VAT or sales tax"`
	Bank      Bank `yaml:"bank" doc:"where customers pay to"`
}

// Bank is an account.
type Bank struct {
	Name Text `yaml:"name"`
	IBAN Text `yaml:"iban" doc:"ISO 13616, with check digits"`
	BIC  Text `yaml:"bic" doc:"ISO 9362"`
}

// Edition names a state of the book. Its digest is computed.
type Edition struct {
	Name Text `yaml:"name,required"`
	Date Text `yaml:"date,required" doc:"ISO 8601 date"`
}

// Rounding is the policy of the book; see package core/money.
type Rounding struct {
	Mode      Text  `yaml:"mode,required" doc:"half-even or half-up"`
	PriceStep Money `yaml:"price_step,required" doc:"sell prices net of tax are multiples of it"`
}

// Pricing is how a sell price follows from a cost: a margin (share of the price) or a markup (share of the cost).
type Pricing struct {
	Margin Rate `yaml:"margin"`
	Markup Rate `yaml:"markup"`
}

// Overhead is absorbed by labour, by materials, or by both.
type Overhead struct {
	OnLabour    Rate `yaml:"on_labour"`
	OnMaterials Rate `yaml:"on_materials"`
}

// Discounts bound what a salesperson may give.
type Discounts struct {
	Authority   Rate `yaml:"authority" doc:"what a salesperson may give away, as a share of the list price: discounts, credits, what is below its cost, trade-ins above their value"`
	MarginFloor Rate `yaml:"margin_floor" doc:"least margin on price"`
}

// Stage is one part of the payment.
type Stage struct {
	ID    Text `yaml:"id,required"`
	Title Text `yaml:"title,required"`
	Share Rate `yaml:"share,required"`
}

// Section is a chapter of the specification, in build order.
type Section struct {
	ID    Text `yaml:"id,required"`
	Title Text `yaml:"title,required"`
	Note  Text `yaml:"note"`
}

// Field is a number that every hull gives, or that follows from its offsets.
type Field struct {
	ID       Text `yaml:"id,required"`
	Title    Text `yaml:"title,required"`
	Unit     Text `yaml:"unit,required"`
	Computed Text `yaml:"computed" doc:"name of what the program measures from the offsets, where a hull does not state it"`
	Quoted   bool `yaml:"quoted" doc:"stands on the customer's quotation"`
}

// UseField is something that a buyer states: a number within bounds, or a choice.
type UseField struct {
	ID       Text    `yaml:"id,required"`
	Title    Text    `yaml:"title,required"`
	Unit     Text    `yaml:"unit"`
	Min      Number  `yaml:"min"`
	Max      Number  `yaml:"max"`
	Step     Number  `yaml:"step"`
	Choices  Choices `yaml:"choices" doc:"a list of choices, or the word regions"`
	Standard Text    `yaml:"standard,required"`
}

// Choices are what a choice may be; FromRegions stands for the book's regions.
type Choices struct {
	List        []Choice
	FromRegions bool
	At          Position `json:"-"`
}

// Choice is one of the values of a use field.
type Choice struct {
	ID    Text `yaml:"id,required"`
	Title Text `yaml:"title,required"`
}

// Figure is a number of the finished boat: the total of what hull and options carry, or a formula.
type Figure struct {
	ID       Text    `yaml:"id,required"`
	Title    Text    `yaml:"title,required"`
	Unit     Text    `yaml:"unit,required"`
	Digits   Number  `yaml:"digits"`
	Total    bool    `yaml:"total"`
	Formula  Formula `yaml:"formula"`
	Computed Text    `yaml:"computed" doc:"name of a figure that the program computes"`
	Hidden   bool    `yaml:"hidden" doc:"read by formulas, not shown"`
	Quoted   bool    `yaml:"quoted" doc:"stands on the customer's quotation; where none says so, all that are shown stand there"`
	Compared bool    `yaml:"compared" doc:"shown beside every option, as the difference that it makes"`
	Short    Text    `yaml:"short" doc:"title where there is little room, as beside an option"`
}

// Region is where a boat may go, with its tax.
type Region struct {
	ID    Text `yaml:"id,required"`
	Title Text `yaml:"title,required"`
	Tax   Tax  `yaml:"tax,required"`

	Limits Text `yaml:"limits" doc:"whose limits hold for road and capacity: us, eu or gb"`

	LatitudeDeg Number `yaml:"latitude_deg" doc:"degrees north of its waters, for panels"`
	Sunshine    Number `yaml:"sunshine" doc:"share of a summer day's daylight in which the sun shines, 0 to 1"`
}

// Tax of a region. Mode is inclusive (prices are shown with tax), exclusive (tax is added) or zero (with a condition).
type Tax struct {
	Name      Text `yaml:"name,required"`
	Rate      Rate `yaml:"rate"`
	Mode      Text `yaml:"mode,required"`
	Condition Text `yaml:"condition"`
}

// Shop is a department with its hours a week and its rate.
type Shop struct {
	ID        Text   `yaml:"id,required"`
	Title     Text   `yaml:"title,required"`
	HoursWeek Number `yaml:"hours_week,required"`
	Rate      Money  `yaml:"rate,required" doc:"money an hour"`
	Papers    []Text `yaml:"papers" doc:"drawings and lists on the shop's own sheet"`
}

// Operation is one step of the build in one shop.
type Operation struct {
	ID    Text   `yaml:"id,required"`
	Title Text   `yaml:"title,required"`
	Shop  Text   `yaml:"shop,required"`
	After []Text `yaml:"after"`
}

// Material is something that the yard buys.
type Material struct {
	ID       Text   `yaml:"id,required"`
	Title    Text   `yaml:"title,required"`
	Unit     Text   `yaml:"unit,required"`
	Cost     Money  `yaml:"cost,required" doc:"for one unit"`
	Waste    Rate   `yaml:"waste" doc:"share used beyond what is built in"`
	Pack     Number `yaml:"pack" doc:"size in which it is sold, in units"`
	Supplier Text   `yaml:"supplier"`
	LeadDays Number `yaml:"lead_days"`
	GM2      Number `yaml:"g_m2" doc:"weight of a glass cloth, g/m2"`
	Stock    bool   `yaml:"stock" doc:"what is left of a pack goes back on the shelf"`
}

// Place is where the mass of something is, m: x from the aft end forward, y to starboard, z above the base line.
type Place struct {
	X       Formula  `yaml:"x,required"`
	Y       Formula  `yaml:"y"`
	Z       Formula  `yaml:"z,required"`
	Outside bool     `yaml:"outside" doc:"it hangs outside of the hull, as a propeller, a rudder or a leg"`
	At      Position `json:"-"`
}

// Offsets is the table of offsets of a hull, from the aft end forward.
type Offsets struct {
	Hull     Text      `yaml:"hull,required"`
	Stations []Station `yaml:"stations,required"`
	At       Position  `json:"-"`
}

// Station is one section: half-breadths y at the heights z above the base line, from the keel to the sheer, m.
type Station struct {
	X  Number   `yaml:"x,required"`
	Z  []Number `yaml:"z,required"`
	Y  []Number `yaml:"y,required"`
	At Position `json:"-"`
}

// Trial is what a hull needed at what speed when it was tried at one displacement.
type Trial struct {
	Hull           Text         `yaml:"hull,required"`
	DisplacementKg Number       `yaml:"displacement_kg,required"`
	Points         []TrialPoint `yaml:"points,required"`
	At             Position     `json:"-"`
}

// TrialPoint is the electrical power into the motor's controller at a speed, in calm air and flat, deep water.
type TrialPoint struct {
	SpeedKn Number   `yaml:"speed_kn,required"`
	PowerW  Number   `yaml:"power_w,required"`
	At      Position `json:"-"`
}

// Laminate is one lay-up over an area of every hull, or of those that it names. Its plies and its resin become
// materials of the base boat.
type Laminate struct {
	ID      Text     `yaml:"id,required"`
	Title   Text     `yaml:"title,required"`
	Part    Text     `yaml:"part,required" doc:"shell, bottom, keel, deck or stiffening; bottom and keel lie upon the shell"`
	Hulls   []Text   `yaml:"hulls"`
	AreaM2  Formula  `yaml:"area_m2,required" doc:"formula over the hull alone"`
	Plies   []Ply    `yaml:"plies,required"`
	Process Text     `yaml:"process,required" doc:"hand, hand-complex or vacuum"`
	Resin   Text     `yaml:"resin" doc:"material of the resin"`
	At      Position `json:"-"`

	Operation Text `yaml:"operation" doc:"the operation of the base boat that takes cloths and resin"`
}

// Ply is a layer of glass, or multiple of the same.
type Ply struct {
	Cloth    Text     `yaml:"cloth,required" doc:"csm, roving, multiaxial or unidirectional"`
	GM2      Number   `yaml:"g_m2,required"`
	Count    Number   `yaml:"count" doc:"1 where not given"`
	Material Text     `yaml:"material" doc:"material of the cloth, kept in m2"`
	At       Position `json:"-"`
}

// Cut is how the pieces of something lie on a roll or sheets, which depend on the option that is chosen.
type Cut struct {
	ID     Text       `yaml:"id,required"`
	Title  Text       `yaml:"title,required"`
	SeamMm Number     `yaml:"seam_mm" doc:"what a seam takes where a piece is wider than the stock"`
	Stocks []CutStock `yaml:"stocks,required"`
	Pieces []CutPiece `yaml:"pieces,required"`
	At     Position   `json:"-"`
}

// CutStock is a roll, or sheets, of which some options are cut.
type CutStock struct {
	Title    Text     `yaml:"title,required"`
	Options  []Text   `yaml:"options,required"`
	WidthMm  Number   `yaml:"width_mm,required"`
	LengthMm Number   `yaml:"length_mm" doc:"of a sheet; a roll has none"`
	KerfMm   Number   `yaml:"kerf_mm" doc:"lost between two pieces"`
	At       Position `json:"-"`
}

// CutPiece is a rectangle with its allowances, or multiple of it: the width across the roll, the length along it.
type CutPiece struct {
	Name     Text     `yaml:"name,required"`
	WidthMm  Formula  `yaml:"width_mm,required"`
	LengthMm Formula  `yaml:"length_mm,required"`
	Count    Formula  `yaml:"count" doc:"1 where not given; none where it is 0"`
	Turn     bool     `yaml:"turn" doc:"it may be turned by a quarter"`
	At       Position `json:"-"`
}

// Circuit is a DC circuit from its source to one load.
type Circuit struct {
	ID          Text     `yaml:"id,required"`
	Title       Text     `yaml:"title,required"`
	Function    Text     `yaml:"function,required" doc:"decides the colour of the positive wire"`
	Amps        Formula  `yaml:"amps,required" doc:"the steady current"`
	Volts       Formula  `yaml:"volts,required" doc:"nominal; the allowed drop is a share of it"`
	PeakV       Formula  `yaml:"peak_v" doc:"the highest in service, charging included; the nominal where not given"`
	LengthM     Formula  `yaml:"length_m,required" doc:"one way along the run"`
	Critical    bool     `yaml:"critical" doc:"the allowed drop is 3 %, else 10 %"`
	EngineSpace bool     `yaml:"engine_space" doc:"some of the run lies in the engine space"`
	Insulation  Number   `yaml:"insulation" doc:"temperature rating in °C; 105 where not given"`
	Bundled     Number   `yaml:"bundled" doc:"conductors that carry current in its bundle, which counts from 50 V on; its own two where not given"`
	Parallel    Number   `yaml:"parallel" doc:"up to so many conductors side by side for each pole, where one is not enough; 1 where not given"`
	Count       Formula  `yaml:"count" doc:"how many alike there are, as the strings of a bank; 1 where not given"`
	FaultA      Formula  `yaml:"fault_a" doc:"the most that its source feeds into a short circuit, which its fuse has to interrupt"`
	When        Formula  `yaml:"when"`
	From        Text     `yaml:"from" doc:"where the positive wire starts; the fuse block where not given"`
	To          Text     `yaml:"to" doc:"where both wires end; the title where not given"`
	At          Position `json:"-"`
}

// Hull is one boat that the yard moulds.
type Hull struct {
	ID         Text           `yaml:"id,required"`
	Title      Text           `yaml:"title,required"`
	Note       Text           `yaml:"note"`
	Dimensions Pairs[Number]  `yaml:"dimensions,required"`
	Carries    Pairs[Formula] `yaml:"carries"`
	Price      Price          `yaml:"price"`
	Margin     Rate           `yaml:"margin"`
	Markup     Rate           `yaml:"markup"`
	Includes   []Text         `yaml:"includes" doc:"what every boat of the hull has, for the quotation"`
	Materials  []Quantity     `yaml:"materials"`
	Operations []Work         `yaml:"operations"`
	Place      *Place         `yaml:"place" doc:"centre of the base boat"`
	Seats      *Seats         `yaml:"seats" doc:"where the persons on board sit"`
	Heights    []Height       `yaml:"heights" doc:"high points, beside the sheer and the heads of the persons"`
	Depths     []Depth        `yaml:"depths" doc:"low points that are not in the offsets"`
	Openings   []Opening      `yaml:"openings" doc:"where water comes aboard before the sheer is under"`
	Submerged  Text           `yaml:"submerged" doc:"what the base boat counts as under water; grp where not given"`
	At         Position       `json:"-"`
}

// Slot is a place in the boat that takes options.
type Slot struct {
	ID       Text     `yaml:"id,required"`
	Section  Text     `yaml:"section,required"`
	Title    Text     `yaml:"title,required"`
	Note     Text     `yaml:"note"`
	Choose   Text     `yaml:"choose" doc:"one, at most one or multiple; one where not given"`
	Least    Number   `yaml:"least"`
	Most     Number   `yaml:"most"`
	When     Formula  `yaml:"when"`
	Because  Text     `yaml:"because"`
	Hulls    []Text   `yaml:"hulls"`
	Standard Standard `yaml:"standard"`
	Discount *bool    `yaml:"discount"`
	Options  []Option `yaml:"options,required"`
	Place    *Place   `yaml:"place" doc:"where its options are"`
	At       Position `json:"-"`

	Machinery bool `yaml:"machinery" doc:"its options are machinery: motor, drive, their controls, batteries"`
	Submerged Text `yaml:"submerged" doc:"what its options count as under water; steel where not given"`
}

// Standard is what a slot holds in the standard build: the same for all hulls, or by hull.
type Standard struct {
	All    []Count
	ByHull Pairs[[]Count]
	At     Position `json:"-"`
}

// Count is an option with how many of it.
type Count struct {
	Option Text   `yaml:"option,required"`
	Count  Number `yaml:"count,required"`
}

// Option is what can stand in a slot.
type Option struct {
	ID         Text           `yaml:"id,required"`
	Title      Text           `yaml:"title,required"`
	Note       Text           `yaml:"note"`
	Drawn      Text           `yaml:"drawn" doc:"what it is on the drawing"`
	Colour     Text           `yaml:"colour" doc:"its colour there, #rrggbb"`
	Hulls      []Text         `yaml:"hulls"`
	Most       Number         `yaml:"most" doc:"how many of it a slot with choose: multiple may hold"`
	Carries    Pairs[Formula] `yaml:"carries"`
	Price      Price          `yaml:"price"`
	Margin     Rate           `yaml:"margin"`
	Markup     Rate           `yaml:"markup"`
	Materials  []Quantity     `yaml:"materials"`
	Operations []Work         `yaml:"operations"`
	Requires   []Link         `yaml:"requires"`
	Excludes   []Link         `yaml:"excludes"`
	Place      *Place         `yaml:"place" doc:"where it is, if not where the slot says"`
	Extent     *Extent        `yaml:"extent" doc:"how large it is; it must have room inside the hull"`
	Heights    []Height       `yaml:"heights" doc:"high points that come with it"`
	Depths     []Depth        `yaml:"depths" doc:"low points that come with it"`
	Openings   []Opening      `yaml:"openings" doc:"where water comes aboard through it"`
	Submerged  Text           `yaml:"submerged" doc:"what it counts as under water, if not what the slot says"`
	At         Position       `json:"-"`
}

// Price is a list price: a sum of amounts, each of which may follow a quantity. Without terms there is none.
type Price struct {
	Terms []PriceTerm
	At    Position `json:"-"`
}

// PriceTerm is an amount for each unit of Per, or once where Per is empty.
type PriceTerm struct {
	Amount Money   `yaml:"amount,required"`
	Per    Formula `yaml:"per"`
}

// Work is the hours of an operation.
type Work struct {
	Operation Text    `yaml:"operation,required"`
	Hours     Formula `yaml:"hours,required"`
}

// Link ties an option to others, with the reason.
type Link struct {
	AnyOf   []Text   `yaml:"any_of,required"`
	Because Text     `yaml:"because,required"`
	Advice  Text     `yaml:"advice"`
	Guard   bool     `yaml:"guard" doc:"against later changes of the book: no boat of this edition breaks it"`
	At      Position `json:"-"`
}

// Rule is a condition between options, hull, use and figures.
type Rule struct {
	ID      Text     `yaml:"id,required"`
	When    Formula  `yaml:"when"`
	Need    Formula  `yaml:"need,required"`
	Because Text     `yaml:"because,required"`
	Advice  Text     `yaml:"advice"`
	Guard   bool     `yaml:"guard" doc:"against later changes of the book: no boat of this edition breaks it"`
	At      Position `json:"-"`
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
