package actuals

import (
	"fmt"
	"slices"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/orders"
	"ribband/core/orders/list"
	"ribband/core/suggest"
	"ribband/core/works"
)

// Booking is the hours of an operation of a boat, or of what one option takes of it where that was booked by itself.
type Booking struct {
	Boat      string
	Hull      int
	Operation int
	Option    int // [All] where all of the operation was booked
	Planned   measure.Hours
	Booked    measure.Hours
	Parts     []Part // of Planned, by option; the rest is the base boat's
	Line      int    // the first of the file
}

// Part is the planned hours of an option.
type Part struct {
	Option int
	Hours  measure.Hours
}

// All stands for no option: all hours of the operation that are not booked for options by themselves.
const All = -1

// Bookings is what a file says.
type Bookings struct {
	List   []Booking
	Rows   int      // of the file
	Notes  []string // what was done with rows beyond taking them as they are
	Faults []error  // of rows and bookings that were left out, with line and remedy
}

const (
	// a row, or a boat's operation, of more hours is a slip: a boat takes about a thousand in all
	mostHours = 2000
	// hours beyond a tenth or ten times of those planned are a lost decimal sign and no work: no source
	mostRatio = 10
)

// key is a booking among others.
type key struct {
	boat              string
	operation, option int
}

// reader reads one file. It keeps what rows have said of a boat, since rows of one boat may stand anywhere.
type reader struct {
	engine  *engine.Engine
	boats   map[string]*orders.Boat // by number of the order
	names   []string                // of the orders
	ops     []string
	options []string
	hulls   []string
	out     Bookings
	at      map[key]int
	hullOf  map[string]int // of finished boats
	lineOf  map[string]int // where their hull was said
	days    map[string]int // lines, by boat, operation, option and day
}

// Read reads hours that were booked, as CSV with the columns boat, operation and hours; day, option, planned and hull
// may stand beside them. Of the boat of an order the order says what was planned; boats long finished say it in the
// columns planned and hull, where planned hours are those of the whole operation, or of the option that is named.
// The error says why nothing can be read.
func Read(text []byte, e *engine.Engine, boats []orders.Boat) (*Bookings, error) {
	l, err := list.Read(text, "boat", "operation", "hours")
	if err != nil {
		return nil, fmt.Errorf("reading hours: %w", err)
	}
	r := reader{engine: e, boats: map[string]*orders.Boat{}, at: map[key]int{}, hullOf: map[string]int{},
		lineOf: map[string]int{}, days: map[string]int{}}
	for i := range boats {
		r.boats[boats[i].Order.Number] = &boats[i]
		r.names = append(r.names, boats[i].Order.Number)
	}
	for _, o := range e.Work.Operations {
		r.ops = append(r.ops, o.ID)
	}
	for i := range e.Pack.Options {
		r.options = append(r.options, e.Pack.Options[i].ID)
	}
	for i := range e.Pack.Hulls {
		r.hulls = append(r.hulls, e.Pack.Hulls[i].ID)
	}
	r.out.Rows, r.out.Faults = l.All, slices.Clone(l.Faults)
	for i := range l.Rows {
		if err := r.row(&l.Rows[i]); err != nil {
			r.out.Faults = append(r.out.Faults, err)
		}
	}
	// only now is known what was booked by itself, and what is left
	r.finish()
	for i, f := range r.out.Faults {
		r.out.Faults[i] = fmt.Errorf("reading hours: %w", f)
	}
	return &r.out, nil
}

// row takes in one row.
func (r *reader) row(x *list.Row) error {
	fault := func(format string, args ...any) error {
		return fmt.Errorf("line %d: %s", x.Line, fmt.Sprintf(format, args...))
	}
	k := key{x.Text("boat"), slices.Index(r.ops, x.Text("operation")), All}
	day, option := x.Text("day"), x.Text("option")
	switch {
	case k.boat == "":
		return fault("boat: whose hours are these? Give the number of its order")
	case k.operation < 0:
		return fault("operation: the book has no operation %.60q; %s", x.Text("operation"),
			suggest.Nearest(x.Text("operation"), r.ops, "write it as the book does"))
	}
	if r.engine.Work.Operations[k.operation].Shop == works.Outside {
		return fault("operation: %q is subcontracted, and has no hours to compare; take the row out",
			r.ops[k.operation])
	}
	if option != "" {
		if k.option = slices.Index(r.options, option); k.option < 0 {
			return fault("option: the book has no option %.60q; %s", option,
				suggest.Nearest(option, r.options, "write it as the book does"))
		}
	}
	// the day decides nothing but whether a row stands there twice; a wrong one is told all the same
	if day != "" {
		if _, err := orders.ParseDay(day); err != nil {
			return fault("day: %v", err)
		}
	}
	// 0 is allowed in a row, since people fill in whole weeks; a booking of nothing is refused when all is read
	booked, err := hours(x, "hours")
	if err != nil {
		return err
	}
	planned, hull, err := r.planned(x, k)
	if err != nil {
		return err
	}
	// hours of many days are the usual case and are summed; twice on one day may be a slip, and is told
	name := fmt.Sprintf("%s of %s", r.ops[k.operation], k.boat)
	if option != "" {
		name = option + ", " + name
	}
	twice := name + " on " + day
	if line, ok := r.days[twice]; ok {
		r.out.Notes = append(r.out.Notes, fmt.Sprintf("line %d: %s stands in line %d already, of the same day; the "+
			"hours are summed: take one out if it was entered twice", x.Line, name, line))
	} else {
		r.days[twice] = x.Line
	}
	i, ok := r.at[k]
	if !ok {
		r.at[k] = len(r.out.List)
		r.out.List = append(r.out.List, Booking{k.boat, hull, k.operation, k.option, planned, booked, nil, x.Line})
		return nil
	}
	b := &r.out.List[i]
	if planned != 0 && b.Planned != 0 && planned != b.Planned {
		return fault("planned: %s h for %s, and %s h in line %d; they are those of all its rows together", planned,
			name, b.Planned, b.Line)
	}
	// one row may say it for all, and a spreadsheet says it in each
	b.Planned = max(b.Planned, planned)
	b.Booked += booked
	return nil
}

// hours are those of a column.
func hours(x *list.Row, column string) (measure.Hours, error) {
	text, err := x.Decimal(column)
	if err != nil {
		return 0, err
	}
	var h measure.Hours
	if h.UnmarshalText([]byte(text)) != nil || h < 0 || h.Float() > mostHours {
		return 0, fmt.Errorf("line %d: %s: %s h; want 0 to %d h", x.Line, column, text, mostHours)
	}
	return h, nil
}

// planned is what a row says of the hours that were planned, 0 for nothing, and which hull it is of. Of the boat of an
// order it looks whether the boat has the operation at all.
func (r *reader) planned(x *list.Row, k key) (measure.Hours, int, error) {
	fault := func(format string, args ...any) error {
		return fmt.Errorf("line %d: %s", x.Line, fmt.Sprintf(format, args...))
	}
	if b, ok := r.boats[k.boat]; ok {
		if !slices.ContainsFunc(b.Answer.Work.Lines, func(l works.Line) bool { return of(&l, k) }) {
			what := ""
			if k.option != All {
				what = fmt.Sprintf(" for %q", r.options[k.option])
			}
			return 0, 0, fault("%s has no operation %q%s; book it where it was worked, or enter the change order",
				k.boat, r.ops[k.operation], what)
		}
		return 0, b.Answer.Hull, nil
	}
	hull, known := r.hullOf[k.boat]
	if name := x.Text("hull"); name != "" {
		i := slices.Index(r.hulls, name)
		switch {
		case i < 0:
			return 0, 0, fault("hull: the book has no hull %.60q; %s", name, suggest.Nearest(name, r.hulls,
				"write it as the book does"))
		case known && i != hull:
			return 0, 0, fault("hull: %s is a %s in line %d; a boat has one hull", k.boat, r.hulls[hull],
				r.lineOf[k.boat])
		case !known:
			r.hullOf[k.boat], r.lineOf[k.boat] = i, x.Line
		}
		hull, known = i, true
	}
	// a slip in the number of an order must not become a boat of the past: that one says its hull
	if !known {
		return 0, 0, fault("boat: there is no order %.60q; %s", k.boat, suggest.Nearest(k.boat, r.names,
			"give -orders with its order, or the columns hull and planned of a boat long finished"))
	}
	if x.Text("planned") == "" {
		return 0, hull, nil
	}
	h, err := hours(x, "planned")
	if err == nil && h == 0 {
		err = fault("planned: 0 h for %q; book it where it was planned", r.ops[k.operation])
	}
	return h, hull, err
}

// of says whether a line of work is of an operation, and of its option if one is named.
func of(l *works.Line, k key) bool {
	return l.Operation == k.operation && (k.option == All || optional(l) && l.For.Index == k.option)
}

// optional says whether a line of work is that of an option.
func optional(l *works.Line) bool { return l.For.Kind == works.Option }

// finish enters what was planned, and leaves out what cannot be compared.
func (r *reader) finish() {
	r.out.List = slices.DeleteFunc(r.out.List, func(b Booking) bool { return r.underWay(&b) })
	for i := range r.out.List {
		b := &r.out.List[i]
		if boat, ok := r.boats[b.Boat]; ok {
			r.split(b, boat)
		} else if b.Option != All {
			b.Parts = []Part{{b.Option, b.Planned}}
		}
	}
	r.out.List = slices.DeleteFunc(r.out.List, func(b Booking) bool {
		err := r.absurd(&b)
		if err != nil {
			r.out.Faults = append(r.out.Faults, err)
		}
		return err != nil
	})
}

// underWay says whether an order still works on an operation: its hours are not yet those that it takes. An order
// without any step is one that does not keep them.
func (r *reader) underWay(b *Booking) bool {
	boat, ok := r.boats[b.Boat]
	if !ok || len(boat.Order.Done) == 0 {
		return false
	}
	op := r.ops[b.Operation]
	if slices.ContainsFunc(boat.Order.Done, func(s orders.Step) bool { return s.Operation == op && !s.Done.IsZero() }) {
		return false
	}
	r.out.Notes = append(r.out.Notes, fmt.Sprintf("line %d: %s of %s is not done, by its order; its hours count when "+
		"it is", b.Line, op, b.Boat))
	return true
}

// split enters what an order planned: of the option that is named, or of all that is not booked by itself.
func (r *reader) split(b *Booking, boat *orders.Boat) {
	for i := range boat.Answer.Work.Lines {
		l := &boat.Answer.Work.Lines[i]
		if !of(l, key{b.Boat, b.Operation, b.Option}) {
			continue
		}
		if !optional(l) {
			b.Planned += l.Hours
			continue
		}
		// what somebody booked for the option is not in the rest a second time
		if _, itself := r.at[key{b.Boat, b.Operation, l.For.Index}]; b.Option == All && itself {
			continue
		}
		b.Planned += l.Hours
		b.Parts = append(b.Parts, Part{l.For.Index, l.Hours})
	}
}

// absurd says why a booking cannot be.
func (r *reader) absurd(b *Booking) error {
	op := r.ops[b.Operation]
	switch {
	case b.Planned == 0: // all of it is booked by option, or no row of a finished boat has it
		return fmt.Errorf("line %d: planned: nothing is planned for %s of %s besides what is booked by option; give "+
			"its hours, or book it for an option", b.Line, op, b.Boat)
	case b.Booked == 0:
		return fmt.Errorf("line %d: hours: 0 h in all for %s of %s; enter what it took, or take the row out", b.Line,
			op, b.Boat)
	case b.Booked > b.Planned.Times(mostRatio) || b.Booked.Times(mostRatio) < b.Planned:
		return fmt.Errorf("line %d: hours: %s h for %s of %s, and %s h planned; look for a decimal sign that is lost, "+
			"or book it where it was worked", b.Line, b.Booked, op, b.Boat, b.Planned)
	}
	return nil
}
