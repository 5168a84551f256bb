package book

// The yard: who builds, what it buys, and how prices follow from costs.

// Yard is who builds and quotes.
type Yard struct {
	// Name of the yard as it stands on papers.
	Name Text `yaml:"name,required"`
	// A line below the name on the page.
	Note Text `yaml:"note"`
	// Postal address, a line each.
	Address []Text `yaml:"address"`
	// Where customers write to.
	Email Text `yaml:"email"`
	// Where customers call.
	Phone Text `yaml:"phone"`
	// Address of the published buyer's page, with https; quotations bear a link to their boat there.
	Page Text `yaml:"page"`
	// Path on the host of the page to which a buyer's enquiry is posted. Without it the page sends nothing.
	Enquiry Text `yaml:"enquiry"`

	// Manufacturer's part of the hull number, three characters.
	MakerCode Text `yaml:"maker_code"`
	// Country before the hull number, two letters of ISO 3166-1.
	Country Text `yaml:"country"`

	// Register of companies and number there.
	Register Text `yaml:"register"`
	// Number for VAT or sales tax.
	TaxNumber Text `yaml:"tax_number"`
	// Where customers pay to.
	Bank Bank `yaml:"bank"`

	// Public halves of the keys that sign quotations. One that is no longer used stays, for what it has signed.
	SigningKeys []Key `yaml:"signing_keys"`
	// Minutes without use after which a sealed desk is locked; 15 without it.
	LockAfterMinutes Number `yaml:"lock_after_minutes"`

	// Days on which all shops are closed: 2027-05-05, or 2027-12-24..2028-01-02 with the first and the last day.
	Closed []Text `yaml:"closed"`
	// How far hours spread where an operation does not say.
	Spread *Spread `yaml:"spread"`
	// Who reads the launch week of a boat that is not ordered yet: public, show or yard; yard where not given.
	Launch Text `yaml:"launch"`
}

// Bank is an account.
type Bank struct {
	// Name of the bank.
	Name Text `yaml:"name"`
	// ISO 13616, with check digits.
	IBAN Text `yaml:"iban"`
	// ISO 9362.
	BIC Text `yaml:"bic"`
}

// Edition names a state of the book. Its digest is computed.
type Edition struct {
	// Name of the state of the book, such as 2027 Spring.
	Name Text `yaml:"name,required"`
	// ISO 8601 date.
	Date Text `yaml:"date,required"`
}

// Rounding is the policy of the book; see package core/money.
type Rounding struct {
	// half-even or half-up.
	Mode Text `yaml:"mode,required"`
	// Sell prices net of tax are multiples of it.
	PriceStep Money `yaml:"price_step,required"`
}

// Pricing is how a sell price follows from a cost: a margin (share of the price) or a markup (share of the cost).
type Pricing struct {
	// Profit as a share of the price: 0.30 makes 100 of a cost of 70. Not beside markup.
	Margin Rate `yaml:"margin"`
	// Profit as a share of the cost: 0.30 makes 130 of a cost of 100. Not beside margin.
	Markup Rate `yaml:"markup"`
}

// Overhead is absorbed by labour, by materials, or by both.
type Overhead struct {
	// Share of the cost of labour that is added for overhead.
	OnLabour Rate `yaml:"on_labour"`
	// Share of the cost of materials that is added for overhead.
	OnMaterials Rate `yaml:"on_materials"`
}

// Discounts bound what a salesperson may give.
type Discounts struct {
	// What a salesperson may give away, as a share of the list price: discounts, credits, what is below its cost,
	// trade-ins above their value.
	Authority Rate `yaml:"authority"`
	// Least margin on price.
	MarginFloor Rate `yaml:"margin_floor"`
}

// Dealer is somebody who sells the yard's boats in its name. What he gives away comes off the price that the customer
// pays; his commission is a share of what is left of it without tax, and a cost of the deal to the yard.
type Dealer struct {
	// Identifier, lower-case with hyphens; it names his desk.
	ID Text `yaml:"id,required"`
	// Name of his firm as it stands on the customer's quotation, the same in all languages.
	Firm Text `yaml:"firm,required"`
	// Postal address below it, a line each.
	Address []Text `yaml:"address"`
	// Where customers write to him.
	Email Text `yaml:"email"`
	// Where customers call him.
	Phone Text `yaml:"phone"`
	// What he may give away without asking, as a share of the list price; "0" for nothing.
	Authority Rate `yaml:"authority,required"`
	// What he gets, as a share of the net price after all discounts.
	Commission Rate `yaml:"commission,required"`
}

// Stage is one part of the payment.
type Stage struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// When it is due, as on the quotation.
	Title Text `yaml:"title,required"`
	// Share of the total, from 0 to 1; all stages add up to 1.
	Share Rate `yaml:"share,required"`
	// The operation whose end makes it due; with the order where not given.
	Due Text `yaml:"due"`
}

// Material is something that the yard buys.
type Material struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What it is called on purchase lists and sheets.
	Title Text `yaml:"title,required"`
	// Unit in which it is bought and costed, one of those of package measure.
	Unit Text `yaml:"unit,required"`
	// Money for one unit.
	Cost Money `yaml:"cost"`
	// Money for one unit by the day from which it holds: {2027-03-01: "33.60"}.
	Costs Pairs[Money] `yaml:"costs" json:",omitempty"`
	// Share used beyond what is built in.
	Waste Rate `yaml:"waste"`
	// Size in which it is sold, in units.
	Pack Number `yaml:"pack"`
	// Prices for larger quantities, by ascending quantity; below the first the cost holds. A boat is costed by what it
	// takes of the material, a purchase by what is bought.
	Breaks []CostBreak `yaml:"breaks"`
	// Day from which its prices hold, as the supplier's list says it.
	PriceDate Text `yaml:"price_date"`
	// Who supplies it; no customer sees it.
	Supplier Text `yaml:"supplier"`
	// The supplier's own number for it, by which his price lists are read and his orders written.
	Article Text `yaml:"article"`
	// Days of the calendar from order to delivery.
	LeadDays Number `yaml:"lead_days"`
	// Weight of a glass cloth, g/m².
	GM2 Number `yaml:"g_m2"`
	// What kind of foam it is, for the layers of cushions.
	Foam *FoamKind `yaml:"foam"`
	// What is left of a pack goes back on the shelf.
	Stock bool `yaml:"stock"`
}

// CostBreak is the price of a material from a quantity on.
type CostBreak struct {
	// Units from which it holds.
	From Number `yaml:"from,required"`
	// Money for one unit.
	Price Money `yaml:"price,required"`
}
