package orders

import (
	"fmt"

	"ribband/core/measure"
	"ribband/core/orders/list"
)

// Booking is a step of an order, as somebody brings it from the shops.
type Booking struct {
	Order string
	Step  Step
	Line  int // of the list that it stands in; 0 for none
}

// ReadBookings reads a list of work done, as CSV with the columns order, operation, begun, done and hours; done is
// empty where the work goes on. What is wrong with a row is a fault with its line, and the other rows are kept. An
// error says why nothing is read.
func ReadBookings(text []byte) ([]Booking, []error, error) {
	l, err := list.Read(text, "order", "operation", "begun", "done", "hours")
	if err != nil {
		return nil, nil, fmt.Errorf("reading work done: %w", err)
	}
	faults := l.Faults
	var out []Booking
	for i := range l.Rows {
		b, err := booking(&l.Rows[i])
		if err != nil {
			faults = append(faults, err)
			continue
		}
		out = append(out, b)
	}
	for i, fault := range faults {
		faults[i] = fmt.Errorf("reading work done: %w", fault)
	}
	return out, faults, nil
}

// booking reads one row. That the order is there, and its boat has the operation, is seen when it is entered.
func booking(r *list.Row) (b Booking, err error) {
	b = Booking{Order: r.Text("order"), Step: Step{Operation: r.Text("operation")}, Line: r.Line}
	for _, day := range []struct {
		column string
		to     *Day
	}{{"begun", &b.Step.Begun}, {"done", &b.Step.Done}} {
		if err := day.to.UnmarshalText([]byte(r.Text(day.column))); err != nil {
			return b, fmt.Errorf("line %d: %s: %w", r.Line, day.column, err)
		}
	}
	// with the decimal sign of the list, which is the same in all of its rows
	text, err := r.Decimal("hours")
	if err != nil {
		return b, err
	}
	var hours measure.Hours
	if err := hours.UnmarshalText([]byte(text)); err != nil {
		return b, fmt.Errorf("line %d: hours: %w", r.Line, err)
	}
	b.Step.Hours = hours
	return b, nil
}
