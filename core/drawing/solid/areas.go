package solid

import (
	"slices"
	"strings"
)

// area is pieces of one tone that touch each other, painted as one.
type area struct {
	fill   string
	pieces []int
	depth  float64 // mean distance of its faces, m
}

// areas writes pieces, each area after those behind it. Where areas lie before and behind each other in a ring they are
// taken apart into their pieces; where these do, too, the farthest comes first.
func (s *still) areas(b *strings.Builder, list []piece) {
	// One area for each tone of a part is the least to write, but a long one may begin behind a thing and end before
	// it: the side of the hull passes behind a leg and before the sole. Only those that do are taken apart, so that the
	// others stay large.
	apart := map[int]bool{}
	areas := s.join(list, apart)
	// A round may find rings among what the one before took apart; that the number of faces apart must rise ends it.
	order, stuck := s.sort(list, areas)
	for len(stuck) > len(apart) { // each round takes some more apart
		apart = stuck
		areas = s.join(list, apart)
		order, stuck = s.sort(list, areas)
		for f := range apart {
			stuck[f] = true
		}
	}
	// Areas of one fill that follow each other are one again, and share an element, whose attributes are longer than
	// most paths. Clear ones share the element alone: where two overlap, both are seen.
	// The edge of an area has its colour, too, so that no light falls through between two of them.
	b.WriteString(`<g fill="currentColor" stroke="currentColor" ` + s.stroke(5) + `>`)
	for len(order) > 0 {
		fill, n := areas[order[0]].fill, 1
		for n < len(order) && areas[order[n]].fill == fill {
			n++
		}
		b.WriteString(`<path ` + fill + ` d="`)
		var together []int
		for _, i := range order[:n] {
			if list[areas[i].pieces[0]].tone < 0 {
				s.loops(b, list, areas[i].pieces)
			} else {
				together = append(together, areas[i].pieces...)
			}
		}
		s.loops(b, list, together)
		b.WriteString(`"/>`)
		order = order[n:]
	}
	b.WriteString("</g>")
}

// loops writes the outline of some pieces.
func (s *still) loops(b *strings.Builder, list []piece, pieces []int) {
	for _, loop := range border(list, pieces) {
		if s.f.Small {
			// round the loop and back, so that the side that closes it is eased, too
			if loop = eased(append(loop, loop[0])); len(loop) < 4 {
				continue // too narrow to be seen
			}
			loop = loop[:len(loop)-1]
		}
		s.write(b, loop)
		b.WriteByte('z')
	}
}

// join finds the pieces that touch and look alike; those of some faces stay apart.
func (s *still) join(list []piece, apart map[int]bool) []area {
	// Union and find, with the paths halved on the way: textbook, from memory.
	at := make([]int, len(list))
	for i := range at {
		at[i] = i
	}
	root := func(i int) int {
		for at[i] != i {
			at[i] = at[at[i]]
			i = at[i]
		}
		return i
	}
	// A side that two pieces share runs in one direction in the first and in the other in the second, as both look at
	// the eye. Places are those on paper, in whole tenths, so that pieces cut at the same line meet exactly.
	sides := map[[2][2]int]int{}
	fills := make([]string, len(list))
	for i := range list {
		p := &list[i]
		fills[i] = s.fill(p)
		// Clear pieces stay single: where two of them overlap both are seen, and one path would show them once.
		if p.tone < 0 || apart[p.face] {
			continue
		}
		for k, q := range p.corners {
			r := p.corners[(k+1)%len(p.corners)]
			if other, ok := sides[[2][2]int{r, q}]; ok && fills[other] == fills[i] {
				at[root(i)] = root(other)
			}
			sides[[2][2]int{q, r}] = i
		}
	}
	// In the order of the pieces and not of the map, which differs from run to run.
	number := map[int]int{}
	var areas []area
	for i := range list {
		r := root(i)
		n, ok := number[r]
		if !ok {
			n = len(areas)
			number[r] = n
			areas = append(areas, area{fill: fills[i]})
		}
		areas[n].pieces = append(areas[n].pieces, i)
	}
	for i := range areas {
		sum := 0.0
		for _, p := range areas[i].pieces {
			sum += s.faces[list[p].face].depth
		}
		areas[i].depth = sum / float64(len(areas[i].pieces))
	}
	return areas
}

// sort puts areas in order; stuck are the faces of those that lie in a ring.
func (s *still) sort(list []piece, areas []area) (order []int, stuck map[int]bool) {
	// A face may have pieces in several areas, one for each tone that it has.
	of := map[int32][]int{} // the areas with a piece of a face
	for i, a := range areas {
		for _, p := range a.pieces {
			f := int32(list[p].face)
			if !slices.Contains(of[f], i) {
				of[f] = append(of[f], i)
			}
		}
	}
	// A graph: an edge from each area to those that hide a part of it. What is painted is one of its orders.
	before := make([]map[int]bool, len(areas))
	waits := make([]int, len(areas))
	for i := range before {
		before[i] = map[int]bool{}
	}
	for pair, pixels := range s.order { // makes sets of pairs: the order in which they are found does not matter
		if pixels <= s.order[[2]int32{pair[1], pair[0]}] {
			continue // they cut through each other, and more is seen of the other one
		}
		for _, x := range of[pair[0]] {
			for _, y := range of[pair[1]] {
				if x != y && !before[x][y] {
					before[x][y] = true
					waits[y]++
				}
			}
		}
	}
	// The simple search for the next one is quadratic in the areas, of which a boat has some hundreds: a heap would
	// have to find the fill of the last one, too.
	stuck, done := map[int]bool{}, make([]bool, len(areas))
	for range areas {
		next, free := -1, false
		for i := range areas {
			if done[i] {
				continue
			}
			isFree := waits[i] == 0
			switch {
			case next < 0 || isFree && !free:
				next, free = i, isFree
			case isFree && s.sooner(areas, order, i, next), !isFree && !free && areas[i].depth > areas[next].depth:
				next = i
			}
		}
		// All that are left lie in rings or behind one. The farthest begins, which is wrong on few user units; its
		// faces are the ones to take apart.
		if !free {
			for _, p := range areas[next].pieces {
				stuck[list[p].face] = true
			}
		}
		done[next] = true
		order = append(order, next)
		for y := range before[next] {
			waits[y]--
		}
	}
	return order, stuck
}

// sooner says which of two areas goes on best: one with the fill of the last, so that fewer elements are written, then
// the farther one.
func (s *still) sooner(areas []area, order []int, a, b int) bool {
	if len(order) > 0 {
		last := areas[order[len(order)-1]].fill
		if x, y := areas[a].fill == last, areas[b].fill == last; x != y {
			return x
		}
	}
	return areas[a].depth > areas[b].depth
}

// border is the outline of some pieces, without the sides between two of them: one line, and one for each hole.
func border(list []piece, pieces []int) (loops [][][2]int) {
	// A side within the area is there twice, in both directions, and goes; what is left is its outline.
	type side [2][2]int
	count := map[side]int{}
	var sides []side
	for _, i := range pieces {
		at := list[i].corners
		for k, q := range at {
			r := at[(k+1)%len(at)]
			if q == r {
				continue
			}
			// Counted, not marked: where two areas of a body touch along a line a side may be there more than once.
			if count[side{r, q}] > 0 {
				count[side{r, q}]--
				continue
			}
			count[side{q, r}]++
			sides = append(sides, side{q, r})
		}
	}
	// The outline in pieces: each ends where another begins, so that following them comes back to the start.
	from := map[[2]int][]side{}
	for _, x := range sides {
		if count[x] > 0 {
			count[x]--
			from[x[0]] = append(from[x[0]], x)
		}
	}
	for _, x := range sides {
		var loop [][2]int
		for at := x[0]; len(from[at]) > 0; {
			next := from[at][0]
			from[at] = from[at][1:]
			// a point on a straight side says nothing
			if n := len(loop); n > 1 && straight(loop[n-2], loop[n-1], at) {
				loop[n-1] = at
			} else {
				loop = append(loop, at)
			}
			at = next[1]
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

// straight says that the way from a to c through b goes on in one direction.
func straight(a, b, c [2]int) bool {
	u, v := [2]int{b[0] - a[0], b[1] - a[1]}, [2]int{c[0] - b[0], c[1] - b[1]}
	cross := u[0]*v[1] - u[1]*v[0]
	return u[0]*v[0]+u[1]*v[1] > 0 && cross*cross <= (u[0]*u[0]+u[1]*u[1])*4
}
