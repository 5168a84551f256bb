package capacity

// MeasuringMargin is the share by which the handbook divides a measured volume: 5 % for errors of measuring.
//
// Source: US Coast Guard, Boatbuilder's Handbook, Safe Loading, note 2 of the displacement worksheets.
const MeasuringMargin = 1.05

// MaximumDisplacement is the mass of water below the static float plane: MD = 62.4·V / margin.
//
// V volume of the hull in m³ below the plane through the lowest point where water comes aboard with the boat level
// (volumes aft of the transom below it are added, engine wells subtracted); 62.4 lb/ft³ fresh water; margin without
// unit, [MeasuringMargin] for a hull that was measured, 1 for one that was computed or immersed. Scuppers, bow drains
// and well holes count as sealed when the plane is found.
//
// Valid: V above 0 to 100 m³, margin 1 to 1.25. Source: 33 CFR 183.33(b)(1), 183.105(a)(3); US Coast Guard,
// Boatbuilder's Handbook, Safe Loading, 3.0 (from memory in part), 4.1 and 4.2.
func MaximumDisplacement(volumeM3, margin float64) (Mass, error) {
	in := inputs{doing: "working out the maximum displacement"}
	in.number("the volume below the static float plane", volumeM3, 0.001, mostVolume, "m³",
		"integrate the hull up to the lowest opening, in cubic metres")
	in.number("the margin", margin, 1, 1.25, "", "take 1.05 for a measured hull, 1 for a computed one")
	if err := in.err(); err != nil {
		return Mass{}, err
	}
	return Pounds(WaterLBFT3 * volumeM3 / CubicFootM3 / margin), nil
}
