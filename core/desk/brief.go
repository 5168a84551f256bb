package desk

import (
	"errors"
	"fmt"
	"maps"
	"strconv"
	"strings"

	"ribband/core/brief"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/screen"
)

// A boat by needs: boats sought for a person's wishes, a little at a time, so that everything else is answered in
// between.

// boatsAStep are looked at before the next request is answered: some 30 ms in the page, which a person does not feel.
// More would make steps fewer and the search no faster: a step costs next to nothing beside its boats.
const boatsAStep = 30

// search is one for boats: what is wished for as it was typed, and the run that was started last.
type search struct {
	form   map[string]string      // by wish
	faults map[string]msg.Message // by wish: what is wrong with what was typed
	asked  brief.Brief
	run    *brief.Run
	number int // of the run, from 1
	// how often anything here has changed: by it the page's panels know that they are to be rendered
	round   int
	going   bool
	stopped bool // before its end
}

// sought is the search as the page shows it. The form is as it was typed, with what is wrong with it, so that it can be
// corrected; the answer is of the run started last, whatever the form says by now.
func (d *Desk) sought() screen.Brief {
	h, faults := &d.search, map[string]string{}
	for wish, fault := range d.search.faults {
		faults[wish] = d.sentence(fault)
	}
	b := screen.Brief{Form: h.form, Faults: faults, Asked: h.asked, Going: h.going, Stopped: h.stopped,
		Round: h.round}
	if h.run != nil {
		b.Progress, b.Answer = h.run.Progress(), h.run.Answer()
	}
	return b
}

// errNoWishes refuses a search where the book says nothing of wishes.
var errNoWishes = msg.Fault("desk.no-wishes")

// errNoSearch refuses to take a boat, or to search on, where nothing was found.
var errNoSearch = msg.Fault("desk.no-search-yet")

// brief looks for boats that do what the form says. What is wrong with an amount is shown at its field.
func (d *Desk) brief(r *Request, reply *Reply) error {
	// the page of such a book has no form, but a request may come from anywhere
	if d.engine.Public().Brief == nil {
		return errNoWishes
	}
	form := map[string]string{}
	for _, w := range d.engine.Public().Brief.Wishes {
		if text := strings.TrimSpace(r.Form[w.ID]); text != "" {
			// what is kept of a field, and sent back with the page, is bounded
			form[w.ID] = explicit(fmt.Sprintf("%.60s", text), d.unitOf(&w), d.reads())
		}
	}
	return d.seek(form, reply)
}

// seek starts a search for what a form says, if all of it can be understood: a wish left out in silence would find the
// wrong boats. The use of the boat on the page goes with it.
func (d *Desk) seek(form map[string]string, reply *Reply) error {
	d.search.form, d.search.faults = form, map[string]msg.Message{}
	d.search.round++
	b := brief.Brief{Format: brief.Format, Wishes: map[string]brief.Value{}, Use: maps.Clone(d.answer.Spec.Use)}
	for i := range d.engine.Public().Brief.Wishes {
		w := &d.engine.Public().Brief.Wishes[i]
		text := form[w.ID]
		if text == "" {
			continue
		}
		v, err := d.wished(w, text)
		if err != nil {
			d.search.faults[w.ID] = msg.Of(err)
		}
		b.Wishes[w.ID] = v
	}
	if len(d.search.faults) == 0 {
		run, err := brief.Start(d.engine, b)
		// what can be read may still be impossible: more persons than the book's tables go to
		var wrong *brief.WishError
		switch {
		case errors.As(err, &wrong):
			d.search.faults[wrong.Wish] = wrong.Problem
		case err != nil:
			return err
		default:
			d.search.start(run, b)
			d.announced = d.engine.Say("desk.searching")
			reply.Next = d.search.key()
			return nil
		}
	}
	var faults []msg.Message
	for _, w := range d.engine.Public().Brief.Wishes {
		if fault, ok := d.search.faults[w.ID]; ok {
			faults = append(faults, msg.New("desk.wish-fault", msg.Text("wish", w.Title),
				msg.Text("fault", d.sentence(fault))))
		}
	}
	d.announced = d.engine.Say("desk.no-search", msg.Words("faults", msg.Sentences(faults...)))
	return nil
}

// searchAgain looks for the same boats in the words of another language, where somebody had looked for any.
func (d *Desk) searchAgain(reply *Reply) error {
	h := &d.search
	h.round++
	if h.run == nil {
		return nil
	}
	// those that were found have the words of before; the search comes to the same ones once more
	run, err := brief.Start(d.engine, h.asked)
	if err != nil {
		return err
	}
	h.start(run, h.asked)
	reply.Next = h.key()
	return nil
}

// wished reads what was typed for a wish. Amounts are in the unit that stands beside the field.
func (d *Desk) wished(w *pack.Wish, text string) (brief.Value, error) {
	switch w.Kind {
	case pack.WishNeed:
		return brief.Value{Yes: true}, nil
	case pack.WishPrice:
		a, err := d.amount(text)
		return brief.Value{Text: a.String()}, err
	case pack.WishUse:
		if len(d.engine.Public().Use[w.Index].Choices) > 0 {
			return brief.Value{Text: text}, nil
		}
	}
	n, err := quantity(text, d.unitOf(w), 0, measure.Sea)
	if err != nil {
		return brief.Value{}, err
	}
	return brief.Value{Number: n}, nil
}

// unitOf is the unit of the book in which the amount of a wish is; "" for one without.
func (d *Desk) unitOf(w *pack.Wish) string {
	switch w.Kind {
	case pack.WishUse:
		return d.engine.Public().Use[w.Index].Unit
	case pack.WishFigure:
		return d.engine.FigureList()[w.Index].Unit
	}
	return ""
}

// start puts a run in the place of the one before it, which may still be going: its next step may be on its way from
// the page, and is known by its number.
func (h *search) start(run *brief.Run, b brief.Brief) {
	if h.run != nil {
		h.run.Stop()
	}
	h.run, h.asked, h.going, h.stopped = run, b, true, false
	h.number++
}

// key is by which the page asks for the next step of the run.
func (h *search) key() string { return strconv.Itoa(h.number) }

// briefStep goes on with the search. One that has ended, or was replaced, is not asked for again. What is said of a
// step is how the search stands; the page has it read out only where that is other words than before.
func (d *Desk) briefStep(r *Request, reply *Reply) error {
	h := &d.search
	if !h.going || r.Key != h.key() { // no error: nobody did anything wrong
		return nil
	}
	h.round++
	done, err := h.run.Step(boatsAStep)
	if err != nil {
		h.run.Stop()
		h.going, h.stopped = false, true
		return msg.Fault("desk.search-failed", msg.Words("reason", msg.Of(err)))
	}
	if h.going = !done; h.going {
		reply.Next = h.key()
	}
	reply.Announcement = d.sought().Words(d.engine.Language())
	return nil
}

// briefStop ends the search. What was found stays.
func (d *Desk) briefStop(*Request, *Reply) error {
	h := &d.search
	if !h.going {
		return nil // it ended while somebody reached for the button
	}
	h.run.Stop()
	h.going, h.stopped = false, true
	h.round++
	d.announced = d.sought().Words(d.engine.Language())
	return nil
}

// briefTake makes a boat that was found the boat of the desk. What a salesperson added stays.
func (d *Desk) briefTake(r *Request, _ *Reply) error {
	if d.search.run == nil {
		return errNoSearch
	}
	boats := d.search.run.Answer().Boats
	i, err := strconv.Atoi(r.Key)
	if err != nil || i < 0 || i >= len(boats) {
		return msg.Fault("desk.no-such-boat")
	}
	// a search knows nothing of the deal
	s := boats[i].Spec.WithDeal(d.answer.Spec)
	return d.settle(s, msg.New("desk.boat-taken", msg.Text("hull", boats[i].Hull)))
}

// briefRelax lets one wish give way as far as was found, and looks again. The form shows the wish as it is then: the
// person who asked for it can see what was given up.
func (d *Desk) briefRelax(r *Request, reply *Reply) error {
	if d.search.run == nil {
		return errNoSearch
	}
	ways := d.search.run.Answer().Relaxations
	i, err := strconv.Atoi(r.Key)
	if err != nil || i < 0 || i >= len(ways) {
		return errNoSuchChange
	}
	form := map[string]string{}
	// in the order of the form, each as it would be typed
	for _, w := range d.engine.Public().Brief.Wishes {
		v, ok := ways[i].Brief.Wishes[w.ID]
		if !ok {
			continue
		}
		form[w.ID] = typed(v)
		u := measure.Named(d.unitOf(&w))
		if _, in := u.In(d.reads(), 0); in != u.ID {
			form[w.ID] += " " + u.Symbol // or it would be read in the unit beside the field
		}
	}
	return d.seek(form, reply)
}

// typed is an amount as a person would type it: the form is filled with it, and read again by wished.
func typed(v brief.Value) string {
	if v.Yes {
		return "on"
	}
	if v.Text != "" {
		return v.Text
	}
	return strconv.FormatFloat(v.Number, 'f', -1, 64)
}
