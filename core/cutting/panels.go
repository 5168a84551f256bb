package cutting

import (
	"fmt"
	"math"
)

// maxPanels keeps a piece from falling into more strips than anybody would sew.
const maxPanels = 100

// Panels divides a piece that is wider than the stock into equal panels that are sewn side by side; a piece that fits
// stays whole.
//
// Formula: n = ceil((W - s)/(S - s)); width of each = (W + (n - 1)×s)/n, all in mm: W the piece's width, S the stock's
// width, s what each seam takes (the overlap of two panels).
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
