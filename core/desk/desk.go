// Package desk is a desk at work: one spec that a person is changing, and what the page must show after each change. It
// takes a [Request] and gives a [Reply]; the page, the worker and the bridge in between know nothing of boats.
//
// What a person types is read here, and refused here where it can be read in two ways. What a boat is, package engine
// knows; how it looks, package screen. A desk is for one page: it is not safe for use by several goroutines, and but
// for what can be undone, and a search, the browser's storage can bring back all that it holds.
package desk

import (
	"errors"
	"slices"

	"ribband/core/deals"
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/quote"
	"ribband/core/screen"
	"ribband/core/spec"
	"ribband/core/suggest"
	"ribband/core/visible"
)

// Version is that of the messages; page and engine of different versions do not talk. They could meet where a
// cache mixes two publications of the site.
const Version = 1

// Request is one thing that a person did. Its twin is web/page/protocol.ts. Which fields count depends on the act; all
// that it holds comes from outside, and is checked where it is used.
type Request struct {
	Version int    `json:"v"`
	ID      int    `json:"id"`
	Act     string `json:"act"` // a key of acts
	Slot    string `json:"slot,omitempty"`
	Option  string `json:"option,omitempty"`
	Field   string `json:"field,omitempty"`
	Key     string `json:"key,omitempty"`
	Value   string `json:"value,omitempty"`
	Checked bool   `json:"checked,omitempty"`
	Text    string `json:"text,omitempty"` // of a file, or a stored spec
	Link    string `json:"link,omitempty"` // the fragment of the address
	// of a quotation in Text, what the browser found of its signature
	Signature quote.Verdict     `json:"signature,omitempty"`
	Form      map[string]string `json:"form,omitempty"`
	// the panels in view: the reply has these, and the rest follows by acts "rest"; null: all panels at once
	Seen []string `json:"seen,omitempty"`
	// what the page knows of day and device, for what is proposed: the day as 2027-03-31, what the device calls itself
	// in numbers, and the numbers that its other quotations bear
	Today  string   `json:"today,omitempty"`
	Device string   `json:"device,omitempty"`
	Given  []string `json:"given,omitempty"`
	Past   []Past   `json:"past,omitempty"`  // the steps back of a record that is opened
	Timed  bool     `json:"timed,omitempty"` // the reply says how long its parts took
	// why the worker could not bring the words of a language that this request needs
	Unspoken string `json:"unspoken,omitempty"`
	// with a record that is opened: the units that were chosen on this device before
	Units string `json:"units,omitempty"`
}

// Reply is what the page does next. An Error leaves everything as it was.
type Reply struct {
	Version   int               `json:"v"`
	ID        int               `json:"id"`
	Error     string            `json:"error,omitempty"`
	Fragments []screen.Fragment `json:"fragments,omitempty"`
	Link      string            `json:"link,omitempty"`  // the boat as a fragment of an address; public
	Spec      string            `json:"spec,omitempty"`  // to keep in the browser's storage
	Plain     bool              `json:"plain,omitempty"` // there is nothing in the spec that anybody would miss
	// what was stored, or shown before, is not what is shown now: the page sets it aside, so that nothing is lost
	Apart bool `json:"apart,omitempty"`
	// the form of the quotation is another's: what was typed in it is forgotten
	Fresh        bool   `json:"fresh,omitempty"`
	Announcement string `json:"announcement,omitempty"` // for who listens to the page
	Next         string `json:"next,omitempty"`         // a search goes on: the key with which to ask for its next step
	More         bool   `json:"more,omitempty"`         // panels out of view have changed, too: an act "rest" gives some of them
	Paper        *Paper `json:"paper,omitempty"`
	// what a record says of the boat in a list
	Boat  string `json:"boat,omitempty"`
	Total string `json:"total,omitempty"`
	// the step that undo goes back to first is new, or was gone back to
	Pushed *Past `json:"pushed,omitempty"`
	Popped bool  `json:"popped,omitempty"`
	// a quotation was issued: the document to the byte, to be kept before anybody is told
	Quote string `json:"quote,omitempty"`
	// of files of records: those that the page has to give, those that it has to store, and the file to save
	Wanted []string       `json:"wanted,omitempty"`
	Put    []deals.Record `json:"put,omitempty"`
	File   *File          `json:"file,omitempty"`
	// nothing was done: the words of this language have to come first
	Needs string `json:"needs,omitempty"`
	// the page around its panels, where it changes to another language
	Frame *Frame `json:"frame,omitempty"`
	// the boats that are compared with this one, to be kept: links, one on a line; nil where they are as before
	Beside *string `json:"beside,omitempty"`
	// by part, ms; measured by the bridge, since nothing here reads a clock
	Took map[string]float64 `json:"took,omitempty"`
}

// Paper is a document to show, print or save. Files are what can be saved beside it; the names of those that a customer
// must not get say so, since the page only lists them.
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
	// the text is a file in base64, which is no text
	Base64 bool `json:"base64,omitempty"`
}

// Desk is one page's state. Of a boat it holds the answer alone: its spec, its price and what is found out of it on
// demand are there, and the next change starts from them.
type Desk struct {
	// Done, where there is one, is told when a part of a request is done: "apply", "effects", "render". It is how the
	// bridge measures, and nothing depends on it.
	Done func(part string)

	engine  *engine.Engine
	answer  *engine.Answer // of the boat on the page; never nil
	system  measure.System // "" where nobody has chosen, see units
	details quote.Details
	// digest of the spec that the details belong to: on the sheet of another boat they would name the wrong customer
	quoted  string
	papers  string // language of the customer's papers; "" for that of the page
	panels  []screen.Panel
	stale   []bool            // by panel: what it reads has changed since it was rendered
	shown   map[string]string // the fragments that the page has
	view    *screen.View
	asked   *screen.Asked
	past    []step // newest last
	undone  []step // what redo does again, the next one last
	dropped int    // steps that are too long ago
	cards   screen.Cards
	begun   bool // the page has opened its first boat
	search  search
	// the list of this device's records as it is shown, and those of a file that wait for what the device has
	deals    screen.Deals
	incoming []deals.Record
	// of the last change; what was said of a change goes when somebody does the next thing
	mistyped    screen.Mistyped
	find        string
	beside      []*engine.Answer // boats that are compared with the one on the page
	remarks     []string
	announced   string
	reopened    *quote.Quote
	verdict     quote.Verdict // of its signature
	differences []quote.Difference
}

// New seats a desk before the standard build of the first hull. It speaks the language of the engine.
func New(e *engine.Engine) (d *Desk, err error) {
	if len(e.Public().Hulls) == 0 {
		return nil, errors.New("opening a desk: the book has no hull")
	}
	d = &Desk{engine: e, panels: screen.Panels(e), shown: map[string]string{}}
	d.stale = make([]bool, len(d.panels))
	if d.answer, err = e.AnswerStandard(0, ""); err != nil {
		return nil, err
	}
	d.look()
	return d, nil
}

// View is what the page shows now.
func (d *Desk) View() *screen.View { return d.view }

// look takes in what is to be shown now, and marks the panels that read what has changed. Marks stay until a panel is
// rendered, however many changes later: what is out of view is rendered once for all of them.
func (d *Desk) look() {
	// a view is made anew and never changed: two of them can be compared
	before := d.view
	d.view = &screen.View{Engine: d.engine, Answer: d.answer, System: d.reads(), Details: d.details, Remarks: d.remarks,
		Announced: d.announced, Asked: d.asked, Reopened: d.reopened, Verdict: d.verdict,
		Differences: d.differences, Brief: d.sought(), Deals: d.deals, Mistyped: d.mistyped,
		Find: d.find, Beside: d.beside, Cards: &d.cards, Papers: d.papers}
	d.view.Revisions = d.revisions()
	if n := len(d.undone); n > 0 {
		d.view.Redo = d.say(d.undone[n-1].did)
	}
	changed := screen.Changes(before, d.view)
	for i := range d.panels {
		d.stale[i] = d.stale[i] || d.panels[i].Reads&changed != 0
	}
}

// reads is the system of units in which figures are shown: the one chosen, else the usual one.
func (d *Desk) reads() measure.System {
	return d.engine.Units(d.answer, d.system)
}

// act is one kind of request: it changes the boat, or makes a paper, or fails and has changed nothing that is shown.
// An act that is no change of the boat is not for undo to know: see remember.
type act func(d *Desk, r *Request, reply *Reply) error

// acts are what every page can ask for; the page's script and the panels of package screen name them. What only the
// yard's own desks have is in own.
var acts = map[string]act{
	"open": (*Desk).open, "hull": (*Desk).hull, "choose": (*Desk).choose, "toggle": (*Desk).toggle,
	"count": (*Desk).count, "empty": (*Desk).empty,
	"standard": (*Desk).standard, "use": (*Desk).use, "units": (*Desk).units, "reset": (*Desk).reset,
	"file": (*Desk).file, "specification": (*Desk).specification,
	"reason": (*Desk).reason, "repair": (*Desk).repair, "keep": (*Desk).keep,
	"undo": (*Desk).undo, "redo": (*Desk).redo, "language": (*Desk).language,
	"new": (*Desk).begin, "deals": (*Desk).list, "deals-export": (*Desk).exported,
	"deals-import": (*Desk).imported, "deals-merge": (*Desk).merged,
	"rest":       func(*Desk, *Request, *Reply) error { return nil },
	"find":       (*Desk).lookUp,
	"beside-add": (*Desk).besideAdd, "beside-remove": (*Desk).besideRemove, "beside-take": (*Desk).besideTake,
	"beside-open": (*Desk).besideOpen,
	"brief":       (*Desk).brief, "brief-step": (*Desk).briefStep, "brief-stop": (*Desk).briefStop,
	"brief-take": (*Desk).briefTake, "brief-relax": (*Desk).briefRelax,
}

// Handle does what a request asks for. It never fails otherwise than by the reply's Error. Link and spec come with
// every reply, since the page keeps them with each: what is lost with the engine is then at most the last request.
func (d *Desk) Handle(r Request) Reply {
	reply := Reply{Version: Version, ID: r.ID}
	do, known := acts[r.Act]
	if !known {
		do, known = own[r.Act]
	}
	refused := r.bounded()
	if refused == nil && r.Version == Version {
		if tag := d.lacking(&r); tag != "" && r.Unspoken == "" {
			return Reply{Version: Version, ID: r.ID, Needs: tag}
		} else if tag != "" {
			refused = missing(tag, r.Unspoken)
		}
	}
	switch {
	case refused != nil:
		reply.Error, r = d.fault(refused), Request{Seen: r.Seen[:min(len(r.Seen), mostFields)]}
	case r.Version != Version:
		reply.Error = d.engine.Say("desk.other-version", msg.Count("page", r.Version), msg.Count("engine", Version))
	case !known:
		reply.Error = d.engine.Say("desk.unknown-act", quoted("act", r.Act))
	default:
		if !r.byItself() { // else what a person was told would go before it was read
			d.remarks, d.announced, d.mistyped = nil, "", screen.Mistyped{}
		}
		if r.legible() {
			d.remark(msg.New("desk.left-out"))
		}
		if s := measure.System(r.Units); s.Known() {
			d.system = s
		}
		before, was := d.now(&r), d.answer
		if err := do(d, &r, &reply); err != nil {
			reply.Error = d.fault(err)
		} else {
			d.remember(&r, before, was, &reply)
		}
	}
	if reply.Error != "" {
		// the controls on the page show what a person tried, and not what is: everything goes to it again
		clear(d.shown)
		for i := range d.stale {
			d.stale[i] = true
		}
	}
	d.look()
	d.done("apply")
	d.render(&r, &reply)
	reply.Link, reply.Spec, reply.Plain = d.answer.Spec.Link(), string(d.answer.Spec.Encode()), d.plain(d.answer.Spec)
	reply.Boat, reply.Total = d.view.Name()
	if reply.Announcement == "" {
		reply.Announcement = d.view.Announcement()
	}
	return reply
}

// byItself says that the page asks for more, or somebody looks for something, and nobody did anything to the boat. Such
// a request changes nothing that was said of what somebody did.
func (r *Request) byItself() bool {
	return r.Act == "rest" || r.Act == "brief-step" || r.Act == "deals" || r.Act == "find" ||
		r.Act == "beside-open"
}

// mostEffort bounds what is worked out for panels out of view before the next request is looked at: about as many boats
// as are tried in some 15 ms in the page.
const mostEffort = 40

// render puts into the reply what has changed of the panels in view, or of all where the page does not say which; asked
// for the rest, some of the others too. What a panel shows is worked out before anything is written, so that the two
// can be measured apart: the first takes nearly all of the time.
func (d *Desk) render(r *Request, reply *Reply) {
	left := 0
	// beside what is in view, nothing is worked out for a person who waits
	if r.Act == "rest" {
		left = mostEffort
	}
	var chosen []int
	all := r.Seen == nil && r.Act != "rest"
	for i := range d.panels {
		// The form of another customer never waits, in view or not: what is typed would go into the wrong record.
		fresh := reply.Fresh && d.panels[i].ID == screen.CustomerPanel
		if d.stale[i] && (all || fresh || slices.Contains(r.Seen, d.panels[i].ID)) {
			left -= d.panels[i].Effort
			chosen, d.stale[i] = append(chosen, i), false
		}
	}
	for i := range d.panels {
		if d.stale[i] && left > 0 && !d.panels[i].Unseen {
			left -= d.panels[i].Effort
			chosen, d.stale[i] = append(chosen, i), false
		}
	}
	slices.Sort(chosen) // in the order of the page: a reader hears the changes from top to bottom
	for _, i := range chosen {
		if prepare := d.panels[i].Prepare; prepare != nil {
			prepare(d.view)
		}
	}
	d.done("effects")
	for _, i := range chosen {
		d.renderPanel(i, reply)
	}
	d.done("render")
	for i := range d.panels {
		reply.More = reply.More || d.stale[i] && !d.panels[i].Unseen
	}
}

// done reports the end of a part, where somebody measures.
func (d *Desk) done(part string) {
	if d.Done != nil {
		d.Done(part)
	}
}

// renderPanel sends a panel unless the page has the very same: most panels that read what has changed come out alike,
// and what is not sent need not be written, read and laid out.
func (d *Desk) renderPanel(i int, reply *Reply) {
	id, html := d.panels[i].ID, d.panels[i].HTML(d.view)
	if shown, ok := d.shown[id]; !ok || shown != html {
		d.shown[id] = html
		reply.Fragments = append(reply.Fragments, screen.Fragment{ID: id, HTML: html})
	}
}

// fault is an error as the page shows it: a sentence in the language of the desk. Errors start with what was attempted,
// in small letters, since they also stand behind others.
func (d *Desk) fault(err error) string { return d.sentence(msg.Of(err)) }

// remark is a message as a sentence below the hulls, where the page says what a change brought about.
func (d *Desk) remark(m msg.Message) { d.remarks = append(d.remarks, d.sentence(m)) }

// sentence is a message as the page shows it. What cannot be seen of a text that it repeats is named.
func (d *Desk) sentence(m msg.Message) string { return visible.Show(msg.Sentence(d.engine.Text(m))) }

// quoted is what a person typed, or what came in a link, as it is repeated in an answer: never more than fits a line.
func quoted(name, text string) msg.Arg { return msg.Text(name, suggest.Clip(text, mostRepeated)) }

// mostRepeated is in characters.
const mostRepeated = 40

// settle puts another spec in the place of the present one, and remarks on it what there is to say.
func (d *Desk) settle(s spec.Spec, remarks ...msg.Message) error {
	for _, m := range remarks {
		d.remark(m)
	}
	return d.apply(engine.Whole{Spec: s})
}

// apply changes the boat; on failure the desk stays as it was. The engine keeps of the answer before what the change
// leaves alone, so that a click costs what it changes.
func (d *Desk) apply(c engine.Change) error {
	a, remarks, err := d.engine.Apply(d.answer, c)
	if err != nil {
		return err
	}
	d.seat(a, remarks)
	return nil
}

// seat puts another boat on the desk. Everything that is shown is worked out of its answer, so that nothing else has
// to follow. What was asked about the boat before goes, and so does what a quotation that was opened said of it:
// neither is true of another boat.
func (d *Desk) seat(a *engine.Answer, remarks []msg.Message) {
	d.answer, d.remarks = a, append(d.remarks, d.engine.Language().Texts(remarks)...)
	// an answer to why, and its repairs, were of the boat before
	d.asked = nil
	d.reopened, d.differences = nil, nil // a quote that was opened said nothing of the boat as it is now
}
