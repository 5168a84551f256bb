package drawing

import (
	"fmt"
	"strconv"

	"ribband/core/msg"
)

// Build is a boat's time in the shops of a yard, week by week: when each shop works on it, and how busy the shop is.
type Build struct {
	Name  string
	Weeks []string // at least one, as they stand below the lanes
	Lanes []BuildLane
	Tasks []BuildTask
	// Below the drawing.
	Caption []string
}

// All lanes share the weeks: what a task waits for lies to the left of it, in whichever shop.

// BuildLane is a shop.
type BuildLane struct {
	Title string
	Loads []BuildLoad // of the weeks; none for what is done outside of the yard
}

// BuildLoad is the hours of a shop in a week: that there are, for other boats, and for this one.
type BuildLoad struct{ Open, Others, Boat float64 }

// BuildTask is work on the boat. Times are weeks from the begin of the first one.
type BuildTask struct {
	Lane     int
	From, To float64
	Chain    bool // it decides the launch
	Title    string
}

// Beyond these nothing could be told apart, and the paper would be longer than a browser draws.

// Bounds of a build.
const (
	mostWeeks = 520
	mostLanes = 40
	mostTasks = 1000
)

// Heights of a lane's parts, user units.
const (
	taskHigh  = 9.0
	loadHigh  = 26.0
	titleHigh = 17.0
	laneGap   = 12.0
)

// SVG draws a lane for each shop: above the work on the boat as bars, dark where it decides the launch; below the load
// by week against the open hours. The error names what is out of bounds.
func (in Build) SVG(f Format) (string, error) {
	c, err := f.canvas("build")
	if err != nil {
		return "", err
	}
	if err := in.check(); err != nil {
		return "", err
	}
	// every lane on the same weeks, so that what waits for another shop is seen below it
	const left = 12.0
	week := (c.width - left - 12) / float64(len(in.Weeks))
	x := func(weeks float64) float64 { return left + float64(week*weeks) }
	y := 6.0
	// one below the other, as the boat goes through the yard from the mould to the water
	for lane := range in.Lanes {
		y = in.lane(c, lane, y, x) + laneGap
	}
	in.weeks(c, y, x)
	y = c.legends(y+22, []legend{
		{sampleBand("fill", ink), c.words.Say("drawing.build-chain")},
		{sampleBand("fill", water, "fill-opacity", "0.55"), c.words.Say("drawing.build-boat")},
		{sampleBand("fill", rule), c.words.Say("drawing.build-others")},
		{sampleLine("stroke", soft, "stroke-dasharray", "3 2"), c.words.Say("drawing.build-open")},
	})
	c.height = c.notes(left, y+6, c.width-12, in.Caption) + 10
	return c.finish(in.Name, in.describe())
}

// lane draws a shop from y downwards, and gives its end.
func (in Build) lane(c *canvas, lane int, y float64, x func(float64) float64) float64 {
	c.text(pt{x(0), y + 11}, start, in.Lanes[lane].Title, "fill", ink)
	y += titleHigh
	// work at one time stands in rows, as few as hold it
	var rows []float64 // end of the last bar
	// as the book has them: those of one shop begin in that order
	// a lane is drawn by itself: there are a hundred tasks and not a thousand, and no index is worth it
	for _, t := range in.Tasks {
		if t.Lane != lane {
			continue
		}
		row := 0
		for row < len(rows) && rows[row] > t.From {
			row++
		}
		if row == len(rows) {
			rows = append(rows, 0)
		}
		rows[row] = t.To
		// the name is read where a pointer rests on the bar
		at, wide := x(t.From), max(1.5, x(t.To)-x(t.From)) // an hour is seen, too
		attrs := []string{"fill", water, "fill-opacity", "0.55"}
		if t.Chain {
			attrs = []string{"fill", ink}
		}
		c.group("g", func() {
			c.tag("title", ">"+escape(t.Title)+"</title>\n", nil)
			c.rect(at, y+float64(float64(row)*(taskHigh+2)), wide, taskHigh, attrs...)
		})
	}
	// a shop with much at once gets a higher lane, and no bar hides another
	y += float64(float64(len(rows)) * (taskHigh + 2))
	if len(in.Lanes[lane].Loads) == 0 {
		return y
	}
	return in.loads(c, lane, y+2, x)
}

// loads draws the weeks of a shop below its work: a bar for what is taken, and a line for what there is.
func (in Build) loads(c *canvas, lane int, y float64, x func(float64) float64) float64 {
	// each shop by its own hours: a small one that is full has to look full
	most := 0.0
	for _, l := range in.Lanes[lane].Loads {
		most = max(most, l.Open, l.Others+l.Boat)
	}
	// from the bottom up, as hours are counted
	bottom := y + loadHigh
	high := func(hours float64) float64 { return float64(loadHigh * hours / max(most, 1e-9)) }
	// this boat upon the others, so that it is seen whether it fills the week
	for w, l := range in.Lanes[lane].Loads {
		from, wide := x(float64(w)), x(float64(w)+0.88)-x(float64(w))
		others, boat := high(l.Others), high(l.Boat)
		if l.Others > 0 {
			c.rect(from, bottom-others, wide, others, "fill", rule)
		}
		if l.Boat > 0 {
			c.rect(from, bottom-others-boat, wide, boat, "fill", water, "fill-opacity", "0.55")
		}
		if l.Open > 0 {
			c.line(pt{from, bottom - high(l.Open)}, pt{from + wide, bottom - high(l.Open)}, "stroke", soft,
				"stroke-dasharray", "3 2")
		}
	}
	c.line(pt{x(0), bottom}, pt{x(float64(len(in.Weeks))), bottom}, "stroke", ink, "stroke-width", "1")
	return bottom
}

// weeks writes as many of their names as have room.
func (in Build) weeks(c *canvas, y float64, x func(float64) float64) {
	// at a year's length not every week has room for its name
	widest := 0.0
	for _, w := range in.Weeks {
		widest = max(widest, textWidth(w, smallSize))
	}
	// the first week always has its name, so that the others can be counted from it
	every := 1
	for x(float64(every))-x(0) < widest+6 {
		every++
	}
	for w := 0; w < len(in.Weeks); w += every {
		at := x(float64(w))
		c.line(pt{at, y - laneGap}, pt{at, y - laneGap + 4}, "stroke", ink, "stroke-width", "1")
		c.text(pt{at, y + 4}, start, in.Weeks[w], "font-size", c.number(smallSize), "fill", soft)
	}
}

// check asks for work and loads that lie in the weeks.
func (in Build) check() error {
	k := &check{kind: "build"}
	if n := len(in.Weeks); n < 1 || n > mostWeeks {
		k.fail("it has %d weeks; give 1 to %d", n, mostWeeks)
	}
	if n := len(in.Lanes); n < 1 || n > mostLanes {
		k.fail("it has %d shops; give 1 to %d", n, mostLanes)
	}
	if n := len(in.Tasks); n > mostTasks {
		k.fail("it has %d tasks; give up to %d", n, mostTasks)
	}
	for i, l := range in.Lanes {
		if len(l.Loads) != len(in.Weeks) && len(l.Loads) > 0 {
			k.fail("shop %d has the load of %d weeks, not of %d", i+1, len(l.Loads), len(in.Weeks))
		}
		for w, load := range l.Loads {
			for _, h := range []float64{load.Open, load.Others, load.Boat} {
				k.within(fmt.Sprintf("load of shop %d in week %d", i+1, w+1), h, 0, 1e6, "h")
			}
		}
	}
	// a bar beyond the weeks would lie beyond the paper
	for i, t := range in.Tasks {
		name := "task " + strconv.Itoa(i+1)
		if t.Lane < 0 || t.Lane >= len(in.Lanes) {
			k.fail("%s is of shop %d; there are %d", name, t.Lane+1, len(in.Lanes))
		}
		k.within("begin of "+name, t.From, 0, float64(len(in.Weeks)), "weeks")
		k.within("end of "+name, t.To, t.From, float64(len(in.Weeks)), "weeks")
	}
	return k.err
}

// describe gives the first and the last week of each shop; the table beside the drawing has the rest.
func (in Build) describe() msg.Message {
	// in words, since who hears the page gets nothing of bars
	var shops []msg.Message
	for lane, l := range in.Lanes {
		// the weeks between them may be without work on it: it cures, or waits for another shop
		first, last := len(in.Weeks), -1
		for w, load := range l.Loads {
			if load.Boat > 0 {
				first, last = min(first, w), w
			}
		}
		// outside of the yard the bars alone say when
		for _, t := range in.Tasks {
			if t.Lane == lane && len(l.Loads) == 0 {
				first, last = min(first, int(t.From)), max(last, min(int(t.To), len(in.Weeks)-1))
			}
		}
		if last >= 0 {
			shops = append(shops, msg.New("drawing.build-shop", msg.Text("shop", in.Lanes[lane].Title),
				msg.Text("first", in.Weeks[first]), msg.Text("last", in.Weeks[last])))
		}
	}
	return msg.New("drawing.build", msg.List("shops", msg.Commas, shops...))
}
