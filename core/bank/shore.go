package bank

// Continuous is the share of a circuit's rating that a load of 3 h or more may take.
//
// Source: NEC 210.19(A)(1), 210.20(A) and Article 100: 125 % of continuous loads, that is 80 % of the device.
const Continuous = 0.8

// ContinuousA is the continuous current that a circuit allows.
//
//	I_cont = 0.80·OCPD
//
//	I_cont  current, A       OCPD  rating of the overcurrent device, A
//
// Valid: loads of 3 h or more.
// Source: NEC 210.20(A).
func ContinuousA(deviceA float64) float64 { return Continuous * deviceA }

// Inlet is a shore inlet with the supply behind it.
type Inlet struct {
	VoltageV   float64 // mains, V
	RatedA     float64 // A
	Continuous float64 // share of the rating that charging may take: [Continuous], or what local rules allow
}

// Validate lists what is wrong.
func (i Inlet) Validate() []Fault {
	var fs faults
	fs.within("shore inlet", "the voltage", i.VoltageV, 90, 480, "V")
	fs.within("shore inlet", "the rated current", i.RatedA, 1, 400, "A")
	fs.within("shore inlet", "the continuous share", i.Continuous, 0.1, 1, "")
	return fs
}

// ContinuousA is the current that charging may take, A.
//
//	I = s·I_rated
//
//	s  continuous share       I_rated  rating, A
//
// Valid: single phase.
// Source: NEC 210.20(A) where s is 0.8.
func (i Inlet) ContinuousA() float64 { return i.Continuous * i.RatedA }

// Charger is a battery charger; several alike are one with their currents added.
type Charger struct {
	VoltageV    float64 // of charging, V; above the nominal voltage of the bank
	CurrentA    float64 // greatest output, A
	Efficiency  float64 // output over mains power, 0 to 1
	PowerFactor float64 // 0 to 1
}

// Validate lists what is wrong.
func (c Charger) Validate() []Fault {
	var fs faults
	fs.within("charger", "the voltage", c.VoltageV, 1, 1000, "V")
	fs.within("charger", "the current", c.CurrentA, 0.1, 5000, "A")
	fs.within("charger", "the efficiency", c.Efficiency, 0.3, 1, "")
	fs.within("charger", "the power factor", c.PowerFactor, 0.3, 1, "")
	return fs
}

// MainsA is the mains current at an output current.
//
//	I_ac = V_dc·I_dc/(η·PF·V_ac)
//
//	I_ac  mains current, A         V_dc, I_dc  output, V and A      η  efficiency
//	PF    power factor             V_ac        mains voltage, V
//
// Valid: single phase.
// Source: derived.
func (c Charger) MainsA(outputA, mainsV float64) float64 {
	return c.VoltageV * outputA / (c.Efficiency * c.PowerFactor * mainsV)
}
