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

// sample is that of an option; nil where words say it all.
func (v *View) sample(o *pack.Option, x *fit.Verdict) g.Node {
	if w, _ := look.Find(o.Drawn); w.Shape {
		return v.sketch(o, x)
	}
	// A colour that the check of the book let pass is always drawn; the page does not fail over one.
	svg, err := look.Swatch(o)
	if err != nil || svg == "" {
		return nil
	}
	return g.Raw(svg) // escaped by core/drawing
}

// cushion is the one that an option is in section, in the cover and with the piping of the boat that has it, and what
// it is made of in words.
func (v *View) cushion(option int, x *fit.Verdict) (g.Node, string) {
	b := v.Answer.Build
	if x.Build != nil {
		b = x.Build.Build()
	}
	svg, words, err := look.Cushion(v.Engine, b, option, v.System)
	if err != nil {
		return nil, words // nothing that the check of the book lets pass
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
