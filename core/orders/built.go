package orders

import (
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"ribband/core/capacity"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/suggest"
	"ribband/core/visible"
	"ribband/core/works"
)

// Built is what is known of a boat once it is there, and of no boat before: its number, what its makers wrote on the
// cards, its pictures, who has it. It stands in the file of its order; the boat's file is made of it.
type Built struct {
	// Serial and Month are of the hull number: the yard's running number, five characters, and the month of building as
	// 2027-03. Where the details of the quotation have them, too, they are the same.
	Serial string `json:"hull_serial,omitempty"`
	Month  string `json:"hull_month,omitempty"`
	// Values that the shops filled in on their cards, each once: serial numbers, batches, what was measured.
	Noted []Noted `json:"noted,omitempty"`
	// Runs of the trial: the battery current at a speed.
	Runs        []Run        `json:"runs,omitempty"`
	Photographs []Photograph `json:"photographs,omitempty"`
	Owner       *quote.Party `json:"owner,omitempty"` // where it is not the customer of the quotation
	// on which the boat was handed over: warranty runs from then
	HandedOver Day        `json:"handed_over,omitzero"`
	Warranty   []Warranty `json:"warranty,omitempty"`
}

// Noted is a value of a card: of a check of an operation, by the identifiers of the book. A number is decimal text with
// a point.
type Noted struct {
	Operation string `json:"operation"`
	Check     string `json:"check"`
	Value     string `json:"value"`
}

// Run is a speed at trial with the current that the battery gave.
type Run struct {
	SpeedKn  float64 `json:"speed_kn"`
	CurrentA float64 `json:"current_a"`
}

// Photograph is a picture by the name of its file in the folder of the boat, with the SHA-256 of its bytes in
// hexadecimal: a picture that was changed is found.
type Photograph struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
	Title  string `json:"title"`
}

// Warranty is until when the yard or a maker answers for something.
type Warranty struct {
	Title string `json:"title"`
	Until Day    `json:"until"`
}

// Bounds of what stands in a boat's file: more than any boat has, so that a slip is seen.
const (
	maxLine       = 300 // bytes of a text
	maxNoted      = 1000
	maxPictures   = 500
	maxRuns       = 100
	maxSpeedKn    = 60
	maxCurrentA   = 5000
	sha256Letters = 64
)

// check says what cannot stand in a boat's file, as far as that does not need the book.
func (b *Built) check() error {
	// everything that is typed, by its place
	type line struct{ place, text string }
	lines := []line{{"hull_serial", b.Serial}, {"hull_month", b.Month}}
	for i, n := range b.Noted {
		place := fmt.Sprintf("noted[%d]", i)
		lines = append(lines, line{place + ".value", n.Value})
		if earlier := slices.IndexFunc(b.Noted[:i], n.same); earlier >= 0 {
			return fmt.Errorf("built.%s: %s of %s stands in noted[%d] already; keep one", place, n.Check, n.Operation,
				earlier)
		}
		if n.Operation == "" || n.Check == "" || n.Value == "" {
			return fmt.Errorf("built.%s: give operation, check and value", place)
		}
	}
	for i, p := range b.Photographs {
		place := fmt.Sprintf("photographs[%d]", i)
		lines = append(lines, line{place + ".file", p.File}, line{place + ".title", p.Title})
		if !plainName(p.File) {
			return fmt.Errorf("built.%s.file: %.60q is no name of a file in the folder of the boat; leave folders out",
				place, p.File)
		}
		if raw, err := hex.DecodeString(p.SHA256); err != nil || 2*len(raw) != sha256Letters ||
			p.SHA256 != strings.ToLower(p.SHA256) {
			return fmt.Errorf("built.%s.sha256: want the SHA-256 of %s in 64 hexadecimal digits", place, p.File)
		}
		if slices.ContainsFunc(b.Photographs[:i], func(q Photograph) bool { return q.File == p.File }) {
			return fmt.Errorf("built.%s.file: %s stands there already", place, p.File)
		}
	}
	for i, w := range b.Warranty {
		lines = append(lines, line{fmt.Sprintf("warranty[%d].title", i), w.Title})
		if w.Until.IsZero() || w.Until.Before(b.HandedOver) {
			return fmt.Errorf("built.warranty[%d].until: give a day after the hand-over, as 2029-03-31", i)
		}
	}
	// a boat is sold on, and its file goes with it
	if b.Owner != nil {
		lines = append(lines, line{"owner.name", b.Owner.Name}, line{"owner.email", b.Owner.Email},
			line{"owner.phone", b.Owner.Phone})
		for _, l := range b.Owner.Address {
			lines = append(lines, line{"owner.address", l})
		}
	}
	for _, l := range lines {
		if err := checkLine(l.text); err != nil {
			return fmt.Errorf("built.%s: %w", l.place, err)
		}
	}
	if n := max(len(b.Noted)-maxNoted, len(b.Photographs)-maxPictures, len(b.Runs)-maxRuns); n > 0 {
		return fmt.Errorf("built: a list in it is longer than any boat has, by %d", n)
	}
	return b.checkNumbers()
}

// same says whether two values are of one check.
func (n Noted) same(m Noted) bool { return n.Operation == m.Operation && n.Check == m.Check }

// checkNumbers looks at the hull number and the runs.
func (b *Built) checkNumbers() error {
	if b.Serial != "" {
		if err := capacity.CheckSerial(b.Serial); err != nil {
			return fmt.Errorf("built.hull_serial: %w", err)
		}
	}
	if _, err := time.Parse("2006-01", b.Month); b.Month != "" && err != nil {
		return fmt.Errorf("built.hull_month: %.40q is no month; write it as 2027-03", b.Month)
	}
	for i, r := range b.Runs {
		// written so that what is no number is refused, too
		if !(r.SpeedKn > 0 && r.SpeedKn <= maxSpeedKn) || !(r.CurrentA >= 0 && r.CurrentA <= maxCurrentA) {
			return fmt.Errorf("built.runs[%d]: %v A at %v kn; want up to %d A and %d kn", i, r.CurrentA, r.SpeedKn,
				maxCurrentA, maxSpeedKn)
		}
	}
	return nil
}

// checkLine says what no line of a paper may hold.
func checkLine(text string) error {
	if len(text) > maxLine {
		return fmt.Errorf("it has %d bytes; at most %d fit on a line", len(text), maxLine)
	}
	if !utf8.ValidString(text) {
		return fmt.Errorf("%.40q is no UTF-8", text)
	}
	if r, _, ok := visible.Hidden(text, false); ok {
		return fmt.Errorf("%.40q has the character %U, which nobody sees; take it out", text, r)
	}
	return nil
}

// plainName says whether a name is that of a file in a folder, and leads nowhere else on any machine.
func plainName(name string) bool {
	return name != "" && !strings.HasPrefix(name, ".") && !strings.ContainsAny(name, `/\:`) && len(name) <= maxLine
}

// HullNumber is the number of the boat by the book's maker and country, as it is written where the boat goes, or what
// is missing of it.
func (o *Order) HullNumber(e *engine.Engine) quote.HullNumber {
	market, to := "", o.Quote().Price.RegionID
	if i := slices.IndexFunc(e.Pack.Regions, func(r pack.Region) bool { return r.ID == to }); i >= 0 {
		market = e.Pack.Regions[i].Limits
	}
	return quote.NumberOf(e, market, o.Details())
}

// Details are those of the quotation, with what is known of the boat by now.
func (o *Order) Details() quote.Details {
	// a quotation is issued before anybody knows which hull of the mould it will be
	d := o.Quote().Details
	if b := o.Built; b != nil {
		// one that is given in both is the same in both, see checkBuilt
		if b.Serial != "" {
			d.Serial = b.Serial
		}
		if b.Month != "" {
			d.Built = b.Month
		}
	}
	return d
}

// checkBuilt looks at what is known of the boat, and that the quotation says no other number.
func (o *Order) checkBuilt() error {
	b, d := o.Built, o.Quote().Details
	if b == nil {
		return nil
	}
	if err := b.check(); err != nil {
		return err
	}
	// whichever of the two is wrong, a plate may have been engraved by it: somebody has to look
	differ := func(a, b string) bool { return a != "" && b != "" && a != b }
	if differ(b.Serial, d.Serial) || differ(b.Month, d.Built) {
		return fmt.Errorf("built.hull_serial: the quotation has %s of %s, and not %s of %s; a boat has one number",
			d.Serial, d.Built, b.Serial, b.Month)
	}
	return nil
}

// Registered is an entry of the register of hull numbers.
type Registered struct {
	Order    string `json:"order"`
	Hull     string `json:"hull"`
	Serial   string `json:"serial"`
	Number   string `json:"number,omitempty"` // whole, with the country
	Customer string `json:"customer"`
}

// Register are the hull numbers that were given, by serial number; what is missing of one leaves its number empty. It
// follows from the orders, so that it cannot be out of step with them.
func Register(e *engine.Engine, list []*Order) (out []Registered) {
	// boats without a number yet are none of the register
	for _, o := range list {
		d := o.Details()
		if d.Serial == "" {
			continue
		}
		out = append(out, Registered{o.Number, o.Quote().Hull, d.Serial, o.HullNumber(e).Full, o.Quote().Customer.Name})
	}
	slices.SortStableFunc(out, func(x, y Registered) int { return strings.Compare(x.Serial, y.Serial) })
	return out
}

// OfSerial is the order of another boat that has a serial number; nil for none, and for no number.
func OfSerial(list []*Order, serial, but string) *Order {
	i := slices.IndexFunc(list, func(o *Order) bool {
		return serial != "" && o.Number != but && o.Details().Serial == serial
	})
	if i < 0 {
		return nil
	}
	return list[i]
}

// serials refuses a serial number that another order has already: no number is given twice. The order itself stays, as
// its boat is there.
func (f *Folder) serials() {
	// by the serial number alone: month and model year may not make two boats of one
	by := map[string]string{}
	for _, o := range f.Orders {
		serial := o.Details().Serial
		if serial == "" {
			continue
		}
		if first, taken := by[serial]; taken {
			f.Faults = append(f.Faults, Fault{o.Number + ending, fmt.Errorf("reading an order: built.hull_serial: %s "+
				"is the number of order %s already; give this boat another one", serial, first)})
			continue
		}
		by[serial] = o.Number
	}
}

// Note is the order with values of cards entered, each held to the checks that the book has for its operation. What
// cannot be is a fault by its place in the list, and the rest is entered. A value that stands there already is
// replaced: a card is read again more often than a boat is measured twice.
func (o *Order) Note(e *engine.Engine, list []Noted) (*Order, []EntryFault, error) {
	a, err := e.Answer(o.Quote().Spec)
	if err != nil {
		return nil, nil, fmt.Errorf("noting values of the order %s: %w", o.Number, err)
	}
	// of the boat as it is built now: what a change took out has no card any more
	checks := checksOf(e, a)
	b := o.built()
	var faults []EntryFault
	for i, n := range list {
		if err := checks.check(n); err != nil {
			faults = append(faults, EntryFault{i, fmt.Errorf("noting values of the order %s: %w", o.Number, err)})
			continue
		}
		if at := slices.IndexFunc(b.Noted, n.same); at >= 0 {
			b.Noted[at] = n
		} else {
			b.Noted = append(b.Noted, n)
		}
	}
	next, err := o.With(b)
	return next, faults, err
}

// built is a copy of what is known of the boat.
func (o *Order) built() *Built {
	b := &Built{}
	if o.Built != nil {
		*b = *o.Built
		b.Noted, b.Photographs = slices.Clone(b.Noted), slices.Clone(b.Photographs)
		b.Runs, b.Warranty = slices.Clone(b.Runs), slices.Clone(b.Warranty)
	}
	return b
}

// With is the order with what is known of its boat.
func (o *Order) With(b *Built) (*Order, error) {
	changed := *o
	changed.Built = b
	next, err := changed.anew()
	if err != nil {
		return nil, fmt.Errorf("entering what is known of the boat of order %s: %w", o.Number, err)
	}
	return next, nil
}

// Known is a copy of what is known of the boat, to be changed and given to [Order.With].
func (o *Order) Known() *Built { return o.built() }

// operationChecks are the checks of a boat's operations, by the identifier of the operation.
type operationChecks struct {
	engine     *engine.Engine
	operations []string
	index      map[string]int
}

// checksOf are those of a boat, in the order of its work.
func checksOf(e *engine.Engine, a *engine.Answer) *operationChecks {
	c := &operationChecks{engine: e, index: map[string]int{}}
	for _, t := range a.Work.Tasks() {
		if t.Operation == works.NoOperation {
			continue
		}
		id := e.Work.Operations[t.Operation].ID
		c.operations, c.index[id] = append(c.operations, id), t.Operation
	}
	return c
}

// check says why a value cannot be one of the boat's.
func (c *operationChecks) check(n Noted) error {
	// a value of another boat's card is told by its operation, which this one does not have
	at, ok := c.index[n.Operation]
	if !ok {
		return fmt.Errorf("this boat has no operation %.60q; %s", n.Operation,
			suggest.Nearest(n.Operation, c.operations, "see the card of its shop"))
	}
	var known []string
	for _, k := range c.engine.Work.Operations[at].Checks {
		if known = append(known, k.ID); k.ID != n.Check {
			continue
		}
		if _, err := strconv.ParseFloat(n.Value, 64); k.Unit != "" && err != nil {
			return fmt.Errorf("%s of %s: %.40q is no number; write it in %s, with a point", n.Check, n.Operation,
				n.Value, k.Unit)
		}
		return checkLine(n.Value)
	}
	return fmt.Errorf("%s has no check %.60q; %s", n.Operation, n.Check,
		suggest.Nearest(n.Check, known, fmt.Sprintf("it has %q", known)))
}
