package cutting

import (
	"fmt"
	"math"
	"slices"
)

// maxPanels keeps a piece from falling into more strips than anybody would sew.
const maxPanels = 100

// Panels divides a piece that is wider than the stock into panels of equal width that are sewn side by side; a piece
// that fits stays whole.
//
// Formula: n = ceil((W - s)/(S - s)); width of each = (W + (n - 1)×s)/n, all in mm: W the piece's width, S the stock's
// width, s what each seam takes (the overlap of two panels). The seam lies in the middle of the overlap.
// Valid: seam from 0 to less than the stock's width; at most 100 panels. The length is not divided, and the panels are
// not turned: seams run along the roll.
// Source: common practice, no source.
func Panels(p Piece, stock Stock, seam float64) ([]Piece, error) {
	place := fmt.Sprintf("dividing %q into panels", p.Name)
	if _, err := readStock(stock); err != nil {
		return nil, fmt.Errorf("%s: %w", place, err)
	}
	for _, side := range []struct {
		what string
		mm   float64
	}{{"width", p.Width}, {"length", p.Length}} {
		if _, err := size(place, side.what, side.mm); err != nil {
			return nil, err
		}
	}
	if !(seam >= 0 && seam < stock.Width) {
		return nil, fmt.Errorf("%s: a seam takes %v mm; give 0 or more, less than the stock's width of %v mm", place,
			seam, stock.Width)
	}
	if p.Width <= stock.Width {
		return []Piece{p}, nil
	}
	n := math.Ceil((p.Width - seam) / (stock.Width - seam) * (1 - 1e-12))
	if n > maxPanels {
		return nil, fmt.Errorf("%s: it would take %.0f panels, more than %d; take a wider stock", place, n, maxPanels)
	}
	// The last digit of the division must not make a panel wider than the stock.
	width := math.Min((p.Width+float64((n-1)*seam))/n, stock.Width)
	panels := make([]Piece, int(n))
	for i := range panels {
		panels[i] = Piece{Name: p.Name, Width: width, Length: p.Length, Panel: i + 1, Panels: len(panels)}
	}
	return panels, nil
}

// Panels cuts a shape along the seams of the panels that [Panels] made of its rectangle, and gives each its size and
// lines: its part has an allowance of half the seam. The ends of a seam and its middle get match marks.
//
// Valid: an outline that no seam crosses more than twice.
// Source: plane geometry.
func (s *Shape) Panels(panels []Piece, stock Stock, seam float64) (shapes []*Shape, err error) {
	if len(panels) == 1 {
		panels[0].Lines, panels[0].Area = s.Lines(), s.Cut.Area()
		return []*Shape{s}, nil
	}
	for i := range panels {
		p := &panels[i]
		// the seam before this panel; the next one lies a width without its seam further
		from := float64(float64(i)*(p.Width-seam)) + float64(seam/2)
		part, err := s.panel(from, from+p.Width-seam, i, len(panels), seam/2)
		if err != nil {
			return nil, fmt.Errorf("dividing %q into panels: %w", p.Name, err)
		}
		w, l := part.Size()
		if w > stock.Width+1.0/micro { // a hem that ends at a seam under a sharp angle lies across it
			return nil, fmt.Errorf("dividing %q into panels: with its hem panel %d is %.1f mm wide; make the hem "+
				"narrower or take a wider stock", p.Name, i+1, w)
		}
		p.Width, p.Length, p.Area, p.Lines = min(w, stock.Width), l, part.Cut.Area(), part.Lines()
		shapes = append(shapes, part)
	}
	return shapes, nil
}

// panel is the part of a piece between two seams, with an allowance along each.
func (s *Shape) panel(from, to float64, i, of int, allowance float64) (*Shape, error) {
	c := s.Finished
	var err error
	if i > 0 {
		if c, err = c.rightOf(from, allowance); err != nil {
			return nil, err
		}
	}
	if i < of-1 {
		// the left is the right of the piece turned by half
		if c, err = c.turned().turned().rightOf(-to, allowance); err != nil {
			return nil, err
		}
		c = c.turned().turned()
	}
	return c.shape()
}

// turned is the contour turned by a quarter to the left.
func (c Contour) turned() Contour {
	out := make(Contour, len(c))
	for i, v := range c {
		v.X, v.Y = -v.Y, v.X
		out[i] = v
	}
	return out
}

// rightOf is the part of a contour to the right of a line along the stock, closed by a seam on the line.
func (c Contour) rightOf(x, allowance float64) (Contour, error) {
	all := c.split(x)
	kept, first, runs := make([]bool, len(all)), 0, 0
	for i := range all {
		kept[i] = all.along(i, 0.5).X > x
	}
	// each run of kept edges would be a part by itself
	for i := range all {
		if kept[i] && !kept[(i+len(all)-1)%len(all)] {
			first, runs = i, runs+1
		}
	}
	if runs != 1 {
		return nil, fault(0, "turn it, take a wider stock, or state its parts as pieces of their own",
			"a seam would cut the outline into more than two parts")
	}
	var out Contour
	i := first
	for ; kept[i%len(all)]; i++ {
		out = append(out, all[i%len(all)])
	}
	end := all[i%len(all)]
	end.Bulge, end.Allowance, end.Notch, out[0].Notch = 0, allowance, true, true
	middle := end
	middle.Y = float64((end.Y + out[0].Y) / 2)
	return append(out, end, middle), nil
}

// split is the contour with a vertex wherever it crosses a line along the stock.
func (c Contour) split(x float64) (out Contour) {
	for i, v := range c {
		shares := []float64{0}
		add := func(share float64) {
			if share > 1e-9 && share < 1-1e-9 {
				shares = append(shares, share)
			}
		}
		turn := 0.0
		if v.Bulge == 0 {
			add((x - v.X) / (c.next(i).X - v.X)) // no number where the edge runs along the line
		} else {
			var cx, r, from float64
			cx, _, r, from, turn = c.arc(i)
			at := math.Acos((x - cx) / r) // no number where the circle does not reach the line
			for _, at := range []float64{at, -at} {
				share := math.Mod((at-from)/turn, 2*math.Pi/math.Abs(turn))
				if share < 0 {
					share += 2 * math.Pi / math.Abs(turn)
				}
				add(share)
			}
			slices.Sort(shares)
		}
		for k, share := range shares {
			next := 1.0
			if k+1 < len(shares) {
				next = shares[k+1]
			}
			w := v
			if k > 0 {
				w = c.along(i, share)
			}
			w.Bulge = math.Tan(turn * (next - share) / 4)
			out = append(out, w)
		}
	}
	return out
}

// along is the place at a share of the edge of vertex i.
func (c Contour) along(i int, share float64) Vertex {
	v, w := c[i], c.next(i)
	if v.Notch = false; v.Bulge == 0 {
		v.X, v.Y = v.X+float64((w.X-v.X)*share), v.Y+float64((w.Y-v.Y)*share)
		return v
	}
	x, y, r, from, turn := c.arc(i)
	sin, cos := math.Sincos(from + float64(turn*share))
	v.X, v.Y = x+float64(r*cos), y+float64(r*sin)
	return v
}
