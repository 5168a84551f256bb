package bank

import "strconv"

// Irradiation is the sun's energy on a flat surface in the mean day of each month, January first, kWh/m².
type Irradiation [12]float64

// Validate lists what is wrong.
func (r Irradiation) Validate() []Fault {
	var fs faults
	for i, v := range r {
		fs.within("irradiation, month "+strconv.Itoa(i+1), "it", v, 0, 12, "kWh/m² a day")
	}
	return fs
}

// Panel is the panels of a solar top.
type Panel struct {
	PeakW float64 // of all panels under standard test conditions, W
	// share that reaches the bank: heat, dirt, shade, cable, regulator; 0.6 to 0.8 on a boat, common practice, no
	// source
	System float64
}

// Validate lists what is wrong.
func (p Panel) Validate() []Fault {
	var fs faults
	fs.within("solar panels", "the peak power", p.PeakW, 0, 20000, "W")
	fs.within("solar panels", "the system efficiency", p.System, 0.05, 1, "")
	return fs
}

// Yield is what the panels bring to the bank in the mean day of each month, kWh.
//
//	E = P/1000·H/G·η
//
//	E  energy, kWh a day       P  peak power, W       H  irradiation, kWh/m² a day
//	G  1 kW/m²       η  system efficiency
//
// Valid: panels lying flat under an open sky; a full bank takes no more. Weather makes a single day up to nothing.
// Source: definition of peak power (IEC 60904-3, from memory) and of the performance ratio (IEC 61724, from memory).
func (p Panel) Yield(r Irradiation) ([12]float64, error) {
	var yield [12]float64
	if fs := append(faults(p.Validate()), r.Validate()...); len(fs) > 0 {
		return yield, fs.err()
	}
	for i, h := range r {
		yield[i] = p.PeakW / 1000 * h * p.System
	}
	return yield, nil
}
