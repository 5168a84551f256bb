package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/drawing"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/pack"
)

// Samples stand beside the names of options of which looking tells more than reading: a piece of the surface, or the
// boat with that top in few lines. Who hears the page misses nothing: the name says which it is.

// sample is that of an option, and what it is made of in words, which are read beside it; nothing where its name says
// all.
func (v *View) sample(option int, x *fit.Verdict) (g.Node, string) {
	o := &v.pack().Options[option]
	if w, _ := look.Find(o.Drawn); w.Shape {
		return v.sketch(o, x), ""
	}
	svg, err := look.Swatch(o)
	words := ""
	if o.Cushion != nil {
		b := v.Answer.Build
		if x.Build != nil {
			b = x.Build.Build() // its cover may go with the cushion
		}
		svg, words, err = look.Cushion(v.Engine, b, option, v.System)
	}
	// What the check of the book let pass is always drawn; the page does not fail over a sample.
	if err != nil || svg == "" {
		return nil, words
	}
	return g.Raw(svg), words // escaped by core/drawing
}

// sketch is the boat with an option; nil where none was found. The boat is completed anew for it, which only slots with
// shapes pay for, and only once they are open.
func (v *View) sketch(o *pack.Option, x *fit.Verdict) g.Node {
	b := v.Answer.Build
	switch {
	case x.Status == fit.Absent:
		return nil
	case x.Build != nil:
		b = x.Build.Build()
	}
	p, err := look.Sketch(v.Engine, b, drawing.Format{Width: narrow, ID: "-of-" + o.ID})
	if err != nil || p.SVG == "" {
		return nil // the drawings of the boat say what cannot be drawn, and why
	}
	return Span(Class("sketch"), Aria("hidden", "true"), g.Raw(p.SVG)) // escaped by core/drawing
}
