package hull

import "errors"

// Why a load does not float. Each error of [Hull.Float] is one of them by [errors.Is]; it is a
// message, in which their texts stand for words.
var (
	ErrLoad      = errors.New("load")
	ErrTooHeavy  = errors.New("heavy")
	ErrUnstable  = errors.New("unstable")
	ErrNoBalance = errors.New("balance")
)

// Side is a side of the boat.
type Side string

const (
	Port      Side = "port"
	Starboard Side = "starboard"
	Both      Side = "both" // on either side the same
)

// Freeboard is the lowest height of the sheer above the water.
type Freeboard struct {
	Height float64 // vertical, m; below zero where the sheer is under
	X      float64 // from the aft end, at a station, m
	Side   Side
}

// Floating is how a load floats at rest in still water.
type Floating struct {
	Load         Load
	Density      float64 // of the water, kg/m³
	Hydrostatics         // at the draft, trim and heel of the equilibrium

	// at the last station and the first: height of the water above the base line at the centre line, m
	Drafts         Drafts
	Freeboard      Freeboard // at the lowest point of the sheer
	GMt, GMl       float64   // metacentric heights, m
	middle, length float64
}

// Displacement is the mass of the water displaced, kg: the load's.
func (f Floating) Displacement() float64 { return f.Volume * f.Density }

// MCTC is the moment that changes trim by 1 cm between the drafts aft and fore, kg·m/cm. See [MCTC].
func (f Floating) MCTC() float64 { return MCTC(f.Displacement(), f.GMl, f.length) }

// Above is the height of a point of the boat above the water, m. See [Surface.Above].
func (f Floating) Above(x, y, z float64) float64 { return f.Surface().Above(x, y, z) }
