package fit

import (
	"ribband/core/msg"
	"ribband/core/pack"
)

// The reasons that follow from counts. Reasons of rules are the book's own words. A slot of several is told how many it
// has, since a person may have chosen some of them; of a slot of one only the lack needs saying.

func missing(s *pack.Slot, n int) msg.Message {
	if s.Multiple {
		return msg.New("fit.too-few", msg.Text("slot", s.Title), msg.Count("least", s.Least), msg.Count("n", n))
	}
	return msg.New("fit.one-needed", msg.Text("slot", s.Title))
}

func tooMany(s *pack.Slot, n int) msg.Message {
	if s.Multiple {
		return msg.New("fit.too-many", msg.Text("slot", s.Title), msg.Count("most", s.Most), msg.Count("n", n))
	}
	return msg.New("fit.one-fits", msg.Text("slot", s.Title), msg.Count("n", n))
}

func tooManyOf(o *pack.Option, n int) msg.Message {
	return msg.New("fit.too-many-of", msg.Text("option", o.Title), msg.Count("most", o.Most), msg.Count("n", n))
}

// NotSoldNow says of an option that is not sold on the day of the edition since or until when it is not, and what takes
// its place; or that none is left.
func NotSoldNow(p *pack.Public, option int) msg.Message {
	o := &p.Options[option]
	if o.Sale == nil || !o.Sale.Off {
		return msg.New("fit.none-left", msg.Text("option", o.Title))
	}
	if o.Sale.From > p.Edition.Date {
		return msg.New("fit.sold-from", msg.Text("option", o.Title), msg.Date("day", o.Sale.From))
	}
	reason := msg.New("fit.sold-until", msg.Text("option", o.Title), msg.Date("day", o.Sale.Until))
	if o.Sale.Instead >= 0 {
		return msg.Sentences(reason, msg.New("fit.sold-instead", msg.Text("option", p.Options[o.Sale.Instead].Title)))
	}
	return reason
}

func wrongHull(o *pack.Option, h *pack.Hull) msg.Message {
	return msg.New("fit.wrong-hull", msg.Text("option", o.Title), msg.Text("hull", h.Title))
}
