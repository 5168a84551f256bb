package laminate

import "fmt"

// BoardFeet is a board in board feet.
//
// Formula: bf = T×W×L/12, T and W in in, L in ft.
// Valid: nominal sizes; a board thinner than 1 in counts as 1 in.
// Source: lumber pages.
func BoardFeet(thickness, width, length float64) (float64, error) {
	err := numbers("working out a board", input{"thickness", "in", thickness}, input{"width", "in", width},
		input{"length", "ft", length})
	if err != nil {
		return 0, err
	}
	return max(1, thickness) * width * length / 12, nil
}

// Rough is the timber to buy for what the finished work holds, in the same unit.
//
// Formula: rough = net/yield.
// Valid: yield from 0.05 to 1.
// Source: lumber page.
func Rough(net, yield float64) (float64, error) {
	const place = "working out rough timber"
	if err := number(place, "net amount", "", net); err != nil {
		return 0, err
	}
	if err := within(place, "yield", yield, 0.05, 1,
		"give the share of the bought timber that ends in the boat, from 0.05 to 1"); err != nil {
		return 0, err
	}
	return net / yield, nil
}

// Stick is a timber part with its finished size.
type Stick struct {
	Name             string
	Thickness, Width float64 // mm
	Length           float64 // m
	Count            int
}

// Timber is what sticks take.
type Timber struct {
	Net            float64 // dm³ in the boat
	Rough          float64 // dm³ to buy
	RoughBoardFeet float64 // the same, by volume
}

// NewTimber adds up sticks of one timber.
//
// Formula: dm³ = T×W×L/1000 for each, T and W in mm, L in m; rough = net/yield; bf = dm³/2.359737.
// Valid: as [Rough]. The board feet are by true volume: a dealer counts thin boards as 1 in, see [BoardFeet].
// Source: geometry; lumber page.
func NewTimber(name string, sticks []Stick, yield float64) (Timber, error) {
	place := fmt.Sprintf("working out timber %q", name)
	var t Timber
	for i, s := range sticks {
		stick := fmt.Sprintf("%s, part %d, %q", place, i+1, s.Name)
		if err := numbers(stick, input{"thickness", "mm", s.Thickness}, input{"width", "mm", s.Width},
			input{"length", "m", s.Length}); err != nil {
			return Timber{}, err
		}
		if err := within(stick, "count", float64(s.Count), 1, 1000, "give 1 to 1000"); err != nil {
			return Timber{}, err
		}
		t.Net += s.Thickness * s.Width * s.Length * float64(s.Count) / 1000
	}
	if len(sticks) == 0 {
		return Timber{}, fmt.Errorf("%s: it has no parts; list each with its finished size", place)
	}
	if err := within(place, "yield", yield, 0.05, 1,
		"give the share of the bought timber that ends in the boat, from 0.05 to 1"); err != nil {
		return Timber{}, err
	}
	t.Rough = t.Net / yield
	t.RoughBoardFeet = t.Rough / LitresPerBoardFoot
	return t, nil
}
