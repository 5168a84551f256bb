package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/msg"
	"ribband/core/sheet"
)

// Drawings come in two sizes, since their words keep their size: a style sheet shows the one that fits the screen.
const (
	wide   = 720
	narrow = 340
)

// sizes are the classes of the two by which the style sheet shows one; their words are of HTML, not of a reader.
var sizes = []string{"wide", "narrow"}

// drawn puts a picture in a wide and a narrow form on the page; nothing where there is none.
func (v *View) drawn(draw func(*engine.Engine, *fit.Build, drawing.Format) (look.Picture, error),
	widths ...float64) []g.Node {
	var nodes []g.Node
	for i, width := range widths {
		f := drawing.Format{Width: width, System: v.System}
		class := "only"
		if len(widths) > 1 {
			f.ID, class = "-"+sizes[i], sizes[i]
		}
		p, err := draw(v.Engine, v.Answer.Build, f)
		if err != nil {
			return []g.Node{v.undrawn("boat", err)}
		}
		nodes = append(nodes, shown(class, p))
	}
	return nodes
}

// undrawn stands in the place of a picture that could not be made, with the reason: the rest of the page goes on.
func (v *View) undrawn(what string, err error) g.Node {
	return note(v.say("screen.not-drawn", msg.Choice("what", what), msg.Words("reason", msg.Of(err))))
}

// shown puts a picture on the page; nothing where it is empty, as that of a book without what it draws.
func shown(class string, p look.Picture) g.Node {
	return g.If(p.SVG != "", Div(Class(class), g.Raw(p.SVG))) // escaped by core/drawing
}

// The profile shows what somebody chose: top, colours, seats. It stands above the sheet, the plan folded below it.

func (v *View) profile() []g.Node { return v.drawn(look.Profile, wide, narrow) }

func (v *View) plan() []g.Node { return v.drawn(look.Plan, wide, narrow) }

func (v *View) bodyPlan() []g.Node { return v.drawn(look.SectionsPicture, wide, narrow) }

// The curves stand at the side of the page, which is never wide.

func (v *View) rangeCurve() []g.Node { return v.drawn(look.RangePicture, narrow) }

func (v *View) solar() []g.Node { return v.drawn(look.SolarPicture, narrow) }

// loomPictures are the drawings of the loom, one for each voltage, with the caution that stands on them.
func (v *View) loomPictures() []g.Node {
	list, err := sheet.LoomPictures(v.Engine, v.Answer.Build, drawing.Format{Width: narrow})
	if err != nil {
		return []g.Node{v.undrawn("loom", err)}
	}
	return g.Map(list, func(p look.Picture) g.Node { return g.Group{H3(g.Text(p.Title)), shown("drawing", p)} })
}
