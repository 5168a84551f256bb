package screen

import (
	g "maragu.dev/gomponents"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/look"
)

// What a person sees before the engine is there is published: the page of the first boat, and of the other hulls what
// differs in theirs. Both hold what can be seen, and no more: on a slow line each kilobyte of them stands before the
// engine. What needs the script in any case comes with the first answer. No file has what another one has, too.

// first is what of a panel is published.
type first byte

const (
	whole  first = iota // as it is: the same whatever hull is touched
	ofHull              // as it is, and of each hull what differs
	large               // of the first boat; of another hull its profile, which is half as long
	small               // of the first boat, in the size of a small view
	none                // nothing: it is on another page, or of no use without the engine
	folded              // in a file of its own, for who unfolds it before the engine is there
)

// First is the body as it is published. Who has no script reads the boat, its price, its figures and what stands in
// each slot; what else could stand there is the engine's to say.
func (v *View) First() string {
	html := map[string]string{}
	for _, p := range Panels(v.Engine) {
		switch p.first {
		case small:
			html[p.ID] = render(v.small(p.ID))
		case none, folded:
		default:
			html[p.ID] = p.HTML(v)
		}
	}
	return v.body(html)
}

// smallViews are the drawings that stand small beside the large one.
var smallViews = map[string]func(*engine.Engine, *fit.Build, drawing.Format) (look.Picture, error){
	"profile": look.Profile, "plan": look.Plan, "sections": look.SectionsPicture}

// small is a drawing in the narrower of its sizes alone, which is the one that is shown until somebody enlarges it.
func (v *View) small(panel string) []g.Node {
	p, err := smallViews[panel](v.Engine, v.Answer.Build, drawing.Format{Width: narrow, ID: "-" + sizes[1],
		System: v.System})
	if err != nil {
		return []g.Node{v.undrawn("boat", err)}
	}
	return []g.Node{shown(sizes[1], p)}
}

// OfHull is what a page shows of the standard build of another hull before the engine is there: the panels that differ
// from those of the first boat. Drawings of the first boat go, rather than stand beside another one's price.
func (v *View) OfHull(hull int) ([]Fragment, error) {
	a, err := v.Engine.AnswerStandard(hull, "")
	if err != nil {
		return nil, err
	}
	// everything else of the view stays: language, units, and whose desk it is
	other := *v
	other.Answer = a
	var list []Fragment
	for _, p := range Panels(v.Engine) {
		switch p.first {
		case small:
			list = append(list, Fragment{ID: p.ID})
		case large:
			list = append(list, Fragment{p.ID, render(other.drawn(look.Profile, narrow))})
		case ofHull:
			// most slots hold the same in all hulls
			if html := p.HTML(&other); html != p.HTML(v) {
				list = append(list, Fragment{p.ID, html})
			}
		}
	}
	return list, nil
}

// Folded is what the first page leaves folded and empty. It is a third of the whole page, and is fetched where somebody
// unfolds a slot before the engine is there: what is chosen in it then waits for the engine like anything else.
func (v *View) Folded() []Fragment {
	var list []Fragment
	for _, p := range Panels(v.Engine) {
		if p.first == folded {
			list = append(list, Fragment{p.ID, p.HTML(v)})
		}
	}
	return list
}
