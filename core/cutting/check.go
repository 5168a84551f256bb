package cutting

import (
	"fmt"
	"math"
)

// Check says what is wrong with a layout of the pieces: a piece that is missing, has another size, was turned without
// leave, lies outside the stock or nearer than the kerf to another. A layout of [Lay] passes; one that a person has
// moved may not.
//
// Formula: two pieces are apart where one begins no earlier than the other's end + kerf, across or along.
// Valid: as [Lay]; compared to the micrometre.
// Source: geometry.
func (l Layout) Check(pieces []Piece) error {
	b, err := readStock(l.Stock)
	if err != nil {
		return err
	}
	if len(l.Placed) != len(pieces) {
		return fmt.Errorf("checking a layout: %d pieces are placed of %d; lay them again", len(l.Placed), len(pieces))
	}
	for n, p := range l.Placed {
		if err := l.checkOne(n, p, pieces, b); err != nil {
			return err
		}
		// every pair once: at most two million of them, and each is a few comparisons
		for m, q := range l.Placed[:n] {
			if p.Sheet == q.Sheet && !apart(p, q, b.kerf) {
				return fmt.Errorf("checking a layout: piece %d, %q, and piece %d, %q, overlap or leave no kerf; move "+
					"one of them", n+1, p.Name, m+1, q.Name)
			}
		}
	}
	return nil
}

// checkOne says what is wrong with one piece by itself.
func (l Layout) checkOne(n int, p Placed, pieces []Piece, b bed) error {
	place := fmt.Sprintf("checking a layout, piece %d, %q", n+1, p.Name)
	for _, v := range []float64{p.X, p.Y, p.Width, p.Length} {
		if !(v >= 0 && v <= longest*MaxPieces*2) {
			return fmt.Errorf("%s: a place or size is %v mm; lay it again", place, v)
		}
	}
	if p.Piece != n {
		return fmt.Errorf("%s: it stands for piece %d; keep the order of the pieces", place, p.Piece+1)
	}
	width, length := pieces[n].Width, pieces[n].Length
	if p.Turned {
		width, length = length, width
	}
	if micrometres(p.Width) != micrometres(width) || micrometres(p.Length) != micrometres(length) || p.Turned &&
		!pieces[n].Turn {
		return fmt.Errorf("%s: it lies as %v × %v mm; want %v × %v mm, turned only where the piece allows it",
			place, p.Width, p.Length, pieces[n].Width, pieces[n].Length)
	}
	// a roll ends where the layout says that it was cut off
	end := b.length
	if b.roll {
		end = micrometres(l.Used)
	}
	onSheets := p.Sheet >= 0 && p.Sheet < max(1, l.Sheets)
	if !onSheets || micrometres(p.X)+micrometres(p.Width) > b.width || micrometres(p.Y)+micrometres(p.Length) > end {
		return fmt.Errorf("%s: it lies outside the stock; move it inside", place)
	}
	return nil
}

// apart says whether a cut with its kerf fits between two pieces, across or along.
func apart(p, q Placed, kerf int64) bool {
	clear := func(a, aSize, b, bSize float64) bool {
		return micrometres(a)+micrometres(aSize)+kerf <= micrometres(b) ||
			micrometres(b)+micrometres(bSize)+kerf <= micrometres(a)
	}
	return clear(p.X, p.Width, q.X, q.Width) || clear(p.Y, p.Length, q.Y, q.Length)
}

// micrometres takes a length to the step in which layouts are compared.
func micrometres(mm float64) int64 { return int64(math.Round(mm * micro)) }
