package look

import (
	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/msg"
)

// Cushion draws the cushion that an option is, in section, in the cover and with the piping of a boat, and says in
// words what is drawn; nothing for an option that is no cushion of sheets.
func Cushion(e *engine.Engine, b *fit.Build, option int, units measure.System) (svg, words string, err error) {
	c := e.Pack.Options[option].Cushion
	if c == nil { // also one that is a roll, or stuffed
		return "", "", nil
	}
	in := drawing.Cushion{Board: c.Board, Cover: colourOf(e, b, "cushion"), Piping: colourOf(e, b, "piping")}
	// The words grow upwards as the cushion is built: what lies below is named first, and keeps its case.
	var layers msg.Message
	for i, l := range c.Layers {
		in.Layers = append(in.Layers, drawing.FoamLayer{MM: l.MM, KgM3: l.KgM3, Open: l.Kind == "quick-drying"})
		args := []msg.Arg{msg.Text("thickness", e.Language().Thickness(l.MM, units)), msg.Choice("kind", l.Kind)}
		// Under another layer a language may bend its words, so that there are two messages and no glue.
		if i == 0 {
			layers = msg.New("look.foam", args...)
		} else {
			layers = msg.New("look.foam-under", append(args, msg.Words("below", layers))...)
		}
	}
	// Piping is chosen for the whole boat, the base is the cushion's own.
	seams, base := "plain", "vented"
	if in.Piping != "" {
		seams = "piped"
	}
	if c.Board {
		base = "board"
	}
	words = e.Say("look.cushion", msg.Words("layers", layers), msg.Choice("seams", seams), msg.Choice("base", base))
	svg, err = in.SVG()
	return svg, words, err
}

// colourOf is the colour of what is aboard and drawn as a word, the first of several; blank where nothing is, and then
// the drawing takes its usual one.
func colourOf(e *engine.Engine, b *fit.Build, word string) drawing.Colour {
	for o, n := range b.State.Counts {
		if n > 0 && e.Pack.Options[o].Drawn == word {
			return drawing.Colour(e.Pack.Options[o].Colour)
		}
	}
	return ""
}
