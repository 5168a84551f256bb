// Package desk is a desk at work: one spec that a person is changing, and what the page must show after each change. It
// takes a [Request] and gives a [Reply]; the page, the worker and the bridge in between know nothing of boats.
package desk

import (
	"errors"
	"fmt"
	"strings"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/pack"
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
	Spec      string            `json:"spec,omitempty"`  // to keep in the browser's storage
	Plain     bool              `json:"plain,omitempty"` // there is nothing in the spec that anybody would miss
	// what was stored, or shown before, is not what is shown now: the page sets it aside, so that nothing is lost
	Apart bool `json:"apart,omitempty"`
	// the form of the quotation is another's: what was typed in it is forgotten
	Fresh  bool   `json:"fresh,omitempty"`
	Spoken string `json:"spoken,omitempty"`
	Next   string `json:"next,omitempty"` // a search goes on: the key with which to ask for its next step
	Paper  *Paper `json:"paper,omitempty"`
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
	engine  *engine.Engine
	answer  *engine.Answer
	system  measure.System
	details quote.Details
	quoted  string            // digest of the spec that the details belong to
	shown   map[string]string // the fragments that the page has
	view    *screen.View
	judged  *fit.Build // the boat that the view's verdicts are of
	asked   *screen.Asked
	past    []step // newest last
	begun   bool   // the page has opened its first boat
	hunt    hunt
	// of the last change
	remarks     []string
	said        string
	reopened    *quote.Quote
	differences []quote.Difference
}

// New seats a desk before the standard build of the first hull.
func New(p *pack.Pack) (*Desk, error) {
	e, err := engine.Compile(p)
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
	before := d.view
	d.view = &screen.View{Engine: d.engine, Answer: d.answer, System: d.system, Details: d.details, Remarks: d.remarks,
		Said: d.said, Asked: d.asked, Reopened: d.reopened, Differences: d.differences, Brief: d.hunt.shown()}
	if n := len(d.past); n > 0 {
		d.view.Undo = d.past[n-1].what
	}
	if d.judged == d.answer.Build { // what was asked left the boat as it is
		d.view.Options, d.view.Empty, d.view.Effects = before.Options, before.Empty, before.Effects
		return
	}
	d.view.Options, d.view.Empty = d.engine.Fit.Verdicts(d.answer.Build)
	d.view.Effects = d.engine.Effects(d.answer, d.view.Options, d.view.Empty)
	d.judged = d.answer.Build
}

// act is one kind of request: it gives the changed spec, or makes a paper, or fails.
type act func(d *Desk, r *Request, reply *Reply) error

var acts = map[string]act{
	"open": (*Desk).open, "hull": (*Desk).hull, "choose": (*Desk).choose, "toggle": (*Desk).toggle,
	"count": (*Desk).count, "empty": (*Desk).empty,
	"standard": (*Desk).standard, "use": (*Desk).use, "units": (*Desk).units, "reset": (*Desk).reset,
	"discount": (*Desk).discount,
	"line":     (*Desk).line, "trade-in": (*Desk).tradeIn, "remove": (*Desk).remove, "freeze": (*Desk).freeze,
	"file": (*Desk).file, "specification": (*Desk).specification,
	"sheet": (*Desk).sheet, "reason": (*Desk).reason, "repair": (*Desk).repair, "keep": (*Desk).keep,
	"undo":  (*Desk).undo,
	"brief": (*Desk).brief, "brief-step": (*Desk).briefStep, "brief-stop": (*Desk).briefStop,
	"brief-take": (*Desk).briefTake, "brief-relax": (*Desk).briefRelax,
}

// Handle does what a request asks for. It never fails otherwise than by the reply's Error.
func (d *Desk) Handle(r Request) Reply {
	reply := Reply{Version: Version, ID: r.ID}
	do, known := acts[r.Act]
	switch {
	case r.Version != Version:
		reply.Error = fmt.Sprintf("The page speaks version %d and the engine version %d. Load the page again.",
			r.Version, Version)
	case !known:
		reply.Error = fmt.Sprintf("The engine does not know what %.40q means. Load the page again.", r.Act)
	default:
		if r.Act != "brief-step" { // nobody did that
			d.remarks, d.said = nil, ""
		}
		before := d.now(&r)
		if err := do(d, &r, &reply); err != nil {
			reply.Error = sentence(err.Error())
		} else {
			d.remember(&r, before)
		}
	}
	if reply.Error != "" {
		clear(d.shown) // the page shows what a person tried: everything goes to it again
	}
	d.look()
	fragments := d.view.Fragments
	if r.Act == "brief-step" && reply.Error == "" {
		fragments = d.view.BriefFragments // the boat is as it was
	}
	for _, f := range fragments() {
		if shown, ok := d.shown[f.ID]; !ok || shown != f.HTML {
			d.shown[f.ID] = f.HTML
			reply.Fragments = append(reply.Fragments, f)
		}
	}
	reply.Link, reply.Spec, reply.Plain = d.answer.Spec.Link(), string(d.answer.Spec.Encode()), d.plain(d.answer.Spec)
	if reply.Spoken == "" {
		reply.Spoken = d.view.Spoken()
	}
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
	d.asked = nil
	d.reopened, d.differences = nil, nil // a quote that was opened said nothing of the boat as it is now
	return nil
}
