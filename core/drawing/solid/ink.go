package solid

import (
	"html"
	"math"
	"slices"
	"strings"
)

// escape makes text safe between tags.
func escape(s string) string { return html.EscapeString(strings.ToValidUTF8(s, "\ufffd")) }

// ink writes the lines that can be seen: seams, edges, the waterline, and the outline above all.
func (s *still) ink(b *strings.Builder) {
	// Each kind is one element. The strongest comes last, over the ends of the others.
	var seams, creases, outlines, water, wet [][2]Vec
	for _, l := range s.Lines {
		seams = append(seams, s.runs(l.At, 1)...)
		seams = append(seams, s.runs(l.At, -1)...)
	}
	water = append(s.runs(s.Waterline, 1), s.runs(s.Waterline, -1)...)
	// Sorted by place, whatever the map gives.
	keys := make([][2]Place, 0, len(s.edges))
	for k := range s.edges {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(x, y [2]Place) int { // no order of a map gets into the picture
		if c := slices.Compare(x[0][:], y[0][:]); c != 0 {
			return c
		}
		return slices.Compare(x[1][:], y[1][:])
	})
	for _, k := range keys {
		kind, drawn := s.kind(s.edges[k])
		if !drawn {
			continue
		}
		// What is hidden in part is drawn in part: that is what makes a drawing of lines look right.
		parts := s.shown(s.c.afloat(k[0]), s.c.afloat(k[1]), s.edges[k])
		// Below the water lines are faint, whatever they are.
		if f := s.edges[k][0]; s.c.floats && s.Parts[s.faces[f].part].outside() && s.c.afloat(k[0]).Z+
			s.c.afloat(k[1]).Z < 0 {
			wet = append(wet, parts...)
		} else if kind == outline {
			outlines = append(outlines, parts...)
		} else {
			creases = append(creases, parts...)
		}
	}
	s.lines(b, wet, `stroke="#1b2a30" stroke-opacity=".3" `+s.stroke(7))
	s.lines(b, seams, `stroke="#1b2a30" stroke-opacity=".35" `+s.stroke(4))
	s.lines(b, creases, `stroke="#1b2a30" stroke-opacity=".75" `+s.stroke(5))
	s.lines(b, water, `stroke="var(--water, #17586a)" `+s.stroke(16))
	s.lines(b, outlines, `stroke="var(--ink, #16262d)" `+s.stroke(11))
}

// runs are the pieces of a line that can be seen, on one side of the boat.
func (s *still) runs(line []Place, side int32) (list [][2]Vec) {
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		a[1], b[1] = a[1]*side, b[1]*side
		list = append(list, s.shown(s.c.afloat(a), s.c.afloat(b), nil)...)
	}
	return list
}

// kind of an edge, by the faces at it: the outline lies between one that faces the eye and one that does not.
func (s *still) kind(faces []int) (kind int, drawn bool) {
	// More than two faces meet where bodies of one part touch; then two of them decide, wherever they are.
	front, back := 0, 0
	for _, i := range faces {
		if s.faces[i].front {
			front++
		} else {
			back++
		}
	}
	if front == 0 {
		return 0, false
	}
	finish := s.Parts[s.faces[faces[0]].part].Finish
	// A pane has no outside: its border is a seam of cloth or a thin frame.
	if finish&Clear != 0 {
		return crease, true
	}
	if back > 0 || len(faces) == 1 {
		if finish&Thin != 0 {
			return crease, true
		}
		return outline, true
	}
	// A person of flat faces would look like one cut of wood: the outline is enough.
	if finish&Figure != 0 {
		return 0, false
	}
	for _, i := range faces[1:] {
		if s.faces[faces[0]].normal.dot(s.faces[i].normal) < creaseCosine {
			return crease, true
		}
	}
	return 0, false
}

// shown are the pieces of a line between two places afloat that no face hides; it is the edge of some faces, or lies on
// a surface.
func (s *still) shown(a, b Vec, faces []int) (list [][2]Vec) {
	// Asked at the middle of steps of three user units: shorter gaps cannot be told from a mistake.
	p, q := s.c.onPaper(a), s.c.onPaper(b)
	n := max(1, int(math.Ceil(math.Hypot(q.X-p.X, q.Y-p.Y)/3)))
	from := -1.0
	for i := range n {
		t := (float64(i) + 0.5) / float64(n)
		open := s.unhidden(s.c.onPaper(a.towards(b, t)), faces)
		if open && from < 0 {
			from = float64(i) / float64(n)
		}
		if from >= 0 && (!open || i == n-1) {
			to := float64(i) / float64(n)
			if open {
				to = 1
			}
			list = append(list, [2]Vec{a.towards(b, from), a.towards(b, to)})
			from = -1
		}
	}
	return list
}

// unhidden says that nothing lies before a place on paper: next to it the part is seen whose edge it is, or nothing
// nearer is.
func (s *still) unhidden(p Vec, faces []int) bool {
	const near = 0.02 // m, within which a face counts as the surface itself
	x, y := int(math.Floor(p.X)), int(math.Floor(p.Y))
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			i, j := x+dx, y+dy
			// Beyond the paper nothing hides anything.
			if i < 0 || j < 0 || i >= s.wide || j >= s.high {
				return true
			}
			pixel := j*s.wide + i
			if dx == 0 && dy == 0 && s.depth[pixel] >= p.Z-near {
				return true
			}
			// what is thinner than a user unit may not have one of its own: its part speaks for it
			if o := s.owner[pixel]; o >= 0 && len(faces) > 0 && s.faces[o].part == s.faces[faces[0]].part &&
				math.Abs(s.depth[pixel]-p.Z) < 0.05 {
				return true
			}
		}
	}
	return false
}

// lines writes pieces as one element. A piece that begins where one ended goes on from there.
func (s *still) lines(b *strings.Builder, list [][2]Vec, look string) {
	if len(list) == 0 {
		return
	}
	b.WriteString(`<path fill="none" ` + look + ` d="`)
	// A piece in either direction: edges have none.
	used := make([]bool, len(list))
	begins := map[Vec][]int{}
	for i, l := range list {
		begins[l[0]] = append(begins[l[0]], i)
		begins[l[1]] = append(begins[l[1]], i)
	}
	for i := range list {
		if used[i] {
			continue
		}
		used[i] = true
		track := []Vec{list[i][0], list[i][1]}
		// It goes on at either end, wherever in it the list begins.
		for range 2 {
			track = grown(track, list, begins, used)
			slices.Reverse(track)
		}
		at := s.track(track)
		if s.f.Small && len(at) == 2 && max(abs(at[0][0]-at[1][0]), abs(at[0][1]-at[1][1])) < 2*smallSteps {
			continue // a crumb of a line that is hidden before and after
		}
		s.write(b, at)
	}
	b.WriteString(`"/>`)
}

// grown is a line with all pieces that go on from its end, which are used then.
func grown(track []Vec, list [][2]Vec, begins map[Vec][]int, used []bool) []Vec {
	for {
		end := track[len(track)-1]
		// An edge has no direction: a piece may go on from either of its ends.
		i := slices.IndexFunc(begins[end], func(k int) bool { return !used[k] })
		if i < 0 {
			return track
		}
		k := begins[end][i]
		next := list[k][1]
		if next == end {
			next = list[k][0]
		}
		used[k] = true
		track = append(track, next)
	}
}

func abs(v int) int { return max(v, -v) }
