package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/drawing"
	"ribband/core/fit"
	"ribband/core/quote"
)

// Drawings come in two sizes, since their words keep their size: a style sheet shows the one that fits the screen.
const (
	wide   = 720
	narrow = 340
)

// drawn puts a picture in a wide and a narrow form on the page; nothing where there is none.
func drawn(b *fit.Build, draw func(*fit.Build, drawing.Format) (quote.Picture, error), widths ...float64) []g.Node {
	var nodes []g.Node
	for i, width := range widths {
		f := drawing.Format{Width: width}
		class := "only"
		if len(widths) > 1 {
			f.ID, class = "-"+[]string{"wide", "narrow"}[i], []string{"wide", "narrow"}[i]
		}
		p, err := draw(b, f)
		if err != nil {
			return []g.Node{P(Class("note"), g.Text("The boat cannot be drawn: "+err.Error()+"."))}
		}
		if p.SVG != "" {
			nodes = append(nodes, Div(Class(class), g.Raw(p.SVG))) // escaped by core/drawing
		}
	}
	return nodes
}

func (v *View) profile() []g.Node { return drawn(v.Answer.Build, v.Engine.Profile, wide, narrow) }

func (v *View) plan() []g.Node { return drawn(v.Answer.Build, v.Engine.Plan, wide, narrow) }

func (v *View) rangeCurve() []g.Node { return drawn(v.Answer.Build, v.Engine.RangePicture, narrow) }

func (v *View) solar() []g.Node { return drawn(v.Answer.Build, v.Engine.SolarPicture, narrow) }
