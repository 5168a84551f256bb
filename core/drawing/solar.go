package drawing

import (
	"fmt"
	"strings"
)

// SolarYield is what panels bring in the mean day of each month, as bars.
type SolarYield struct {
	Name string
	// January first.
	KWh [12]float64
	// Below the plot.
	Assumptions []string
}

// Months are the twelve as they stand under the bars.
var Months = [12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// SVG draws the bars. The error names the month whose yield cannot be.
func (in SolarYield) SVG(f Format) (string, error) {
	c, err := f.canvas("solar yield")
	if err != nil {
		return "", err
	}
	k, most := &check{kind: "solar yield"}, 0.0
	for i, v := range in.KWh {
		k.within("yield of "+Months[i], v, 0, 1e4, "kWh")
		most = max(most, v)
	}
	if k.err != nil {
		return "", k.err
	}
	const top = 44.0
	step, height := (c.width-24)/12, min(c.width*0.3, 150)
	c.text(pt{12, 18}, start, "kWh on an average day", "fill", ink)
	bottom := top + height
	for i, v := range in.KWh {
		x, h := 12+step*float64(i), height*v/max(most, 1e-9)
		c.rect(x+step*0.15, bottom-h, step*0.7, h, "fill", wood, "fill-opacity", "0.6")
		c.text(pt{x + step/2, bottom - h - 4}, middle, yield(v, most), "font-size", c.number(smallSize), "fill", ink)
		c.text(pt{x + step/2, bottom + 16}, middle, Months[i], "font-size", c.number(smallSize), "fill", soft)
	}
	c.line(pt{12, bottom}, pt{c.width - 12, bottom}, "stroke", ink, "stroke-width", "1.2")
	c.height = c.notes(12, bottom+22, c.width-12, in.Assumptions) + 10
	return c.finish(of("Solar yield by month", in.Name), in.describe(most))
}

// yield writes a day's yield in three characters or so: what a small panel brings needs the second decimal.
func yield(v, most float64) string {
	if most < 1 {
		return decimal(v, 2)
	}
	return decimal(v, 1)
}

// describe lists the twelve yields, with the warning that they are means.
func (in SolarYield) describe(most float64) string {
	parts := make([]string, len(in.KWh))
	for i, v := range in.KWh {
		parts[i] = fmt.Sprintf("%s %s", Months[i], yield(v, most))
	}
	return "Solar energy on an average day of each month, kWh: " + strings.Join(parts, ", ") +
		". A single day may bring far less."
}
