package wiring

// Constants of the two forms of the voltage drop.
const (
	// CopperK is K of the form in circular mils and feet. It stands for 0.01787 ohm mm²/m.
	CopperK = 10.75
	// CopperISO is the resistivity in ohm mm²/m of the metric form. It stands for K = 9.87: 8 % less copper than
	// CopperK asks for.
	CopperISO = 0.0164
	// CopperGerman is the conductivity in m/(ohm mm²) of the form in German textbooks.
	CopperGerman = 56

	footMetres = 0.3048
)

// The shares of the nominal voltage that may be lost.
//
// Critical: navigation lights, bilge blowers and pumps, electronics, main feeds. Other: cabin lights and the like.
// Source: ABYC E-11 as given by chandlery and marine-wire teaching pages.
const (
	CriticalDrop = 0.03
	OtherDrop    = 0.10
)

// NeededCircularMils is the section that keeps the drop within what is allowed, in circular mils.
//
// Formula: CM = K×I×L/E, K = 10.75 for copper, I in A, L in ft of both runs together, E the allowed drop in V.
// Valid: DC, stranded copper, each number above zero. Ampacity is another test: this one alone allows AWG 8 for 100 A.
// Source: ABYC E-11 form as given by chandlery and marine-wire teaching pages.
func NeededCircularMils(amps, feetBothRuns, drop float64) (float64, error) {
	if err := dropInputs(amps, feetBothRuns, "ft", drop); err != nil {
		return 0, err
	}
	return CopperK * amps * feetBothRuns / drop, nil
}

// NeededSection is the same in mm² by the metric form.
//
// Formula: S = 0.0164×I×L/E, I in A, L in m of both runs together, E the allowed drop in V.
// Valid: as [NeededCircularMils]; it asks for 8 % less copper than that form.
// Source: ISO 10133, informative annex.
func NeededSection(amps, metresBothRuns, drop float64) (float64, error) {
	if err := dropInputs(amps, metresBothRuns, "m", drop); err != nil {
		return 0, err
	}
	return CopperISO * amps * metresBothRuns / drop, nil
}

// NeededSectionGerman is the same in mm² by the form of German textbooks.
//
// Formula: S = 2×L×I/(56×E), L in m one way, I in A, E the allowed drop in V.
// Valid: as [NeededCircularMils].
// Source: electrical teaching page.
func NeededSectionGerman(amps, metresOneWay, drop float64) (float64, error) {
	if err := dropInputs(amps, metresOneWay, "m", drop); err != nil {
		return 0, err
	}
	return 2 * metresOneWay * amps / (CopperGerman * drop), nil
}

// DropISO is the voltage lost in a section by the metric form.
//
// Formula: E = 0.0164×I×L/S, E in V, I in A, L in m of both runs together, S in mm².
// Valid: DC, copper, each number above zero.
// Source: ISO 10133, informative annex (1.6 A, 22 m, 1.5 mm²: 0.38 V).
func DropISO(amps, metresBothRuns, section float64) (float64, error) {
	if err := dropInputs(amps, metresBothRuns, "m", 1); err != nil {
		return 0, err
	}
	if err := number("working out a voltage drop", "section", "mm²", section); err != nil {
		return 0, err
	}
	return CopperISO * amps * metresBothRuns / section, nil
}

func dropInputs(amps, length float64, unit string, drop float64) error {
	const place = "working out a voltage drop"
	if err := number(place, "current", "A", amps); err != nil {
		return err
	}
	if err := number(place, "length", unit, length); err != nil {
		return err
	}
	return number(place, "allowed drop", "V", drop)
}
