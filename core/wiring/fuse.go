package wiring

import (
	"fmt"
	"slices"

	"ribband/core/msg"
)

// LowVoltage is where the fuse rule changes, in V.
const LowVoltage = 50

// fuses are the standard sizes in A, smallest first: blade, bolt-down and cartridge fuses together.
//
// Source: common practice, no source; makers' lists differ in a few sizes.
var fuses = []float64{1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200,
	225, 250, 300, 350, 400, 450, 500, 600}

// MostFuse is the largest fuse in A that protects a conductor of an ampacity in A at a voltage in V.
//
// Formula: below 50 V: 1.5×ampacity. At 50 V and more: ampacity; where that is no standard size, the next standard size
// up, if it is still within 1.5×ampacity.
// Valid: ampacity and volts above zero. A 48 V bank charges at more than 50 V: give the highest voltage for the
// cautious reading. Round down to a standard size, never up: 495 A of AWG 2/0 means a fuse of 450 A.
// Source: 33 CFR 183.455; law for gasoline boats, good practice elsewhere.
func MostFuse(ampacity int, volts float64) (float64, error) {
	const place = "working out the largest fuse"
	if err := number(place, "ampacity", "A", float64(ampacity)); err != nil {
		return 0, err
	}
	if err := number(place, "voltage", "V", volts); err != nil {
		return 0, err
	}
	return mostFuse(ampacity, volts), nil
}

func mostFuse(ampacity int, volts float64) float64 {
	a := float64(ampacity)
	if volts < LowVoltage {
		return 1.5 * a
	}
	if i, exact := slices.BinarySearch(fuses, a); !exact && i < len(fuses) && fuses[i] <= 1.5*a {
		return fuses[i]
	}
	return a
}

// FuseFor is the smallest standard fuse in A that carries a load in A with a margin.
//
// Formula: smallest standard size ≥ margin × load.
// Valid: margin from 1 to 1.5; 1.25 loads the fuse to 80 %. Inrush of motors is not looked at: ask the maker for the
// fuse's class.
// Source: NEC 210.20(A) for continuous loads (1.25), used as practice. Whether the fuse protects the wire is
// [MostFuse].
func FuseFor(load, margin float64) (float64, error) {
	const place = "choosing a fuse"
	if err := number(place, "load", "A", load); err != nil {
		return 0, err
	}
	if !(margin >= 1 && margin <= 1.5) {
		return 0, fmt.Errorf("%s: the margin is %v; give a factor from 1 to 1.5, such as 1.25", place, margin)
	}
	for _, f := range fuses {
		if f >= margin*load {
			return f, nil
		}
	}
	return 0, fmt.Errorf("%s: %v A with a margin of %v is more than the largest size, %v A; %w",
		place, load, margin, fuses[len(fuses)-1], ErrTooMuch)
}

// FusePlace is where a fuse goes: within how far from the source of power, and on which condition.
type FusePlace struct {
	Inches int
	When   msg.Message
}

// FusePlaces lists the distances from the source, nearest first.
//
// Valid: measured along the conductor.
// Source: 33 CFR 183.455; the 72 in also ABYC E-11.
func FusePlaces() []FusePlace {
	return []FusePlace{
		{7, msg.New("wiring.fuse-at-source")},
		{40, msg.New("wiring.fuse-sheathed")},
		{72, msg.New("wiring.fuse-straight")},
	}
}

// PlaceOf is the place for a circuit.
//
// Formula: straight to the battery and sheathed: 72 in; sheathed: 40 in; else 7 in.
// Valid, Source: as [FusePlaces].
func PlaceOf(sheathed, straightToBattery bool) FusePlace {
	places := FusePlaces()
	switch {
	case sheathed && straightToBattery:
		return places[2]
	case sheathed:
		return places[1]
	}
	return places[0]
}
