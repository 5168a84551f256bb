// Package cutting makes pieces of cloth, clear pane, foam or plywood of their outlines, lays them on a roll or on
// sheets, and says how much is wasted.
//
// A piece has a finished line and a cut line outside of it by its hems and seams. Pieces are laid by the rectangles
// around their cut lines, which never overlap; what lies between the lines and the rectangles is waste.
//
// The layout can be cut with straight cuts from edge to edge: first across the stock into shelves, then along into
// columns, then across again. It is good, not the best possible: [Layout.Bound] says what no layout can be below. The
// same pieces give the same layout, always.
//
// All lengths are in millimetres and are taken to the nearest micrometre, so that sums are exact.
package cutting

import (
	"fmt"
	"math"
)

// Piece is what is cut, with its allowances: a rectangle, or a shape in it. Width lies across the roll, Length along
// it.
type Piece struct {
	Name          string
	Width, Length float64 // mm
	Area          float64 // mm² within the line of the cut; 0: the rectangle
	Lines         *Lines  // nil: the rectangle alone, or nobody knows
	Turn          bool    // it may be turned by a quarter: no grain, stripe or stretch to follow
	Panel, Panels int     // which of how many panels it is, from 1; both 0 for a whole piece
}

// Stock is a roll, or sheets of one size.
type Stock struct {
	Width  float64 // mm, usable
	Length float64 // mm of a sheet; 0 for a roll
	Kerf   float64 // mm lost between two pieces; nothing is lost at the edges
}

// Placed is a piece on the stock. X runs across it, Y along it, from one corner.
type Placed struct {
	Piece         int // index into the pieces
	Name          string
	Sheet         int // 0 on a roll
	X, Y          float64
	Width, Length float64 // as it lies
	Turned        bool
	Panel, Panels int     // of the piece
	Area          float64 // of the piece
	Lines         *Lines  // of the piece, as it was before it was turned
}

// Layout is where each piece lies and what that takes.
type Layout struct {
	Stock  Stock
	Placed []Placed // in the order of the pieces
	Sheets int      // sheets used; 0 for a roll
	Used   float64  // mm of roll, or of all sheets end to end
	Area   float64  // mm² of the pieces
	Waste  float64  // share of the used stock that is no piece: 0 to 1
	Bound  float64  // mm of roll, or sheets, that no layout can do with less
}

// MaxPieces is how many pieces one layout takes.
const MaxPieces = 2000

const (
	// whole micrometres: a thousand sums of them are exact, and no scissors cut finer
	micro   = 1000 // micrometres in a millimetre
	longest = 1e6  // mm
)

// item is a piece in micrometres, with its place in the list.
type item struct {
	index         int
	width, length int64
	turn, turned  bool
}

// flipped is the piece turned by a quarter.
func (i item) flipped() item {
	i.width, i.length, i.turned = i.length, i.width, !i.turned
	return i
}

// size reads a length in mm.
func size(place, what string, mm float64) (int64, error) {
	// written so that what is no number is refused, too
	if !(mm >= 1.0/micro && mm <= longest) {
		return 0, fmt.Errorf("%s: the %s is %v mm; give a length above zero, at most %.0f mm", place, what, mm, longest)
	}
	return int64(math.Round(mm * micro)), nil
}

// bed is a stock in micrometres; a roll has no length.
type bed struct {
	width, length, kerf int64
	roll                bool
}

// readStock checks a stock and takes it to micrometres.
func readStock(s Stock) (b bed, err error) {
	const place = "laying pieces, reading the stock"
	if b.width, err = size(place, "width", s.Width); err != nil {
		return bed{}, err
	}
	b.roll = s.Length == 0
	if !b.roll {
		if b.length, err = size(place, "length of a sheet (0 for a roll)", s.Length); err != nil {
			return bed{}, err
		}
	}
	if !(s.Kerf >= 0 && s.Kerf <= longest) {
		return bed{}, fmt.Errorf("%s: the kerf is %v mm; give the width that is lost between two pieces, or 0", place,
			s.Kerf)
	}
	b.kerf = int64(math.Round(s.Kerf * micro))
	return b, nil
}

// holds says whether a piece fits the stock as it lies, with nothing beside it.
func (b bed) holds(i item) bool { return i.width <= b.width && (b.roll || i.length <= b.length) }

// readPieces checks the pieces and takes them to micrometres; each must fit the stock in one pose at least.
func readPieces(pieces []Piece, b bed) ([]item, error) {
	if len(pieces) > MaxPieces {
		return nil, fmt.Errorf("laying pieces: there are %d, more than %d; lay them in several lots", len(pieces),
			MaxPieces)
	}
	items := make([]item, len(pieces))
	for n, p := range pieces {
		place := fmt.Sprintf("laying piece %d, %q", n+1, p.Name)
		width, err := size(place, "width", p.Width)
		if err != nil {
			return nil, err
		}
		length, err := size(place, "length", p.Length)
		if err != nil {
			return nil, err
		}
		items[n] = item{index: n, width: width, length: length, turn: p.Turn}
		if !b.holds(items[n]) && !(p.Turn && b.holds(items[n].flipped())) {
			return nil, tooLarge(place, p, b)
		}
	}
	return items, nil
}

// tooLarge names the least change that would make a piece fit: most that are too wide were meant to be turned.
func tooLarge(place string, p Piece, b bed) error {
	stock := fmt.Sprintf("a roll %v mm wide", float64(b.width)/micro)
	if !b.roll {
		stock = fmt.Sprintf("a sheet of %v × %v mm", float64(b.width)/micro, float64(b.length)/micro)
	}
	remedy := "seam it from panels or take a wider stock"
	if !p.Turn && b.holds(item{width: int64(math.Round(p.Length * micro)),
		length: int64(math.Round(p.Width * micro))}) {
		remedy = "allow it to be turned, seam it from panels or take a wider stock"
	}
	return fmt.Errorf("%s: %v × %v mm does not fit %s; %s", place, p.Width, p.Length, stock, remedy)
}
