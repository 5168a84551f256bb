package screen

import (
	"encoding/base64"
	"strconv"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/drawing/solid"
	"ribband/core/look"
	"ribband/core/msg"
)

// stage is where the boat is turned by hand. The script puts its canvas there, which stays while the panels inside are
// rendered anew; a browser without WebGL2 shows the still picture, and the page before its script runs does.
func (v *View) stage(at func(id string, attributes ...g.Node) g.Node) g.Node {
	return Section(ID("stage"), Class("stage"), v.told("aria-label", "screen.solid"),
		v.told("data-label", "screen.stage-boat"), v.told("data-help", "screen.stage-help"),
		at("still", Class("drawing")),
		at("solid"),
		P(Class("preliminary"), v.say("drawing.caution")), // as on every drawing
		P(ID("solid-name"), Class("pointed"), Aria("hidden", "true")),
		Div(Class("sights"), g.Map(solid.Views, func(w solid.View) g.Node {
			return button(g.Attr("data-yaw", ascii(w.Yaw)), g.Attr("data-pitch", ascii(w.Pitch)), Aria("pressed",
				"false"),
				v.say("screen.view", msg.Choice("view", w.Name)))
		})))
}

// solid is the boat's mesh, and its parts: each is a way to the slot that decides on it, also for who does not see or
// cannot point.
func (v *View) solid() []g.Node {
	m, err := look.Solid(v.Engine, v.Answer.Build, solid.Fine)
	switch {
	case err != nil:
		return []g.Node{v.undrawn("boat", err)}
	case m == nil:
		return nil
	}
	// The bytes lie in the page as text: a panel is text, and a second way in would need a second way to be patched.
	seen := map[string]bool{}
	return []g.Node{
		Div(g.Attr("data-mesh", base64.StdEncoding.EncodeToString(m.Encode()))),
		Ul(Class("parts"), g.Map(indexes(m.Parts), func(i int) g.Node {
			p := m.Parts[i]
			name := v.partName(&p)
			// a part of two colours is one to who reads, and so are two that one slot decides on
			again := seen[name]
			seen[name] = true
			// as the specification numbers it, for the balloon
			key := g.If(p.Slot != "", g.Group{g.Attr("data-key", "slot-"+p.Slot), g.Attr("data-item",
				v.itemOf(p.Slot))})
			words := g.Text(name)
			if p.Slot != "" && !again {
				words = button(g.Attr("data-do", "go"), key, words)
			}
			return Li(g.Attr("data-part", strconv.Itoa(i)), g.Attr("data-name", p.Name), key,
				g.If(again || p.Slot == "", g.Attr("hidden")), words)
		})),
	}
}

// partName is what a part is called: its slot and what stands there.
func (v *View) partName(p *solid.Part) string {
	for s, def := range v.pack().Slots {
		if def.ID != p.Slot {
			continue
		}
		content := v.content(s)
		if content == "" {
			return def.Title
		}
		return v.Engine.Say("screen.part", msg.Text("slot", def.Title), msg.Text("content", content))
	}
	return v.Engine.Say("screen.part-alone", msg.Choice("part", p.Name))
}

// indexes are the numbers of a list.
func indexes[T any](list []T) []int {
	out := make([]int, len(list))
	for i := range out {
		out[i] = i
	}
	return out
}

// still is the boat as a picture: for the first paint, and for a browser that cannot turn it.
func (v *View) still() []g.Node { return v.drawn(look.Still, wide) }
