// Package hull computes how a launch floats from its table of offsets and its masses: hydrostatics at any draft, trim
// and heel, equilibrium, freeboard, metacentric height and righting levers.
//
// Lengths are in metres, masses in kilograms, angles in radians, densities in kg/m³.
//
// Axes: x runs forward from the aft end, y to starboard, z up from the base line. Trim is the angle of the base line to
// the water, positive by the stern (the stern deeper); heel is positive to starboard (the starboard side deeper). Draft
// is measured at midlength, halfway between the first and the last station, in the plane across the boat there: from
// the base line at the centre line to the waterline, square to the waterline. With no heel that is the height of the
// waterline above the base line.
//
// Sections are straight between the points given and are cut exactly by the inclined waterline. Along the length they
// are integrated by Simpson's rule through [gonum.org/v1/gonum/integrate]; where uneven stations would give one of them
// a weight of zero or below, by the trapezoidal rule. A section is closed by a straight line between its sheer points,
// so that the boat is taken as decked: what happens after the sheer is under is not computed, because an open boat
// floods then. Shell thickness, appendages that are not in the offsets, free surfaces, waves and wind are left out.
//
// Caution: these figures are preliminary. The finished boat is weighed, measured and inclined, and loaded in stages in
// sheltered water. Local rules and qualified persons decide what it may carry.
package hull
