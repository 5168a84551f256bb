package drawing

import (
	"fmt"
	"strconv"

	"ribband/core/msg"
)

// TradeOff sets what boats do against what they cost.
type TradeOff struct {
	// Title of the axis across, with its unit.
	Price string
	// Title of the axis upwards, with its unit.
	Figure string
	// At least 2, at rising prices.
	Boats []TradePoint
	// Below the plot.
	Caption []string
}

// TradePoint is a boat.
type TradePoint struct {
	Price, Figure float64
	Name          string
	// The id of what a press on the point leads to; empty: of nothing.
	Link  string
	Taken bool
}

// mostBoats is more than can be told apart on the plot.
const mostBoats = 500

// SVG draws the plot. The points carry the numbers of the boats, from 1. They take no focus: what they lead to stands
// beside the plot for who uses the keyboard. The error names the boat that is out of bounds or out of order.
func (in TradeOff) SVG(f Format) (string, error) {
	c, err := f.canvas("trade-off")
	if err != nil {
		return "", err
	}
	if err := in.check(); err != nil {
		return "", err
	}
	first, last := in.Boats[0], in.Boats[len(in.Boats)-1]
	low, high := first.Figure, first.Figure
	for _, b := range in.Boats {
		low, high = min(low, b.Figure), max(high, b.Figure)
	}
	wanted := 6
	if c.width < narrow {
		wanted = 4
	}
	p := c.newPlot(axis{in.Price, Ticks(first.Price, last.Price, wanted)}, axis{in.Figure, Ticks(low, high, 5)},
		min(c.width*0.5, 300))
	k := p.pen()
	for i, b := range in.Boats {
		if at := p.at(b.Price, b.Figure); i == 0 {
			k.move(at)
		} else {
			k.to(at)
		}
	}
	p.path(k.String(), "fill", "none", "stroke", water, "stroke-width", "1.3", "stroke-dasharray", "2 4")
	for i, b := range in.Boats {
		in.point(p, i, b)
	}
	c.height = c.notes(12, p.bottom+44, c.width-12, in.Caption) + 10
	return c.finish("", in.describe())
}

// check asks for boats in the order in which the curve joins them; those of one price may follow each other.
func (in TradeOff) check() error {
	k := &check{kind: "trade-off"}
	if n := len(in.Boats); n < 2 || n > mostBoats {
		k.fail("it has %d boats; give 2 to %d", n, mostBoats)
		return k.err
	}
	for i, b := range in.Boats {
		k.within(fmt.Sprintf("price of boat %d", i+1), b.Price, 0, 1e12, "")
		k.within(fmt.Sprintf("figure of boat %d", i+1), b.Figure, -1e9, 1e9, "")
		if i > 0 && !(b.Price >= in.Boats[i-1].Price) {
			k.fail("boat %d costs less than boat %d; give rising prices", i+1, i)
		}
	}
	return k.err
}

// point draws a boat, large enough for a finger: the ring that is not seen is 24 units across.
func (in TradeOff) point(p *plot, i int, b TradePoint) {
	at := p.at(b.Price, b.Figure)
	draw := func() {
		p.ellipse(at, 12, 12, "fill", paper, "fill-opacity", "0")
		fill := water
		if b.Taken {
			fill = wood
		}
		p.ellipse(at, 5, 5, "fill", fill, "stroke", paper, "stroke-width", "1.5")
		p.label(pt{at.x, at.y - 9}, middle, strconv.Itoa(i+1))
	}
	if b.Link == "" {
		p.group("g", draw)
		return
	}
	p.group("g", draw, "data-do", "go", "data-key", b.Link)
}

// describe gives the cheapest and the dearest boat; the list beside the plot has the rest.
func (in TradeOff) describe() msg.Message {
	first, last := in.Boats[0], in.Boats[len(in.Boats)-1]
	return msg.New("drawing.trade-off", msg.Count("boats", len(in.Boats)), msg.Text("figure", in.Figure),
		msg.Text("price", in.Price), msg.Text("first", first.Name), msg.Text("last", last.Name),
		msg.Number("least", tenths(first.Figure), msg.Exact), msg.Number("cheapest", tenths(first.Price), msg.Exact),
		msg.Number("most", tenths(last.Figure), msg.Exact), msg.Number("dearest", tenths(last.Price), msg.Exact))
}
