package book

// Slots and their options, and the rules between them: what a buyer chooses from.

// Slot is a place in the boat that takes options.
type Slot struct {
	// Identifier, lower-case with hyphens; formulas read chosen("ID").
	ID Text `yaml:"id,required"`
	// The section of the specification in which it stands.
	Section Text `yaml:"section,required"`
	// What it is called.
	Title Text `yaml:"title,required"`
	// A sentence about it for buyers.
	Note Text `yaml:"note"`
	// one, at most one or multiple; one where not given.
	Choose Text `yaml:"choose"`
	// Least sum of counts, where it takes multiple options; 0 where not given.
	Least Number `yaml:"least"`
	// Greatest sum of counts, where it takes multiple options; no bound where not given.
	Most Number `yaml:"most"`
	// Condition under which a boat has the slot; every boat where not given.
	When Formula `yaml:"when"`
	// What a buyer is told where the slot is closed.
	Because Text `yaml:"because"`
	// Hulls that have it; all where not given.
	Hulls []Text `yaml:"hulls"`
	// What stands there unless somebody chooses.
	Standard Standard `yaml:"standard"`
	// Whether discounts on the whole count its options; they do where not given.
	Discount *bool `yaml:"discount"`
	// What can stand there, in the order in which it is shown.
	Options []Option `yaml:"options"`
	// Options that are made from a table, behind the others.
	Series Series `yaml:"series" json:",omitempty"`
	// Where its options are.
	Place *Place `yaml:"place"`
	// Where it stands.
	At Position `json:"-"`

	// Its options are machinery: motor, drive, their controls, batteries.
	Machinery bool `yaml:"machinery"`
	// What its options count as under water; steel where not given.
	Submerged Text `yaml:"submerged"`

	// The operation until whose begin an order may change the choice without undoing anything; where not given, until
	// the first operation of what is given up has begun.
	FreeUntil Text `yaml:"free_until"`
	// What undoing costs afterwards; where not given, the choice can no longer be changed then.
	Undo *Undo `yaml:"undo"`
}

// Undo is what it takes to undo a choice that is built in.
type Undo struct {
	// Hours of one person in each shop that has to undo it.
	Hours ShopHours `yaml:"hours"`
	// Share that is lost of the material that was taken by then for what is given up, from 0 to 1.
	ShareLost Rate `yaml:"share_lost"`
	// Where it stands.
	At Position `json:"-"`
}

// ShopHours are hours by shop: {assembly: 4, canvas-shop: 1.5}.
type ShopHours []ShopHour

// ShopHour is the hours of one shop.
type ShopHour struct {
	// The shop.
	Shop Text
	// Hours of one person there.
	Hours Number
}

// Standard is what a slot holds in the standard build: the same for all hulls, or by hull.
type Standard struct {
	// Options with their counts, on every hull.
	All []Count
	// Options with their counts, on the hulls named.
	ByHull Pairs[[]Count]
	// Where it stands.
	At Position `json:"-"`
}

// Count is an option with how many of it.
type Count struct {
	// The option.
	Option Text `yaml:"option,required"`
	// How many of it, a whole number from 1.
	Count Number `yaml:"count,required"`
}

// StandardOf is what stands in the slot in the standard build of a hull: what is said for that hull by name, or what is
// said for all.
func (s *Slot) StandardOf(hull string) []Count {
	list := s.Standard.All
	for _, p := range s.Standard.ByHull {
		if p.Key.Value == hull {
			list = p.Value
		}
	}
	return list
}

// Entry is a word of the trade and what it means.
type Entry struct {
	// The word as it begins an entry.
	Word Text `yaml:"word,required"`
	// What it means, in a sentence for who has never had a boat.
	Means Text `yaml:"means,required"`
	// How it is written elsewhere in the book: other forms of the word, and words for the same.
	Forms []Text `yaml:"forms"`
}

// Option is what can stand in a slot.
type Option struct {
	// Identifier, lower-case with hyphens; formulas read has("ID") and count("ID").
	ID Text `yaml:"id,required"`
	// What it is called.
	Title Text `yaml:"title,required"`
	// A sentence about it for buyers.
	Note Text `yaml:"note"`
	// Longer words about it, a paragraph each, which the page folds below it.
	About []Text `yaml:"about" json:",omitempty"`
	// What it looks like, beside those words.
	Pictures []Picture `yaml:"pictures" json:",omitempty"`
	// What it is on the drawing.
	Drawn Text `yaml:"drawn"`
	// Its colour there, #rrggbb; with a surface also of what is on no drawing, for its swatch.
	Colour Text `yaml:"colour"`
	// What has this colour, as its swatch shows it, if not what is usual for what is drawn.
	Surface Text `yaml:"surface"`
	// The foam of a cushion, which is drawn in section and taken from the shelf by these layers alone.
	Cushion *Cushion `yaml:"cushion"`
	// Plates under the deck that it is screwed into.
	Plates []Plate `yaml:"plates"`
	// Where its flotation foam lies.
	Blocks []Block `yaml:"blocks"`
	// Hulls for which it is made; all where not given.
	Hulls []Text `yaml:"hulls"`
	// How many of it a slot with choose: multiple may hold.
	Most Number `yaml:"most"`
	// What one of it adds to each total, in the unit of the figure.
	Carries Pairs[Formula] `yaml:"carries"`
	// List price of one, net of tax; without it the price follows from the cost.
	Price Price `yaml:"price"`
	// List prices by the day from which each holds: {2027-03-01: "450"}.
	Prices Pairs[Price] `yaml:"prices" json:",omitempty"`
	// The group whose list price it has.
	PriceGroup Text `yaml:"price_group" json:",omitzero"`
	// What each of it costs from a number on, in the place of its list price.
	Breaks []Break `yaml:"breaks" json:",omitempty"`
	// Profit as a share of the price, if not what the book says.
	Margin Rate `yaml:"margin"`
	// Profit as a share of the cost, if not what the book says.
	Markup Rate `yaml:"markup"`
	// The first day on which it is sold; always where not given.
	SoldFrom Text `yaml:"sold_from" json:",omitzero"`
	// The last day on which it is sold; without end where not given.
	SoldUntil Text `yaml:"sold_until" json:",omitzero"`
	// The option that takes its place when it is no longer sold.
	Instead Text `yaml:"instead" json:",omitzero"`
	// How many of it the yard has left on the day of the edition, where it gets no more; no limit where not given.
	Stock Number `yaml:"stock" json:",omitzero"`
	// Everybody may read how many are left.
	StockShown bool `yaml:"stock_shown" json:",omitempty"`
	// Parts of options whose materials, work and masses it has beside its own.
	Parts []Text `yaml:"parts" json:",omitempty"`
	// What is built in of materials for one of it.
	Materials []Quantity `yaml:"materials"`
	// Work for one of it, with its hours.
	Operations []Work `yaml:"operations"`
	// Options of which one must be in the boat with it.
	Requires []Link `yaml:"requires"`
	// Options that cannot be in the boat with it.
	Excludes []Link `yaml:"excludes"`
	// Where it is, if not where the slot says.
	Place *Place `yaml:"place"`
	// How large it is; it must have room inside the hull.
	Extent *Extent `yaml:"extent"`
	// High points that come with it.
	Heights []Height `yaml:"heights"`
	// Low points that come with it.
	Depths []Depth `yaml:"depths"`
	// Where water comes aboard through it.
	Openings []Opening `yaml:"openings"`
	// What it counts as under water, if not what the slot says.
	Submerged Text `yaml:"submerged"`
	// Where it stands.
	At Position `json:"-"`

	lowers bool // it stands for a package, whose price is what is saved
}

// Lowers says that the price of an option is below zero: it stands for a package.
func (o *Option) Lowers() bool { return o.lowers }

// Price is a list price: a sum of amounts, each of which may follow a quantity. Without terms there is none.
type Price struct {
	// Amounts that add up to the price.
	Terms []PriceTerm
	// Where it stands.
	At Position `json:"-"`
}

// PriceTerm is an amount for each unit of Per, or once where Per is empty.
type PriceTerm struct {
	// Money, net of tax.
	Amount Money `yaml:"amount,required"`
	// Quantity that the amount is multiplied with, such as a length in m; once where not given.
	Per Formula `yaml:"per"`
	// Condition under which the amount counts; always where not given.
	When Formula `yaml:"when" json:",omitzero"`
}

// Break is what each of an option costs from a number on.
type Break struct {
	// From how many of it on, a whole number from 2.
	From Number `yaml:"from,required"`
	// List price of each, net of tax.
	Price Money `yaml:"price,required"`
}

// PriceGroup is a list price that several options have, such as that of the metallic colours.
type PriceGroup struct {
	// Identifier, lower-case with hyphens; options name it as their price_group.
	ID Text `yaml:"id,required"`
	// List price of one of them, net of tax.
	Price Price `yaml:"price"`
	// List prices by the day from which each holds.
	Prices Pairs[Price] `yaml:"prices" json:",omitempty"`
}

// Part is what several options have alike: fastenings, a bracket with its work.
type Part struct {
	// Identifier, lower-case with hyphens; options name it among their parts.
	ID Text `yaml:"id,required"`
	// What it adds to each total, in the unit of the figure.
	Carries Pairs[Formula] `yaml:"carries"`
	// What is built in of materials.
	Materials []Quantity `yaml:"materials"`
	// Work for it, with its hours.
	Operations []Work `yaml:"operations"`
	// Where it stands.
	At Position `json:"-"`
}

// Series is options that are made from tables. In the book it is a list with a table each: for holds rows with the same
// columns, or names a CSV file of the book with the columns in its first line; option is one with <column> where the
// words of a row stand.
type Series []Option

// Work is the hours of an operation, or how much of it is subcontracted.
type Work struct {
	// The operation.
	Operation Text `yaml:"operation,required"`
	// Hours of one person, where a shop does it.
	Hours Formula `yaml:"hours"`
	// How much of it, in the unit of its price, where it is subcontracted; 1 where not given.
	Quantity Formula `yaml:"quantity"`
	// Where it stands.
	At Position `json:"-"`
}

// Amount is the hours, or the quantity of what is subcontracted.
func (w *Work) Amount() Formula {
	switch {
	case !w.Hours.Empty():
		return w.Hours
	case !w.Quantity.Empty():
		return w.Quantity
	}
	return Formula{Value: "1", At: w.At}
}

// Link ties an option to others, with the reason.
type Link struct {
	// Options of which it holds that one is enough.
	AnyOf []Text `yaml:"any_of,required"`
	// What a buyer is told where it is broken.
	Because Text `yaml:"because,required"`
	// What a buyer can do about it.
	Advice Text `yaml:"advice"`
	// Against later changes of the book: no boat of this edition breaks it.
	Guard bool `yaml:"guard"`
	// Where it stands.
	At Position `json:"-"`
}

// Rule is a condition between options, hull, use and figures.
type Rule struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// Condition under which it applies; always where not given.
	When Formula `yaml:"when"`
	// Condition that must hold of the boat.
	Need Formula `yaml:"need,required"`
	// What a buyer is told where it is broken.
	Because Text `yaml:"because,required"`
	// What a buyer can do about it.
	Advice Text `yaml:"advice"`
	// Against later changes of the book: no boat of this edition breaks it.
	Guard bool `yaml:"guard"`
	// Where it stands.
	At Position `json:"-"`
}
