package laminate

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
