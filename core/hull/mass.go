package hull

import (
	"fmt"
	"math"
)

// Item is one line of the mass table: what it is, its mass (kg) and where its centre is (m, the package's axes).
type Item struct {
	Name    string
	Mass    float64
	X, Y, Z float64
}

// Check says what is wrong with an item and the remedy, or gives nil.
func (i Item) Check() error {
	switch {
	case !(i.Mass >= 0) || math.IsInf(i.Mass, 0):
		return fmt.Errorf("adding the mass of %s: %v kg: give a number of kilograms, 0 or more", i.Name, i.Mass)
	case !usable(i.X) || !usable(i.Y) || !usable(i.Z):
		return fmt.Errorf("adding the mass of %s: its place %v, %v, %v m is not usable: give x from the aft end, y to "+
			"starboard and z above the base line in metres", i.Name, i.X, i.Y, i.Z)
	}
	return nil
}

// Load is a mass (kg) and its centre: LCG from the aft end, TCG to starboard, VCG above the base line (m).
type Load struct {
	Mass, LCG, TCG, VCG float64
}

// Sum adds up a mass table: the total and its centre Σm·x/Σm, Σm·y/Σm, Σm·z/Σm. A total of zero has its centre at the
// origin.
//
// Valid: items that [Item.Check] takes.
// Source: definition of the centre of gravity.
func Sum(items []Item) Load {
	var m, x, y, z float64
	for _, i := range items {
		m += i.Mass
		x += float64(i.Mass * i.X)
		y += float64(i.Mass * i.Y)
		z += float64(i.Mass * i.Z)
	}
	if m == 0 {
		return Load{}
	}
	return Load{m, x / m, y / m, z / m}
}

// And adds another load.
func (l Load) And(other Load) Load {
	return Sum([]Item{{Mass: l.Mass, X: l.LCG, Y: l.TCG, Z: l.VCG},
		{Mass: other.Mass, X: other.LCG, Y: other.TCG, Z: other.VCG}})
}

// WithMargin adds a margin for growth: a share of the mass at the same centre, and a rise of the centre (m).
//
// Valid: shares of 0 and above; 0.03 to 0.10 of the light boat is usual in planning.
// Source: common practice, no source.
func (l Load) WithMargin(share, rise float64) Load {
	l.Mass *= 1 + share
	l.VCG += rise
	return l
}
