package laminate

// AntifoulingArea is the area below the waterline in the square of the unit that goes in.
//
// Formula: A = LWL×(B + T)×f; LWL the waterline length, B the beam, T the draft, f a factor of the hull's shape.
// Valid: an estimate. f is a setting: paint makers give 1.0 or 0.85 for full and motor boats, 0.75 for medium, 0.5 or
// 0.6 for fin keels, 18 % and more apart. No reduction is f = 1; some tables print 0 for it.
// Source: paint makers' pages.
func AntifoulingArea(lwl, beam, draft, factor float64) (float64, error) {
	const place = "working out antifouling"
	if err := numbers(place, input{"waterline length", "m or ft", lwl}, input{"beam", "m or ft", beam},
		input{"draft", "m or ft", draft}); err != nil {
		return 0, err
	}
	if err := within(place, "factor", factor, 0.3, 1.2,
		"give 0.5 to 1 as the paint maker says; 1 is no reduction"); err != nil {
		return 0, err
	}
	return lwl * (beam + draft) * factor, nil
}

// BottomAreaByLength is the bottom area from the waterline alone.
//
// Formula: A = 0.5×LWL², in m² with LWL in m.
// Valid: an estimate for LWL in m. 7 m give 24.5 m²; the 18 m² printed in one table's row belong to 6 m.
// Source: paint maker's table.
func BottomAreaByLength(lwl float64) (float64, error) {
	if err := number("working out antifouling", "waterline length", "m", lwl); err != nil {
		return 0, err
	}
	return 0.5 * lwl * lwl, nil
}

// BottomAreaByBeam is the bottom area from length and beam over all, in the square of their unit.
//
// Formula: A = LOA×B×0.85.
// Valid: an estimate.
// Source: paint page.
func BottomAreaByBeam(loa, beam float64) (float64, error) {
	return rectangle(loa, beam, 0.85)
}

// DeckArea is the deck to be painted, in the square of the unit.
//
// Formula: A = LOA×B×0.75.
// Valid: an estimate.
// Source: paint makers' pages.
func DeckArea(loa, beam float64) (float64, error) {
	return rectangle(loa, beam, 0.75)
}

func rectangle(loa, beam, factor float64) (float64, error) {
	if err := numbers("working out a painted area", input{"length over all", "m or ft", loa},
		input{"beam", "m or ft", beam}); err != nil {
		return 0, err
	}
	return loa * beam * factor, nil
}

// TopsidesArea is the sides above the water, in the square of the unit.
//
// Formula: A = (LOA + B)×2×F, F the mean freeboard.
// Valid: an estimate.
// Source: paint makers' pages.
func TopsidesArea(loa, beam, freeboard float64) (float64, error) {
	err := numbers("working out a painted area", input{"length over all", "m or ft", loa},
		input{"beam", "m or ft", beam}, input{"freeboard", "m or ft", freeboard})
	if err != nil {
		return 0, err
	}
	return (loa + beam) * 2 * freeboard, nil
}
