// Package pack is the compiled book: what one desk needs of one edition, and nothing else. The engine runs on packs
// only.
//
// Everything that refers to something else does so by index into the lists of the pack. [Decode] checks every index and
// every formula, so that no pack, however damaged, makes the engine panic. Package core/publish makes packs from books.
package pack

import (
	"encoding/json"
	"fmt"
	"slices"

	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/wiring"
)

// Format is the version of the encoding. A pack of another version is refused.
const Format = 1

// Desk is who is looking.
type Desk string

const (
	Buyer Desk = "buyer" // no costs, no margins
	Show  Desk = "show"  // price, discount, margin
	Yard  Desk = "yard"  // hours, materials, suppliers
)

// Desks are all of them.
var Desks = []Desk{Buyer, Show, Yard}

// DeskOf finds a desk by its name.
func DeskOf(name string) (Desk, error) {
	for _, d := range Desks {
		if string(d) == name {
			return d, nil
		}
	}
	return "", fmt.Errorf("choosing a desk: %.40q is none; want buyer, show or yard", name)
}

// Pack is one edition of a book as one desk sees it.
type Pack struct {
	Format       int        `json:"format"`
	Desk         Desk       `json:"desk"`
	Yard         YardInfo   `json:"yard"`
	Edition      Edition    `json:"edition"`
	Currency     string     `json:"currency"`
	Rounding     money.Mode `json:"rounding"`
	ValidityDays int        `json:"validity"`
	Stages       []Stage    `json:"stages,omitempty"`
	Delivery     []string   `json:"delivery,omitempty"`
	Exclusions   []string   `json:"exclusions,omitempty"`
	Warranty     []string   `json:"warranty,omitempty"`
	Terms        []string   `json:"terms,omitempty"`
	Acceptance   string     `json:"acceptance,omitempty"`
	Cautions     []string   `json:"cautions,omitempty"`
	Sections     []Section  `json:"sections"`
	HullFields   []Field    `json:"hull_fields"`
	Use          []UseField `json:"use"`
	Figures      []Figure   `json:"figures"`
	Regions      []Region   `json:"regions"`
	// index of the use field that chooses a region; -1 where the book has none
	RegionField int       `json:"region"`
	Hulls       []Hull    `json:"hulls"`
	Slots       []Slot    `json:"slots"`
	Options     []Option  `json:"options"`
	Rules       []Rule    `json:"rules"`
	Brief       *Brief    `json:"brief,omitempty"`    // what may be wished for; nil where the book has none
	Circuits    []Circuit `json:"circuits,omitempty"` // the buyer's: those alone from which figures follow
	// sizes of cables, fuses and switches that the yard keeps; of what materials, the trade says
	Stock  wiring.Stock `json:"stock,omitzero"`
	Prices *Prices      `json:"prices,omitempty"` // the buyer's: sell prices only
	Trade  *Trade       `json:"trade,omitempty"`  // the show's and the yard's: what prices follow from
	Words  *Words       `json:"words,omitempty"`  // of the book's other languages; nil where it has one
}

// YardInfo is who builds and quotes.
type YardInfo struct {
	Name    string   `json:"name"`
	Note    string   `json:"note,omitempty"`
	Address []string `json:"address,omitempty"`
	Email   string   `json:"email,omitempty"`
	Phone   string   `json:"phone,omitempty"`

	Register  string `json:"register,omitempty"`
	TaxNumber string `json:"tax_number,omitempty"`
	Bank      Bank   `json:"bank,omitzero"`
}

// Bank is where customers pay to; the IBAN in groups of four.
type Bank struct {
	Name string `json:"name,omitempty"`
	IBAN string `json:"iban,omitempty"`
	BIC  string `json:"bic,omitempty"`
}

// Edition names the book that the pack was made from. Digest is the same for all desks.
type Edition struct {
	Name   string `json:"name"`
	Date   string `json:"date"`
	Digest string `json:"digest"`
}

// Stage is one part of the payment.
type Stage struct {
	ID    string     `json:"id"`
	Title string     `json:"title"`
	Share money.Rate `json:"share"`
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
	Unit   string `json:"unit"`
	Quoted bool   `json:"quoted,omitempty"` // stands on the customer's quotation
}

// UseField is something that a buyer states. Standard is a number, or the index of a choice.
type UseField struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	Unit     string   `json:"unit,omitempty"`
	Min      float64  `json:"min,omitempty"`
	Max      float64  `json:"max,omitempty"`
	Step     float64  `json:"step,omitempty"`
	Choices  []Choice `json:"choices,omitempty"`
	Standard float64  `json:"standard"`
}

// Choice is one of the values of a use field.
type Choice struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// Figure is a total of what is carried, a formula, or a figure that package figures computes (Computed is its name
// there).
type Figure struct {
	ID       string          `json:"id"`
	Title    string          `json:"title"`
	Unit     string          `json:"unit"`
	Digits   int             `json:"digits,omitempty"`
	Hidden   bool            `json:"hidden,omitempty"`
	Quoted   bool            `json:"quoted,omitempty"`   // stands on the customer's quotation
	Compared bool            `json:"compared,omitempty"` // shown beside every option, as the difference that it makes
	Short    string          `json:"short,omitempty"`    // the title where there is little room
	Formula  formula.Program `json:"formula"`
	Computed string          `json:"computed,omitempty"`
}

// Region is where a boat may go. TaxMode is inclusive, exclusive or zero.
type Region struct {
	ID        string     `json:"id"`
	Title     string     `json:"title"`
	TaxName   string     `json:"tax"`
	TaxRate   money.Rate `json:"rate"`
	TaxMode   TaxMode    `json:"mode"`
	Condition string     `json:"condition,omitempty"`
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

// Carry adds to a total.
type Carry struct {
	Figure int             `json:"figure"`
	Amount formula.Program `json:"amount"`
}

// Hull is one boat that the yard moulds. Standard is the standard build, as far as slots have one.
type Hull struct {
	ID       string    `json:"id"`
	Title    string    `json:"title"`
	Note     string    `json:"note,omitempty"`
	Includes []string  `json:"includes,omitempty"` // what every boat of the hull has
	Fields   []float64 `json:"fields"`
	Carries  []Carry   `json:"carries,omitempty"`
	Standard []Count   `json:"standard"`
	Place    *Place    `json:"place,omitempty"`
	Seats    *Seats    `json:"seats,omitempty"`
	Points
	Offsets []Station `json:"offsets,omitempty"`
	Trial   *Trial    `json:"trial,omitempty"`
	Layup   *Layup    `json:"layup,omitempty"`

	Submerged string `json:"submerged,omitempty"` // what the base boat counts as under water
}

// Layup is what the laminates of a hull come to; the schedule itself is the yard's.
type Layup struct {
	GlassKg  float64 `json:"glass_kg"`
	ResinKg  float64 `json:"resin_kg"`
	ShellKg  float64 `json:"shell_kg"` // shell, bottom and keel
	DeckKg   float64 `json:"deck_kg"`
	BottomMm float64 `json:"bottom_mm"` // shell and bottom
	KeelMm   float64 `json:"keel_mm"`   // shell, bottom and keel
}

// Place is where a mass is, m: x from the aft end forward, y to starboard (empty: amidships), z above the base line.
type Place struct {
	X       formula.Program `json:"x"`
	Y       formula.Program `json:"y"`
	Z       formula.Program `json:"z"`
	Outside bool            `json:"outside,omitempty"` // of the hull
}

// Seats are where the persons of a hull sit, z the height of the seats. Side is how far off the centre line a person
// sits on one side; empty: unknown.
type Seats struct {
	Place
	Side formula.Program `json:"side,omitzero"`
}

// Points are those of a hull or an option that decide how high and how deep a boat reaches, and where water comes
// aboard.
type Points struct {
	Heights  []Point `json:"heights,omitempty"`
	Depths   []Point `json:"depths,omitempty"`
	Openings []Point `json:"openings,omitempty"`
}

// All are these points.
func (p *Points) All() []Point { return slices.Concat(p.Heights, p.Depths, p.Openings) }

// Reads is what the points depend on.
func (p *Points) Reads() (r formula.Reads) {
	for _, x := range p.All() {
		r = r.With(x.Place.Reads()).With(x.Immersed.Reads())
	}
	return r
}

// Reads is what a place depends on.
func (p *Place) Reads() formula.Reads {
	if p == nil {
		return formula.Reads{}
	}
	return p.X.Reads().With(p.Y.Reads()).With(p.Z.Reads())
}

// Point is a point of the boat. A height has the states in which it stands there; a depth may say how deep it must lie
// under water.
type Point struct {
	Title    string          `json:"title"`
	Place    Place           `json:"place"`
	States   []State         `json:"states,omitempty"`
	Immersed formula.Program `json:"immersed,omitzero"`
}

// State is how a boat stands: with its top up, with the top folded, or as shipped by road.
type State string

const (
	Up     State = "up"
	Folded State = "folded"
	Road   State = "road"
)

// States are all of them.
var States = []State{Up, Folded, Road}

// Extent is how long, broad and high something is about its place, m.
type Extent struct {
	Length formula.Program `json:"length"`
	Width  formula.Program `json:"width"`
	Height formula.Program `json:"height"`
}

// Station is one section of a hull: half-breadths Y at heights Z, m.
type Station struct {
	X float64   `json:"x"`
	Z []float64 `json:"z"`
	Y []float64 `json:"y"`
}

// Trial is electrical power over speed at one displacement.
type Trial struct {
	DisplacementKg float64   `json:"displacement_kg"`
	SpeedKn        []float64 `json:"speed_kn"`
	PowerW         []float64 `json:"power_w"`
}

// Circuit is a DC circuit, or several alike; see package wiring. Peak may be empty: the nominal voltage; so may Count:
// one; and Fault: not stated. Its sources are empty on the buyer's desk.
type Circuit struct {
	ID          string          `json:"id"`
	Title       string          `json:"title"`
	Function    wiring.Function `json:"function"`
	Amps        formula.Program `json:"amps"`
	Volts       formula.Program `json:"volts"`
	Peak        formula.Program `json:"peak"`
	Length      formula.Program `json:"length"`
	When        formula.Program `json:"when"`
	Count       formula.Program `json:"count"`
	Fault       formula.Program `json:"fault"`
	Bundled     int             `json:"bundled,omitempty"`
	Parallel    int             `json:"parallel,omitempty"`
	Critical    bool            `json:"critical,omitempty"`
	EngineSpace bool            `json:"engine_space,omitempty"`
	Insulation  wiring.Rating   `json:"insulation"`
	From        string          `json:"from,omitempty"`
	To          string          `json:"to,omitempty"`
	At          CircuitAt       `json:"at,omitzero"`
}

// CircuitAt is where in the book a circuit and what it follows from stand.
type CircuitAt struct {
	Circuit int `json:"circuit"`
	Amps    int `json:"amps"`
	Volts   int `json:"volts"`
	Length  int `json:"length"`
}

// Count is an option with how many of it.
type Count struct {
	Option int `json:"option"`
	Count  int `json:"count"`
}

// Slot is a place in the boat. Options are a run of the pack's list, from First to before End.
type Slot struct {
	ID         string          `json:"id"`
	Section    int             `json:"section"`
	Title      string          `json:"title"`
	Note       string          `json:"note,omitempty"`
	Multiple   bool            `json:"multiple,omitempty"`
	Least      int             `json:"least,omitempty"`
	Most       int             `json:"most,omitempty"` // 0: no limit
	Hulls      []int           `json:"hulls,omitempty"`
	When       formula.Program `json:"when"`
	Because    string          `json:"because,omitempty"`
	NoDiscount bool            `json:"no_discount,omitempty"`
	Place      *Place          `json:"place,omitempty"`
	First      int             `json:"first"`
	End        int             `json:"end"`
	Machinery  bool            `json:"machinery,omitempty"` // its options are motor, drive, their controls or batteries
}

// Option is what can stand in a slot. Most is how many of it.
type Option struct {
	ID      string  `json:"id"`
	Slot    int     `json:"slot"`
	Title   string  `json:"title"`
	Note    string  `json:"note,omitempty"`
	Drawn   string  `json:"drawn,omitempty"`
	Colour  string  `json:"colour,omitempty"`
	Hulls   []int   `json:"hulls,omitempty"`
	Most    int     `json:"most"`
	Carries []Carry `json:"carries,omitempty"`
	Place   *Place  `json:"place,omitempty"`
	Extent  *Extent `json:"extent,omitempty"`
	Points

	Submerged string `json:"submerged,omitempty"` // what it counts as under water; empty: steel
}

// NotSubmerged is the word for what is left out of the sum of submerged parts.
const NotSubmerged = "none"

// Rule is a condition with its reason. A guard is there for later changes of the book: no boat of this edition breaks
// it.
type Rule struct {
	ID      string          `json:"id"`
	When    formula.Program `json:"when"`
	Need    formula.Program `json:"need"`
	Because string          `json:"because"`
	Advice  string          `json:"advice,omitempty"`
	Guard   bool            `json:"guard,omitempty"`
}

// Prices are sell prices net of tax, by hull.
type Prices struct {
	Base    []Table   `json:"base"`    // of the base boat, by hull
	Options [][]Table `json:"options"` // by option, then hull
}

// Table lists a price over everything that it reads. The axes are in mixed radix, the last one fastest; without axes
// there is one price.
type Table struct {
	Axes   []Axis         `json:"axes,omitempty"`
	Prices []money.Amount `json:"prices"`
}

// Axis is one thing that a price reads: which of some options of a slot is chosen (none of them is 0), how many of one
// option, whether a slot holds anything, or a use field.
type Axis struct {
	Kind    AxisKind `json:"kind"`
	Options []int    `json:"options,omitempty"`
	Index   int      `json:"index,omitempty"` // of the option, slot or use field
	Size    int      `json:"size"`
}

// AxisKind says what an axis reads.
type AxisKind string

const (
	// 0: none of Options and slot Index empty; 1…n: which; n+1: another option of the slot
	AxisOneOf AxisKind = "one of"
	AxisCount AxisKind = "count" // count of option Index
	AxisUse   AxisKind = "use"   // use field Index: the choice, or the number of steps above min
)

// Trade is what the show and the yard know beyond the buyer.
type Trade struct {
	Maker       Maker        `json:"maker"`
	PriceStep   money.Amount `json:"price_step"`
	OnLabour    money.Rate   `json:"on_labour"`
	OnMaterials money.Rate   `json:"on_materials"`
	Contingency money.Rate   `json:"contingency"`
	RatesAt     RatesAt      `json:"rates_at"`
	Authority   money.Rate   `json:"authority"`
	MarginFloor money.Rate   `json:"margin_floor"`
	Shops       []Shop       `json:"shops"`
	Operations  []Operation  `json:"operations"`
	Materials   []Material   `json:"materials"`
	Hulls       []Item       `json:"hulls"`   // the base boat of each hull
	Options     []Item       `json:"options"` // each option
	Laminates   []Laminate   `json:"laminates,omitempty"`
	Cuts        []Cut        `json:"cuts,omitempty"`
	Kept        Kept         `json:"kept,omitzero"`
	Sources     []Source     `json:"sources"`
}

// Kept are the materials of the sizes in [Pack.Stock], in its order.
type Kept struct {
	Cables   []int `json:"cables,omitempty"`
	Fuses    []int `json:"fuses,omitempty"`
	Holders  []int `json:"holders,omitempty"` // of each fuse; -1: it needs none
	Switches []int `json:"switches,omitempty"`
}

// Laminate is a lay-up over an area of some hulls; none named means all. Cloths, process and part are words of package
// laminate.
type Laminate struct {
	ID      string          `json:"id"`
	Title   string          `json:"title"`
	Part    string          `json:"part"`
	Hulls   []int           `json:"hulls,omitempty"`
	AreaM2  formula.Program `json:"area_m2"`
	Plies   []Ply           `json:"plies"`
	Process string          `json:"process"`
	At      int             `json:"at"`
}

// Ply is a layer of glass, Count times.
type Ply struct {
	Cloth string  `json:"cloth"`
	GM2   float64 `json:"g_m2"`
	Count int     `json:"count"`
}

// Cut is how pieces lie on the stock of the option that is chosen.
type Cut struct {
	ID     string     `json:"id"`
	Title  string     `json:"title"`
	SeamMm float64    `json:"seam_mm,omitempty"`
	Stocks []CutStock `json:"stocks"`
	Pieces []CutPiece `json:"pieces"`
}

// CutStock is a roll, or sheets where it has a length, for some options.
type CutStock struct {
	Title    string  `json:"title"`
	Options  []int   `json:"options"`
	WidthMm  float64 `json:"width_mm"`
	LengthMm float64 `json:"length_mm,omitempty"`
	KerfMm   float64 `json:"kerf_mm,omitempty"`
}

// CutPiece is a rectangle, Count times (empty: once). At is where its width stands in the book.
type CutPiece struct {
	Name     string          `json:"name"`
	WidthMm  formula.Program `json:"width_mm"`
	LengthMm formula.Program `json:"length_mm"`
	Count    formula.Program `json:"count"`
	Turn     bool            `json:"turn,omitempty"`
	At       int             `json:"at"`
}

// Maker is the yard's part of a hull number; empty where the book has none.
type Maker struct {
	Code    string `json:"code,omitempty"`
	Country string `json:"country,omitempty"`
}

// RatesAt is where in the book the general rates stand.
type RatesAt struct {
	OnLabour    int `json:"on_labour"`
	OnMaterials int `json:"on_materials"`
	Contingency int `json:"contingency"`
}

// Shop is a department with its hours a week and its rate.
type Shop struct {
	ID        string       `json:"id"`
	Title     string       `json:"title"`
	HoursWeek float64      `json:"hours_week"`
	Rate      money.Amount `json:"rate"`
	Papers    []string     `json:"papers,omitempty"` // drawings and lists on the shop's own sheet
}

// Operation is one step of the build.
type Operation struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Shop  int    `json:"shop"`
	After []int  `json:"after,omitempty"`
}

// Material is something that the yard buys. Pack is in units, as an exact decimal; zero where it is sold by the unit.
type Material struct {
	ID       string       `json:"id"`
	Title    string       `json:"title"`
	Unit     string       `json:"unit"`
	Cost     money.Amount `json:"cost"`
	Waste    money.Rate   `json:"waste"`
	Pack     money.Rate   `json:"pack"`
	Stock    bool         `json:"stock,omitempty"`
	Supplier string       `json:"supplier,omitempty"`
	LeadDays int          `json:"lead_days,omitempty"`
}

// Item is what a base boat or one of an option takes, and how it is priced.
type Item struct {
	Materials  []Need  `json:"materials,omitempty"`
	Operations []Need  `json:"operations,omitempty"`
	List       []Term  `json:"list,omitempty"` // a list price
	Margin     *Method `json:"margin,omitempty"`
	Markup     *Method `json:"markup,omitempty"`
	At         int     `json:"at"` // where in the book the item stands
}

// Need is a quantity of a material or hours of an operation; At is where in the book it stands. The amount is empty
// where a cut or a circuit measures it; which material a circuit takes follows from its size on a boat, so that the
// index is -1. How an amount was composed, and which operation takes a material, is on the yard's desk alone.
type Need struct {
	Index   int             `json:"index"`
	Amount  formula.Program `json:"amount"`
	At      int             `json:"at"`
	Takeoff *Takeoff        `json:"takeoff,omitempty"`
	Cut     *CutNeed        `json:"cut,omitempty"`
	Circuit *CircuitNeed    `json:"circuit,omitempty"`
	// of a material: its operation, counted from 1; 0 where there is none
	Taker int `json:"taker,omitempty"`
}

// Term is an amount for each unit of Per, or once.
type Term struct {
	Amount money.Amount    `json:"amount"`
	Per    formula.Program `json:"per"`
	At     int             `json:"at"`
}

// Method is a share by which a cost becomes a price.
type Method struct {
	Rate money.Rate `json:"rate"`
	At   int        `json:"at"`
}

// Source is a place in the book with the text of the formula that stands there.
type Source struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Text   string `json:"text,omitempty"`
}

func (s Source) String() string { return fmt.Sprintf("%s:%d:%d", s.File, s.Line, s.Column) }

// Space is the size of the pack as formulas see it.
func (p *Pack) Space() formula.Space {
	return formula.Space{Options: len(p.Options), Slots: len(p.Slots), Hull: len(p.HullFields), Use: len(p.Use),
		Figures: len(p.Figures)}
}

// Encode writes the pack. The same pack gives the same bytes.
func (p *Pack) Encode() ([]byte, error) { return json.Marshal(p) }

// maxBytes bounds a pack read from outside.
const maxBytes = 64 << 20

// Decode reads what Encode writes and checks it.
func Decode(text []byte) (*Pack, error) {
	if len(text) > maxBytes {
		return nil, fmt.Errorf("reading a pack: %d bytes; at most %d", len(text), maxBytes)
	}
	p := &Pack{}
	if err := json.Unmarshal(text, p); err != nil {
		return nil, fmt.Errorf("reading a pack: %w", err)
	}
	if p.Format != Format {
		return nil, fmt.Errorf("reading a pack: it is of format %d, this engine reads format %d; publish the book again", p.Format, Format)
	}
	if err := p.check(); err != nil {
		return nil, fmt.Errorf("reading a pack: %w", err)
	}
	return p, nil
}
