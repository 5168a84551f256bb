package book

// The vocabulary of a book: chapters of the specification, what a hull states, what a buyer states, the figures of the
// finished boat, and the regions with their tax.

// Section is a chapter of the specification, in build order.
type Section struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// Heading of the chapter.
	Title Text `yaml:"title,required"`
	// A sentence below the heading.
	Note Text `yaml:"note"`
}

// Field is a number that every hull gives, or that follows from its offsets.
type Field struct {
	// Identifier with underscores, ending in its unit; formulas read hull.ID.
	ID Text `yaml:"id,required"`
	// What it is called beside its value.
	Title Text `yaml:"title,required"`
	// Unit of the number, one of those of package measure.
	Unit Text `yaml:"unit,required"`
	// Name of what the program measures from the offsets, where a hull does not state it.
	Computed Text `yaml:"computed"`
	// Stands on the customer's quotation.
	Quoted bool `yaml:"quoted"`
}

// UseField is something that a buyer states: a number within bounds, or a choice.
type UseField struct {
	// Identifier with underscores; formulas read use.ID.
	ID Text `yaml:"id,required"`
	// What it is called beside the field that a buyer fills in.
	Title Text `yaml:"title,required"`
	// Unit of the number, one of those of package measure.
	Unit Text `yaml:"unit"`
	// Least number that can be stated, in the unit.
	Min Number `yaml:"min"`
	// Greatest number that can be stated, a whole number of steps above the least.
	Max Number `yaml:"max"`
	// Step between numbers that can be stated, above zero.
	Step Number `yaml:"step"`
	// A list of choices, or the word regions.
	Choices Choices `yaml:"choices"`
	// What holds as long as a buyer says nothing: a number within the bounds, or one of the choices.
	Standard Text `yaml:"standard,required"`
}

// Choices are what a choice may be; FromRegions stands for the book's regions.
type Choices struct {
	// The choices in the order in which they are shown.
	List []Choice
	// The choices are the book's regions.
	FromRegions bool
	// Where it stands.
	At Position `json:"-"`
}

// Choice is one of the values of a use field.
type Choice struct {
	// Identifier, lower-case with hyphens; formulas compare use.FIELD with it.
	ID Text `yaml:"id,required"`
	// What it is called.
	Title Text `yaml:"title,required"`
}

// Figure is a number of the finished boat: the total of what hull and options carry, or a formula.
type Figure struct {
	// Identifier with underscores, ending in its unit; formulas read figures.ID.
	ID Text `yaml:"id,required"`
	// What it is called beside its value.
	Title Text `yaml:"title,required"`
	// Unit of the number, one of those of package measure.
	Unit Text `yaml:"unit,required"`
	// Decimal digits that are shown, 0 to 4.
	Digits Number `yaml:"digits"`
	// It is the sum of what hull and options carry of it.
	Total bool `yaml:"total"`
	// Formula over hull, use, options and other figures; not beside total or computed.
	Formula Formula `yaml:"formula"`
	// Name of a figure that the program computes.
	Computed Text `yaml:"computed"`
	// Hulls whose boats have it; all where not given. On others a formula is 0, and none is shown.
	Hulls []Text `yaml:"hulls" json:",omitempty"`
	// Read by formulas, not shown.
	Hidden bool `yaml:"hidden"`
	// Stands on the customer's quotation; where none says so, all that are shown stand there.
	Quoted bool `yaml:"quoted"`
	// Shown beside every option, as the difference that it makes.
	Compared bool `yaml:"compared"`
	// Title where there is little room, as beside an option.
	Short Text `yaml:"short"`
}

// Region is where a boat may go, with its tax.
type Region struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What it is called.
	Title Text `yaml:"title,required"`
	// Tax on a boat that goes there.
	Tax Tax `yaml:"tax,required"`

	// Whose limits hold for road and capacity: us, eu or gb.
	Limits Text `yaml:"limits"`

	// Money in which readers there think: totals stand in it beside those of the book.
	Currency *Exchange `yaml:"currency" json:",omitempty"`

	// Degrees north of its waters, for panels.
	LatitudeDeg Number `yaml:"latitude_deg"`
	// Share of a summer day's daylight in which the sun shines, 0 to 1.
	Sunshine Number `yaml:"sunshine"`
}

// Exchange is another currency with its rate of a day. Prices, payments and the contract stay in that of the book.
type Exchange struct {
	// Alphabetic code of ISO 4217.
	Code Text `yaml:"code,required"`
	// What one unit of the book's currency is worth in it.
	Rate Rate `yaml:"rate,required"`
	// The day of the rate, of ISO 8601.
	Date Text `yaml:"date,required"`
}

// Tax of a region. Mode is inclusive (prices are shown with tax), exclusive (tax is added) or zero (with a condition).
type Tax struct {
	// Name of the tax as it stands on the quotation, such as VAT.
	Name Text `yaml:"name,required"`
	// Share of the net price: 0.19 is 19 %. Zero-rated regions give none.
	Rate Rate `yaml:"rate"`
	// inclusive: prices are shown with tax; exclusive: tax is added below the price; zero: none under the condition.
	Mode Text `yaml:"mode,required"`
	// Under which condition no tax is charged; it stands on the quotation.
	Condition Text `yaml:"condition"`
}
