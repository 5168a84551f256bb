package bank

import (
	"errors"
	"strconv"
)

const temperature = "state of the bank, temperature"

// Block is one battery as bought: a cell, a monobloc or a module.
type Block struct {
	VoltageV   float64 // nominal, V
	CapacityAh float64 // rated, Ah
	RatedHours float64 // h of discharge for which capacity is rated; 0: as its chemistry
	MassKg     float64 // kg
	MostA      float64 // greatest continuous discharge current, A; 0: not stated, and then it limits nothing
	MostInA    float64 // greatest continuous charging current, A; 0: not stated, and then it limits nothing
}

// Bank is like blocks, so many in a string and so many strings side by side.
type Bank struct {
	Chemistry        Chemistry
	Block            Block
	Series, Parallel int
}

// State is how a bank fares.
type State struct {
	TemperatureC float64 // of the cells, C
	Age          float64 // 0 new to 1 at the end of its life
}

// Validate lists what is wrong.
func (b Bank) Validate() []Fault {
	var fs faults
	fs.from("bank", b.Chemistry.Validate())
	const block = "bank, block"
	fs.within(block, "the voltage", b.Block.VoltageV, 0.5, 120, "V")
	fs.within(block, "the capacity", b.Block.CapacityAh, 0.1, 10000, "Ah")
	if b.Block.RatedHours != 0 {
		fs.within(block, "the rated time", b.Block.RatedHours, 0.2, 100, "h")
	}
	fs.within(block, "the mass", b.Block.MassKg, 0, 2000, "kg")
	fs.within(block, "the greatest discharge current", b.Block.MostA, 0, 10000, "A")
	fs.within(block, "the greatest charging current", b.Block.MostInA, 0, 10000, "A")
	count := func(what string, n int) {
		if n < 1 || n > 100 {
			fs.add("bank", "it has "+strconv.Itoa(n)+" "+what, "give 1 to 100")
		}
	}
	count("blocks in series", b.Series)
	count("strings in parallel", b.Parallel)
	return fs
}

// Validate lists what is wrong with a state for a bank of this chemistry.
func (s State) Validate(c Chemistry) []Fault {
	var fs faults
	fs.within("state of the bank", "the age", s.Age, 0, 1, "")
	var f Fault
	if _, err := c.TemperatureFactor(s.TemperatureC); errors.As(err, &f) && f.Where == temperature {
		fs = append(fs, f)
	}
	return fs
}

// Blocks is how many blocks there are.
func (b Bank) Blocks() int { return b.Series * b.Parallel }

// VoltageV is the nominal voltage.
//
//	V = ns·Vb
//
//	V, Vb  voltage of the bank and of a block, V       ns  blocks in series
//
// Valid: identical blocks.
// Source: inverter maker's manual; solar self-build manual.
func (b Bank) VoltageV() float64 { return float64(b.Series) * b.Block.VoltageV }

// CapacityAh is the rated capacity.
//
//	C = np·Cb
//
//	C, Cb  capacity of the bank and of a block, Ah       np  strings in parallel
//
// Valid: identical blocks.
// Source: inverter maker's manual; solar self-build manual.
func (b Bank) CapacityAh() float64 { return float64(b.Parallel) * b.Block.CapacityAh }

// MassKg is the mass of the blocks, without trays, links and straps.
func (b Bank) MassKg() float64 { return float64(b.Blocks()) * b.Block.MassKg }

// MostA is the greatest continuous discharge current, A; 0 where the block states none.
//
//	I = np·Ib
//
// Valid: strings that share the current evenly.
// Source: arithmetic.
func (b Bank) MostA() float64 { return float64(b.Parallel) * b.Block.MostA }

// MostInA is the greatest continuous charging current, A; 0 where the block states none.
//
//	I = np·Ib
//
// Valid: strings that share the current evenly.
// Source: arithmetic.
func (b Bank) MostInA() float64 { return float64(b.Parallel) * b.Block.MostInA }

// RatedHours is the time of discharge for which the capacity is rated, h.
func (b Bank) RatedHours() float64 {
	if b.Block.RatedHours != 0 {
		return b.Block.RatedHours
	}
	return b.Chemistry.RatedHours
}

// Usable is the energy that a bank gives, with the shares that led to it.
type Usable struct {
	Ah, KWh                          float64
	Peukert, Temperature, Age, Depth float64 // shares of the rated capacity, multiplied
}

// Usable is the energy that may be drawn at a constant current.
//
//	C_use = C·p·f_T·f_age·d          E_use = V·C_use/1000
//
//	C_use  usable capacity, Ah       E_use  usable energy, kWh       V  nominal voltage, V
//	p      Peukert's share, [PeukertAh] over C; no more than 1
//	f_T    [Chemistry.TemperatureFactor]       f_age  [Chemistry.AgeFactor]       d  usable depth
//
// The discharge loses nothing else: sag is left out, and the charge efficiency is paid when charging.
//
// Valid: constant current within the bank's limit; a bank without faults.
// Source: derived from the formulas named.
func (b Bank) Usable(currentA float64, s State) (Usable, error) {
	fs := faults(b.Validate())
	fs = append(fs, s.Validate(b.Chemistry)...)
	fs.within("bank", "the current", currentA, 0, 1e6, "A")
	if len(fs) > 0 {
		return Usable{}, fs.err()
	}
	return b.usable(currentA, s), nil
}

// usable is Usable of a bank, a current and a state that were found right.
func (b Bank) usable(currentA float64, s State) Usable {
	c := b.CapacityAh()
	warm, _ := b.Chemistry.TemperatureFactor(s.TemperatureC)
	u := Usable{
		Peukert:     PeukertAh(c, b.RatedHours(), b.Chemistry.Exponent, currentA) / c,
		Temperature: warm, Age: b.Chemistry.AgeFactor(s.Age), Depth: b.Chemistry.Depth,
	}
	u.Ah = c * u.Peukert * u.Temperature * u.Age * u.Depth
	u.KWh = b.VoltageV() * u.Ah / 1000
	return u
}

// FullAh is the capacity of a full bank at the rated current, at an age, Ah: what charging has to fill.
//
//	C_full = C·f_age
//
// Valid: age 0 to 1.
// Source: derived.
func (b Bank) FullAh(age float64) float64 { return b.CapacityAh() * b.Chemistry.AgeFactor(age) }
