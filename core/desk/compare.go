package desk

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"ribband/core/engine"
	"ribband/core/msg"
	"ribband/core/screen"
	"ribband/core/spec"
)

// Boats beside the one on the page, to be compared with it. They are boats alone: no customer and no deal goes with
// them, so that the page may keep them as links.

// besideAdd sets the boat on the page beside itself: whoever changes it then sees the two next to each other.
func (d *Desk) besideAdd(_ *Request, reply *Reply) error {
	if len(d.beside) == screen.MostBeside {
		return msg.Fault("desk.beside-full", msg.Count("n", screen.MostBeside+1))
	}
	a, err := d.engine.Answer(d.answer.Spec.Boat())
	if err != nil {
		return err
	}
	// Twice the same would be compared with itself, and fill a place.
	if slices.ContainsFunc(d.beside, func(b *engine.Answer) bool {
		return bytes.Equal(b.Spec.Encode(), a.Spec.Encode())
	}) {
		return msg.Fault("desk.beside-already")
	}
	d.besideIs(append(slices.Clip(d.beside), a), reply)
	d.announced = d.engine.Say("desk.beside-added", msg.Count("n", len(d.beside)+1))
	return nil
}

// besideRemove takes one away.
func (d *Desk) besideRemove(r *Request, reply *Reply) error {
	i, err := d.besideAt(r)
	if err != nil {
		return err
	}
	d.besideIs(slices.Delete(slices.Clone(d.beside), i, i+1), reply)
	return nil
}

// besideTake makes one the boat on the page, which takes its place: nothing is lost by a look at the other. What a
// salesperson added stays, as it is with the customer and not with the boat.
func (d *Desk) besideTake(r *Request, reply *Reply) error {
	i, err := d.besideAt(r)
	if err != nil {
		return err
	}
	now := d.answer.Spec.Clone()
	was, err := d.engine.Answer(now.Boat())
	if err != nil {
		return err
	}
	s := d.beside[i].Spec.WithDeal(now)
	// Settled first: where the boat cannot be opened as it is, nothing has been exchanged.
	title := d.engine.Public().Hulls[d.beside[i].Hull].Title
	if err := d.settle(s, msg.New("desk.beside-taken", msg.Text("hull", title))); err != nil {
		return err
	}
	list := slices.Clone(d.beside)
	list[i] = was
	d.besideIs(list, reply)
	return nil
}

// besideOpen sets those beside that the page kept: links, one on a line. One that cannot be read is left out, as the
// boat on the page is not about it.
func (d *Desk) besideOpen(r *Request, reply *Reply) error {
	var list []*engine.Answer
	for _, link := range strings.Fields(r.Text) {
		// Said nowhere: nobody typed these, and the boat that matters is the one on the page.
		s, damage := spec.FromLink(link)
		if len(damage) > 0 || len(list) == screen.MostBeside {
			continue
		}
		if a, err := d.engine.Answer(s); err == nil {
			list = append(list, a)
		}
	}
	d.besideIs(list, reply)
	return nil
}

// besideAt is the boat that a request names.
func (d *Desk) besideAt(r *Request) (int, error) {
	i, err := strconv.Atoi(r.Key)
	if err != nil || i < 0 || i >= len(d.beside) {
		return 0, msg.Fault("desk.no-such-boat") // the page was older than the list
	}
	return i, nil
}

// besideIs puts others beside, and tells the page what to keep. The list is made anew and never changed, so that two
// views can be compared.
func (d *Desk) besideIs(list []*engine.Answer, reply *Reply) {
	d.beside = list
	// By link and not by file: a link holds no more than the buyer's page may know.
	links := make([]string, len(list))
	for i, a := range list {
		links[i] = a.Spec.Link()
	}
	kept := strings.Join(links, "\n")
	reply.Beside = &kept
}
