package pack

import (
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
)

// Costs is the part of a pack from which prices and margins follow, for the yard's own people.
// Places in the book are indices of [Work.Sources]; where a desk has no work, they are numbers without a meaning.
type Costs struct {
	// SHA-256 of this, the selling and the public part; it never leaves the pack
	Digest string `json:"digest"`
	// sell prices that follow from costs are multiples of it
	PriceStep money.Amount `json:"price_step"`
	// overhead, share of the labour cost
	OnLabour money.Rate `json:"on_labour"`
	// overhead, share of the cost of materials
	OnMaterials money.Rate `json:"on_materials"`
	Contingency money.Rate `json:"contingency"` // share of all other costs
	// share of the list price that the yard's own people may give away; 0: no limit
	Authority money.Rate `json:"authority"`
	// share of the net price; 0: none
	MarginFloor money.Rate        `json:"margin_floor"`
	Dealers     []Dealership      `json:"dealers,omitempty"` // all of them, in the order of the book
	Shops       []Shop            `json:"shops"`
	Operations  []Operation       `json:"operations"`
	Materials   []Material        `json:"materials"`
	Hulls       []BillOfMaterials `json:"hulls"`   // the base boat of each hull
	Options     []BillOfMaterials `json:"options"` // each option
	Cuts        []Cut             `json:"cuts,omitempty"`
	// in the laminates of each hull; none where the book has none
	Glass []Glass `json:"glass,omitempty"`
	Kept  Kept    `json:"kept,omitzero"`
	// those that are not public, by ascending place
	Circuits []OtherCircuit `json:"circuits,omitempty"`
	// that no buyer knows; they follow the public ones
	Figures []Figure `json:"figures,omitempty"`

	// in the other languages of the book, by language and place, see [Pack.In]
	Words map[string]map[string]string `json:"words,omitempty"`
}

// Glass is what the laminates of a hull take, in all.
type Glass struct {
	GlassKg float64 `json:"glass_kg"`
	ResinKg float64 `json:"resin_kg"`
}

// Kept are the materials, by index in [Costs.Materials], of the sizes in [Public.Stock], in its order.
type Kept struct {
	Cables   []int `json:"cables,omitempty"`
	Fuses    []int `json:"fuses,omitempty"`
	Holders  []int `json:"holders,omitempty"` // of each fuse; -1: it needs none
	Switches []int `json:"switches,omitempty"`
}

// Shop is a department with its rate. Its hours a week are the yard's alone: see [ShopWork].
type Shop struct {
	ID    string       `json:"id"`
	Title string       `json:"title"`
	Rate  money.Amount `json:"rate"` // for an hour
}

// Operation is one step of the build. What must come before it is not a matter of cost, and stands in the work.
type Operation struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Shop  int    `json:"shop"` // [NoShop] for outside work
	// what a supplier takes for it; nil where a shop does it
	Outside *Outside `json:"outside,omitempty"`
}

// NoShop stands for the shop of outside work, which a supplier does.
const NoShop = -1

// Outside is the price of work that is subcontracted. Who does it is the yard's alone: see [OperationWork].
type Outside struct {
	Unit  string       `json:"unit"`  // a word of package measure
	Price money.Amount `json:"price"` // of one unit
}

// Material is something that the yard buys. Who supplies it is the yard's alone: see [Supply].
type Material struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Unit  string `json:"unit"` // a word of package measure, or the symbol of a unit of the book
	// its pieces are counted, and taken whole
	Whole bool         `json:"whole,omitempty"`
	Cost  money.Amount `json:"cost"` // of one unit
	// of one unit, by ascending quantity
	Breaks []Break    `json:"breaks,omitempty"`
	Waste  money.Rate `json:"waste"` // share of what is built in
	// units in one, as an exact decimal; 0: it is sold by the unit
	Pack money.Rate `json:"pack"`
	// from the store: what is left of a pack is not charged to the boat
	Stock bool `json:"stock,omitempty"`
}

// Break is what one unit of a material costs where at least so many are taken.
type Break struct {
	Least measure.Quantity `json:"least"`
	Price money.Amount     `json:"price"`
}

// CostOf is what one unit costs where so many are taken at once: by a boat for its own cost, by a purchase for the
// invoice.
func (m *Material) CostOf(q measure.Quantity) money.Amount {
	cost := m.Cost
	for _, b := range m.Breaks {
		if q < b.Least {
			break
		}
		cost = b.Price
	}
	return cost
}

// BillOfMaterials is what a base boat or one of an option takes, materials and hours, and how it is priced: by a list
// price, a margin or a markup.
type BillOfMaterials struct {
	Materials  []BOMLine `json:"materials,omitempty"`
	Operations []BOMLine `json:"operations,omitempty"`
	List       []Term    `json:"list,omitempty"` // a list price
	Margin     *Method   `json:"margin,omitempty"`
	Markup     *Method   `json:"markup,omitempty"`
	At         int       `json:"at"` // where in the book the item stands
	// its list price is below zero: it stands for a package, and lowers what the options of that cost
	Lowers bool `json:"lowers,omitempty"`
}

// BOMLine is a quantity of a material, hours of an operation, or a quantity of outside work. The amount is empty where
// a cut or a circuit measures it; which material a circuit takes follows from its size on a boat, so that the index is
// -1.
type BOMLine struct {
	Index  int             `json:"index"`
	Amount formula.Program `json:"amount"` // in the unit of the material or of the outside work, or hours
	// where in the book it stands; no two of them in one place
	At      int            `json:"at"`
	Cut     *CutAmount     `json:"cut,omitempty"`
	Circuit *CircuitAmount `json:"circuit,omitempty"`
	// the customer brings it: it costs the yard nothing
	Customer bool `json:"customer,omitempty"`
}

// CutAmount measures by a cut layout on one of its stocks: the metres of it where the material is kept in metres, else
// the square metres.
type CutAmount struct {
	Cut    int  `json:"cut"`
	Stock  int  `json:"stock"`
	Metres bool `json:"metres,omitempty"`
}

// CircuitAmount is what a boat takes of a circuit, in the size that it has there.
type CircuitAmount struct {
	Circuit int  `json:"circuit"`
	Part    Part `json:"part"`
}

// Part is of what a circuit is made.
type Part string

// The parts of a circuit. A spare is one more fuse, whatever the circuit's count.
const (
	Wire   Part = "wire"
	Fuse   Part = "fuse"
	Holder Part = "holder"
	Switch Part = "switch"
	Spare  Part = "spare"
)

// Term is an amount for each unit of Per, or once, on boats on which When holds; empty: on all.
type Term struct {
	Amount money.Amount    `json:"amount"` // net
	Per    formula.Program `json:"per"`
	When   formula.Program `json:"when,omitzero"`
	At     int             `json:"at"`
}

// Method is a share by which a cost becomes a price.
type Method struct {
	Rate money.Rate `json:"rate"`
	At   int        `json:"at"`
}

// Cut is how pieces lie on the stock of the option that is chosen, which decides how much is bought. What is cut is
// told by [CutNames].
type Cut struct {
	ID     string     `json:"id"`
	SeamMm float64    `json:"seam_mm,omitempty"`
	Stocks []CutStock `json:"stocks"`
	Pieces []CutPiece `json:"pieces"`
}

// CutStock is a roll, or sheets where it has a length, for some options.
type CutStock struct {
	Options  []int   `json:"options"`
	WidthMm  float64 `json:"width_mm"`
	LengthMm float64 `json:"length_mm,omitempty"`
	KerfMm   float64 `json:"kerf_mm,omitempty"`
}

// CutPiece is a piece, Count times (empty: once). Its size follows from the hull alone, and then it was worked out when
// the book was published; or it is a rectangle whose sides are formulas over the boat. At is where it stands in the
// book.
type CutPiece struct {
	// the panels that it is cut as, one where it fits whole: on the first hull for each stock, then on the next
	Panels [][]CutPanel `json:"panels,omitempty"`
	// of a rectangle, finished: its allowance lies outside
	WidthMm     formula.Program `json:"width_mm,omitzero"`
	LengthMm    formula.Program `json:"length_mm,omitzero"`
	AllowanceMm formula.Program `json:"allowance_mm,omitzero"`
	Count       formula.Program `json:"count"`
	Turn        bool            `json:"turn,omitempty"` // it may lie either way
	At          int             `json:"at"`
}

// CutPanel is the rectangle about a panel as it is cut, and what its line encloses.
type CutPanel struct {
	WidthMm  float64 `json:"w"`
	LengthMm float64 `json:"l"`
	AreaMm2  float64 `json:"a"`
}
