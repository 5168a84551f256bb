// Package desk is a desk at work: one spec that a person is changing, and what the page must show after each change. It takes a
// [Request] and gives a [Reply]; the page, the worker and the bridge in between know nothing of boats.
package desk

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/screen"
	"ribband/core/spec"
)

// Version is that of the messages; page and engine of different versions do not talk.
const Version = 1

// Request is one thing that a person did. Its twin is web/page/protocol.ts.
type Request struct {
	Version int               `json:"v"`
	ID      int               `json:"id"`
	Act     string            `json:"act"`
	Slot    string            `json:"slot,omitempty"`
	Option  string            `json:"option,omitempty"`
	Field   string            `json:"field,omitempty"`
	Key     string            `json:"key,omitempty"`
	Value   string            `json:"value,omitempty"`
	Checked bool              `json:"checked,omitempty"`
	Text    string            `json:"text,omitempty"` // of a file, or a stored spec
	Link    string            `json:"link,omitempty"` // the fragment of the address
	Form    map[string]string `json:"form,omitempty"`
}

// Reply is what the page does next. An Error leaves everything as it was.
type Reply struct {
	Version   int               `json:"v"`
	ID        int               `json:"id"`
	Error     string            `json:"error,omitempty"`
	Fragments []screen.Fragment `json:"fragments,omitempty"`
	Link      string            `json:"link,omitempty"`
	Spec      string            `json:"spec,omitempty"` // to keep in the browser's storage
	Spoken    string            `json:"spoken,omitempty"`
	Paper     *Paper            `json:"paper,omitempty"`
}

// Paper is a document to show, print or save. Files are what can be saved beside it.
type Paper struct {
	Title string `json:"title"`
	HTML  string `json:"html,omitempty"`
	Files []File `json:"files,omitempty"`
}

// File is a file to save.
type File struct {
	Name string `json:"name"`
	Type string `json:"type"`
	Text string `json:"text"`
}

// Desk is one page's state.
type Desk struct {
	engine  *quote.Engine
	answer  *quote.Answer
	system  measure.System
	details quote.Details
	shown   map[string]string // the fragments that the page has
	view    *screen.View
	// of the last change
	remarks     []string
	reopened    *quote.Quote
	differences []quote.Difference
}

// New seats a desk before the standard build of the first hull.
func New(p *pack.Pack) (*Desk, error) {
	e, err := quote.Compile(p)
	if err != nil {
		return nil, err
	}
	if len(p.Hulls) == 0 {
		return nil, errors.New("opening a desk: the book has no hull")
	}
	d := &Desk{engine: e, system: measure.Metric, shown: map[string]string{}}
	if d.answer, err = e.AnswerStandard(0, ""); err != nil {
		return nil, err
	}
	d.look()
	return d, nil
}

// View is what the page shows now.
func (d *Desk) View() *screen.View { return d.view }

func (d *Desk) look() {
	d.view = &screen.View{Engine: d.engine, Answer: d.answer, System: d.system, Details: d.details, Remarks: d.remarks, Reopened: d.reopened, Differences: d.differences}
	d.view.Options, d.view.Empty = d.engine.Fit.Verdicts(d.answer.Build)
}

// act is one kind of request: it gives the changed spec, or makes a paper, or fails.
type act func(d *Desk, r *Request, reply *Reply) error

var acts = map[string]act{
	"open": (*Desk).open, "hull": (*Desk).hull, "choose": (*Desk).choose, "toggle": (*Desk).toggle, "count": (*Desk).count, "empty": (*Desk).empty,
	"standard": (*Desk).standard, "use": (*Desk).use, "units": (*Desk).units, "reset": (*Desk).reset, "discount": (*Desk).discount,
	"line": (*Desk).line, "remove": (*Desk).remove, "freeze": (*Desk).freeze, "file": (*Desk).file, "specification": (*Desk).specification,
	"sheet": (*Desk).sheet,
}

// Handle does what a request asks for. It never fails otherwise than by the reply's Error.
func (d *Desk) Handle(r Request) Reply {
	reply := Reply{Version: Version, ID: r.ID}
	do, known := acts[r.Act]
	switch {
	case r.Version != Version:
		reply.Error = fmt.Sprintf("The page speaks version %d and the engine version %d. Load the page again.", r.Version, Version)
	case !known:
		reply.Error = fmt.Sprintf("The engine does not know what %.40q means. Load the page again.", r.Act)
	default:
		d.remarks = nil
		if err := do(d, &r, &reply); err != nil {
			reply.Error = sentence(err.Error())
		}
	}
	if reply.Error != "" {
		clear(d.shown) // the page shows what a person tried: everything goes to it again
	}
	d.look()
	for _, f := range d.view.Fragments() {
		if shown, ok := d.shown[f.ID]; !ok || shown != f.HTML {
			d.shown[f.ID] = f.HTML
			reply.Fragments = append(reply.Fragments, f)
		}
	}
	reply.Link, reply.Spec, reply.Spoken = d.answer.Spec.Link(), string(d.answer.Spec.Encode()), d.view.Spoken()
	return reply
}

func sentence(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		s = string(s[0]-'a'+'A') + s[1:]
	}
	if strings.HasSuffix(s, "?") {
		return s
	}
	return strings.TrimSuffix(s, ".") + "."
}

// settle answers a changed spec; on failure the desk stays as it was.
func (d *Desk) settle(s spec.Spec, remarks []string) error {
	a, err := d.engine.Answer(s)
	if err != nil {
		return err
	}
	d.answer, d.remarks = a, append(d.remarks, remarks...)
	d.reopened, d.differences = nil, nil // a quote that was opened said nothing of the boat as it is now
	return nil
}

// open seats the desk before a link, a stored spec, or the standard build: the first of them that there is.
func (d *Desk) open(r *Request, _ *Reply) error {
	switch {
	case r.Link != "":
		s, damage := spec.FromLink(r.Link)
		return d.openSpec(s, damage)
	case r.Text != "":
		s, err := spec.Decode([]byte(r.Text))
		if err != nil {
			return fmt.Errorf("what was stored here could not be read, so this is the standard build: %w", err)
		}
		return d.openSpec(s, nil)
	}
	return nil
}

// openSpec keeps of a spec what this edition knows, and says what it does not.
func (d *Desk) openSpec(s spec.Spec, remarks []string) error {
	a, err := d.engine.Answer(s)
	if err != nil && !d.hasHull(s.Hull) {
		first := d.engine.Pack.Hulls[0]
		remarks = append(remarks, sentence(err.Error())+" This is the "+first.Title+".")
		s.Hull = first.ID
		a, err = d.engine.Answer(s)
	}
	if err != nil {
		return err
	}
	for _, n := range a.Notes {
		remarks = append(remarks, sentence(n.String()))
	}
	return d.settle(d.engine.Usable(a), remarks)
}

func (d *Desk) hasHull(id string) bool {
	return slices.ContainsFunc(d.engine.Pack.Hulls, func(h pack.Hull) bool { return h.ID == id })
}

func (d *Desk) hull(r *Request, _ *Reply) error {
	s, remarks, err := d.engine.MoveTo(d.answer.Spec, r.Value)
	if err != nil {
		return err
	}
	return d.settle(s, remarks)
}

func (d *Desk) choose(r *Request, _ *Reply) error { return d.put(r.Option, 1) }

func (d *Desk) toggle(r *Request, _ *Reply) error {
	if r.Checked {
		return d.put(r.Option, 1)
	}
	return d.put(r.Option, 0)
}

func (d *Desk) count(r *Request, _ *Reply) error {
	n, err := strconv.Atoi(strings.TrimSpace(r.Value))
	if err != nil {
		return fmt.Errorf("%.20q is no count; write a whole number", r.Value)
	}
	return d.put(r.Option, n)
}

func (d *Desk) put(option string, count int) error {
	s, remarks, err := d.engine.Choose(d.answer, option, count)
	if err != nil {
		return err
	}
	return d.settle(s, remarks)
}

func (d *Desk) empty(r *Request, _ *Reply) error {
	s, remarks, err := d.engine.Empty(d.answer, r.Slot)
	if err != nil {
		return err
	}
	return d.settle(s, remarks)
}

func (d *Desk) standard(r *Request, _ *Reply) error {
	return d.settle(d.engine.Release(d.answer.Spec, r.Slot), nil)
}

func (d *Desk) use(r *Request, _ *Reply) error {
	s := d.answer.Spec.Clone()
	if s.Use == nil {
		s.Use = map[string]spec.Value{}
	}
	v := spec.Value{Choice: r.Value}
	if n, err := strconv.ParseFloat(r.Value, 64); err == nil && !d.hasChoices(r.Field) {
		v = spec.Value{Number: n}
	}
	s.Use[r.Field] = v
	a, err := d.engine.Answer(s)
	if err != nil {
		return err
	}
	for _, n := range a.Notes {
		if n.Place == "use."+r.Field {
			return errors.New(n.Message + "; " + n.Advice)
		}
	}
	return d.settle(s, nil)
}

// hasChoices says that a use is one of some choices, which may look like a number.
func (d *Desk) hasChoices(field string) bool {
	return slices.ContainsFunc(d.engine.Pack.Use, func(u pack.UseField) bool { return u.ID == field && len(u.Choices) > 0 })
}

func (d *Desk) units(r *Request, _ *Reply) error {
	d.system = measure.Metric
	if r.Value == string(measure.USCustomary) {
		d.system = measure.USCustomary
	}
	return nil
}

func (d *Desk) reset(*Request, *Reply) error {
	d.details = quote.Details{}
	return d.settle(spec.Spec{Format: spec.Format, Hull: d.answer.Spec.Hull}, nil)
}

func (d *Desk) discount(r *Request, _ *Reply) error {
	s := d.answer.Spec.Clone()
	given := spec.Discount{Title: strings.TrimSpace(r.Form["title"]), On: r.Form["on"]}
	value := strings.TrimSpace(r.Form["value"])
	if number, percent := strings.CutSuffix(value, "%"); percent {
		a, err := money.Parse(decimal(number))
		if err != nil {
			return err
		}
		if given.Share, err = money.ParseRate(a.Scaled(1, -2).String()); err != nil {
			return err
		}
	} else {
		var err error
		if given.Amount, err = d.amount(value); err != nil {
			return err
		}
	}
	s.Discounts = append(s.Discounts, given)
	return d.checked(s)
}

// decimal lets people write a comma and spaces in numbers.
func decimal(s string) string {
	return strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "", ",", ".").Replace(strings.TrimSpace(s))
}

// amount reads money as people write it. A comma or point that may group thousands is refused: a guess could be wrong a thousandfold.
func (d *Desk) amount(s string) (money.Amount, error) {
	text, digits := decimal(s), d.engine.Pricing.Currency().Digits
	_, fraction, _ := strings.Cut(text, ".")
	if len(fraction) > digits || len(fraction) == 3 && strings.Contains(s, ",") {
		return money.Amount{}, fmt.Errorf("%.20q has too many digits behind its comma or point; write thousands without a sign between, as 1500, and at most %d digits behind the point", s, digits)
	}
	return money.Parse(text)
}

// checked settles a spec made of what was typed, under the same checks as one read from a file.
func (d *Desk) checked(s spec.Spec) error {
	s, err := spec.Decode(s.Encode())
	if err != nil {
		return err
	}
	return d.settle(s, nil)
}

func (d *Desk) line(r *Request, _ *Reply) error {
	s := d.answer.Spec.Clone()
	l := spec.Line{Title: strings.TrimSpace(r.Form["title"])}
	for n := len(s.Lines) + 1; l.ID == ""; n++ {
		l.ID = "line-" + strconv.Itoa(n)
		for _, other := range s.Lines {
			if other.ID == l.ID {
				l.ID = ""
			}
		}
	}
	var err error
	if l.Price, err = d.amount(r.Form["price"]); err != nil {
		return err
	}
	if text := r.Form["cost"]; decimal(text) != "" {
		if l.Cost, err = d.amount(text); err != nil {
			return err
		}
	}
	if text := decimal(r.Form["hours"]); text != "" {
		var h measure.Hours
		if err = h.UnmarshalText([]byte(text)); err != nil {
			return err
		}
		l.Hours = map[string]measure.Hours{r.Form["shop"]: h}
	}
	s.Lines = append(s.Lines, l)
	return d.checked(s)
}

func (d *Desk) remove(r *Request, _ *Reply) error {
	s := d.answer.Spec.Clone()
	i, err := strconv.Atoi(r.Field)
	switch {
	case err == nil && r.Key == "discount" && i >= 0 && i < len(s.Discounts):
		s.Discounts = append(s.Discounts[:i], s.Discounts[i+1:]...)
	case err == nil && r.Key == "line" && i >= 0 && i < len(s.Lines):
		s.Lines = append(s.Lines[:i], s.Lines[i+1:]...)
	default:
		return errors.New("there is nothing to remove")
	}
	return d.settle(s, nil)
}

// freeze makes the quotation from the form of the page.
func (d *Desk) freeze(r *Request, reply *Reply) error {
	f := func(name string) string { return strings.TrimSpace(r.Form[name]) }
	d.details = quote.Details{Number: f("number"), Date: f("date"), ValidUntil: f("valid"), Seller: f("seller"), Approval: f("approval"), Remarks: f("remarks"), Units: d.system,
		Customer: quote.Party{Name: f("name"), Address: lines(f("address")), Email: f("email"), Phone: f("phone")}}
	q, err := d.engine.Freeze(d.answer, d.details)
	if err != nil {
		return err
	}
	reply.Paper, err = papers(q, "quotation-"+fileName(q.Number))
	if err == nil {
		reply.Paper.Files = append(reply.Paper.Files, File{"quotation-" + fileName(q.Number) + ".json", "application/json", string(q.Encode())})
	}
	return err
}

func lines(s string) []string {
	var out []string
	for _, l := range strings.Split(s, "\n") {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// fileName keeps letters, digits and hyphens.
func fileName(s string) string {
	return strings.Map(func(c rune) rune {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' {
			return c
		}
		return '-'
	}, s)
}

func papers(q *quote.Quote, name string) (*Paper, error) {
	html, err := paper.Customer(q, paper.AsHTML)
	if err != nil {
		return nil, err
	}
	text, err := paper.Customer(q, paper.AsText)
	if err != nil {
		return nil, err
	}
	return &Paper{Title: q.Hull, HTML: string(html), Files: []File{{name + ".html", "text/html", string(html)}, {name + ".txt", "text/plain", string(text)}}}, nil
}

// specification makes the paper of a boat that is not quoted yet.
func (d *Desk) specification(_ *Request, reply *Reply) (err error) {
	q := d.engine.DraftIn(d.answer, d.system)
	if reply.Paper, err = papers(q, "specification-"+d.answer.Spec.Hull); err == nil {
		reply.Paper.Files = append(reply.Paper.Files, File{"specification-" + d.answer.Spec.Hull + ".json", "application/json", string(d.answer.Spec.Encode())})
	}
	return err
}

// sheet makes the yard's papers.
func (d *Desk) sheet(_ *Request, reply *Reply) error {
	y := d.engine.YardSheet(d.answer)
	if y == nil {
		return errors.New("this desk has no yard sheet")
	}
	q := d.engine.DraftIn(d.answer, d.system)
	q.Details = d.details
	name := "yard-sheet-" + fileName(d.answer.Spec.Hull)
	reply.Paper = &Paper{Title: "Yard sheet, " + y.Hull}
	for _, f := range []struct {
		format    paper.Format
		end, kind string
	}{{paper.AsHTML, ".html", "text/html"}, {paper.AsText, ".txt", "text/plain"}, {paper.AsCSV, ".csv", "text/csv"}, {paper.AsJSON, ".json", "application/json"}} {
		text, err := paper.Yard(y, q, f.format)
		if err != nil {
			return err
		}
		if f.format == paper.AsHTML {
			reply.Paper.HTML = string(text)
		}
		reply.Paper.Files = append(reply.Paper.Files, File{name + f.end, f.kind, string(text)})
	}
	return nil
}

// file opens a quote or a spec.
func (d *Desk) file(r *Request, _ *Reply) error {
	q, err := quote.Decode([]byte(r.Text))
	if err != nil {
		s, specErr := spec.Decode([]byte(r.Text))
		if specErr != nil {
			return fmt.Errorf("the file is neither a quote nor a specification: %w; %w", err, specErr)
		}
		return d.openSpec(s, nil)
	}
	_, a, differences, err := d.engine.Reopen(q)
	if err != nil {
		return err
	}
	if err := d.openSpec(a.Spec, nil); err != nil {
		return err
	}
	d.details, d.reopened, d.differences = q.Details, q, differences
	return nil
}
