package capacity

import (
	"fmt"
	"math"

	"ribband/core/msg"
)

// Weights are the masses that the rule for maximum weight capacity asks for, in kilograms.
type Weights struct {
	DisplacementKG float64 // MD: water displaced at the deepest level immersion without water coming aboard
	HullKG         float64 // hull, deck, superstructure and permanent appurtenances, without what follows
	FuelKG         float64 // full permanent fuel tanks; 0 for an electric boat
	MotorKG        float64 // inboard motor or motors
	DriveKG        float64 // shaft, gear, propeller, pod
	ControlsKG     float64 // controllers, control levers, instruments of the drive
	BatteryKG      float64 // all batteries
}

// all is everything that the boat weighs by itself.
func (w Weights) all() float64 {
	return w.HullKG + w.FuelKG + w.MotorKG + w.DriveKG + w.ControlsKG + w.BatteryKG
}

// boat is BW by a reading.
func (w Weights) boat(r Reading) float64 {
	if r == Literal {
		return w.HullKG + w.FuelKG + w.MotorKG
	}
	return w.all()
}

// machinery is MW: motors, control equipment, drive units and batteries (183.33(b)(3)).
func (w Weights) machinery() float64 { return w.MotorKG + w.DriveKG + w.ControlsKG + w.BatteryKG }

// Weight is the maximum weight capacity of a boat.
type Weight struct {
	Applies      bool          `json:"applies"`
	Sentence     msg.Message   `json:"sentence"`
	Reading      string        `json:"reading"`
	Displacement Mass          `json:"displacement"`
	Boat         Mass          `json:"boat_weight"`
	Machinery    Mass          `json:"machinery_weight"`
	W1           Mass          `json:"w1"`
	W2           Mass          `json:"w2"`
	Computed     Mass          `json:"computed"`
	Marked       int           `json:"marked_lb"` // whole pounds, rounded down or derated
	Governs      string        `json:"governs"`
	Notes        []msg.Message `json:"notes,omitempty"`
}

// WeightFormulas are the two formulas of the rule; the capacity is the greater.
//
//	W1 = MD/5 - BW/5 - 4·MW/5
//	W2 = (MD - BW)/7
//
// MD maximum displacement, BW boat weight, MW machinery weight, W1 and W2 capacities: all in one unit of mass, any.
// They are equal where MD - BW = 14·MW.
//
// Valid: finite numbers; the caller has checked them. Source: 33 CFR 183.33(a); the formulas were read in a secondary
// transcription that agrees with memory, the terms in the rule itself.
func WeightFormulas(md, bw, mw float64) (w1, w2 float64) {
	return md/5 - bw/5 - 4*mw/5, (md - bw) / 7
}

// MaximumWeight is the maximum weight capacity of an inboard boat under 20 ft: W = max(W1, W2) of [WeightFormulas].
//
// Boat weight is read as the handbook does by default ([Handbook]): with motor, drive, controls, fuel and batteries.
// The letter of the rule leaves batteries and controls out ([Literal]), which would let a heavy bank add nothing to the
// boat weight; the handbook's reading never gives more, so it is the safe one. [Reading.Text] says this on papers. The
// marked value is rounded down to whole pounds: the rule says "must not exceed".
//
// Valid: masses from 0 to 50 t, MD above the boat's own mass; at 20 ft and above the result says that there is no duty.
// Source: 33 CFR 183.33; US Coast Guard, Boatbuilder's Handbook, Safe Loading, 4.1 and 4.2.
func MaximumWeight(b Boat, w Weights, r Reading) (Weight, error) {
	sentence, err := small(b, SafeLoading)
	if err != nil || !sentence.Empty() {
		return Weight{Sentence: sentence}, err
	}
	if err := w.check(r); err != nil {
		return Weight{}, err
	}
	out := Weight{
		Applies: true, Reading: r.String(), Governs: "W1",
		Displacement: Kilograms(w.DisplacementKG), Boat: Kilograms(w.boat(r)), Machinery: Kilograms(w.machinery()),
	}
	w1, w2 := WeightFormulas(out.Displacement.LB, out.Boat.LB, out.Machinery.LB)
	if w2 > w1 {
		out.Governs = "W2"
	}
	out.W1, out.W2, out.Computed = Pounds(w1), Pounds(w2), Pounds(math.Max(w1, w2))
	if out.Marked = down(out.Computed.LB); out.Marked < 1 {
		return Weight{}, msg.Fault("capacity.nothing-to-mark", msg.Number("lb", out.Computed.LB, 2))
	}
	if left := Kilograms(w.DisplacementKG - w.all()); out.Computed.LB > left.LB {
		out.Notes = append(out.Notes, msg.New("capacity.more-than-floats", msg.Number("lb", out.Computed.LB, 0),
			msg.Number("left", left.LB, 0)))
	}
	out.say(false)
	return out, nil
}

// say words the capacity; chosen, that the builder marks less than was computed.
func (w *Weight) say(chosen bool) {
	w.Sentence = msg.New("capacity.weight", msg.Number("lb", w.Computed.LB, 2), msg.Number("kg", w.Computed.KG, 1),
		msg.Text("formula", w.Governs), msg.Count("marked", w.Marked),
		msg.Choice("by", map[bool]string{true: "builder", false: "rule"}[chosen]))
}

func (w Weights) check(r Reading) error {
	in := inputs{doing: "working out the maximum weight capacity"}
	in.number("the maximum displacement", w.DisplacementKG, 1, mostKG, "kg",
		"work it out from the hull at the lowest point where water comes aboard, in kilograms")
	in.mass("the hull", w.HullKG)
	in.mass("the fuel", w.FuelKG)
	in.mass("the motor", w.MotorKG)
	in.mass("the drive", w.DriveKG)
	in.mass("the control equipment", w.ControlsKG)
	in.mass("the batteries", w.BatteryKG)
	if r != Handbook && r != Literal {
		in.wrong("no reading %d of boat weight: take Handbook or Literal", int(r))
	}
	if len(in.errs) == 0 && w.HullKG == 0 {
		in.wrong("the hull weighs nothing: give its mass in kilograms")
	}
	if len(in.errs) == 0 && w.DisplacementKG <= w.all() {
		return msg.Fault("capacity.none", msg.Number("kg", w.all(), 1), msg.Number("floats", w.DisplacementKG, 1))
	}
	return in.err()
}

// Derated is the same capacity with fewer pounds marked. A builder may mark less; less marked needs less foam.
//
// Valid: 1 lb up to what was computed. Source: US Coast Guard, Boatbuilder's Handbook, Safe Loading, 4.0.
func (w Weight) Derated(lb int) (Weight, error) {
	if !w.Applies {
		return w, nil
	}
	if most := down(w.Computed.LB); lb < 1 || lb > most {
		return Weight{}, fmt.Errorf("marking %d lb: the boat may be marked with 1 to %d lb; mark no more than was "+
			"computed", lb, most)
	}
	w.Marked = lb
	w.say(true)
	return w, nil
}
