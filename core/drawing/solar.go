package drawing

import (
	"strconv"

	"ribband/core/msg"
)

// SolarYield is what panels bring in the mean day of each month, as bars.
type SolarYield struct {
	Name string
	// January first.
	KWh [12]float64
	// Below the plot.
	Assumptions []string
}

// Month is the short name of a month, January 0, as it stands under the bars and in tables beside them.
func Month(i int) msg.Message {
	return msg.New("drawing.month", msg.Choice("month", strconv.Itoa(i+1)))
}

// SVG draws the bars. The error names the month whose yield cannot be.
func (in SolarYield) SVG(f Format) (string, error) {
	c, err := f.canvas("solar yield")
	if err != nil {
		return "", err
	}
	k, most := &check{kind: "solar yield"}, 0.0
	for i, v := range in.KWh {
		k.within("yield of "+Month(i).String(), v, 0, 1e4, "kWh")
		most = max(most, v)
	}
	if k.err != nil {
		return "", k.err
	}
	const top = 44.0
	step, height := (c.width-24)/12, min(c.width*0.3, 150)
	c.text(pt{12, 18}, start, c.words.Say("drawing.axis-solar"), "fill", ink)
	bottom := top + height
	for i, v := range in.KWh {
		x, h := 12+float64(step*float64(i)), height*v/max(most, 1e-9)
		c.rect(x+float64(step*0.15), bottom-h, step*0.7, h, "fill", wood, "fill-opacity", "0.6")
		c.text(pt{x + float64(step/2), bottom - h - 4}, middle, c.words.Number(v, places(most)), "font-size",
			c.number(smallSize), "fill", ink)
		c.text(pt{x + float64(step/2), bottom + 16}, middle, c.words.Text(Month(i)), "font-size", c.number(smallSize),
			"fill",
			soft)
	}
	c.line(pt{12, bottom}, pt{c.width - 12, bottom}, "stroke", ink, "stroke-width", "1.2")
	c.height = c.notes(12, bottom+22, c.width-12, in.Assumptions) + 10
	return c.finish(in.Name, in.describe(most))
}

// places are the decimals of a day's yield: what a small panel brings needs the second one.
func places(most float64) int {
	if most < 1 {
		return 2
	}
	return 1
}

// describe lists the twelve yields, with the warning that they are means.
func (in SolarYield) describe(most float64) msg.Message {
	list := make([]msg.Message, len(in.KWh))
	for i, v := range in.KWh {
		list[i] = msg.New("drawing.solar-month", msg.Words("month", Month(i)), msg.Number("kwh", v, places(most)))
	}
	return msg.New("drawing.solar", msg.List("months", msg.Commas, list...))
}
