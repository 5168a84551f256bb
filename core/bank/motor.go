package bank

import "math"

// Limit names what holds a figure down.
type Limit string

const (
	MotorPower        Limit = "power of the motor"
	ControllerCurrent Limit = "current of the controller"
	BankCurrent       Limit = "current of the bank"
	EndOfTrial        Limit = "end of the trial table"
	ChargerCurrent    Limit = "current of the charger"
	InletCurrent      Limit = "continuous current of the shore inlet"
	BankCharging      Limit = "charging current of the bank"
)

// Motor is a motor with its controller.
type Motor struct {
	ShaftW      float64 // greatest continuous power at the shaft, W
	ControllerA float64 // greatest continuous current that the controller draws from the bank, A
	Efficiency  float64 // shaft power over electrical power, controller counted, 0 to 1
}

// Validate lists what is wrong.
func (m Motor) Validate() []Fault {
	var fs faults
	fs.within("motor", "the shaft power", m.ShaftW, 10, 1e6, "W")
	fs.within("motor", "the current of the controller", m.ControllerA, 1, 1e5, "A")
	fs.within("motor", "the efficiency", m.Efficiency, 0.2, 1, "")
	return fs
}

// Greatest is the most that motor, controller and bank give together.
type Greatest struct {
	ElectricalW, ShaftW, CurrentA float64 // current of the controller, without hotel loads
	Limit                         Limit   // which of them binds
}

// Greatest is the most that the motor takes from a bank, beside hotel loads.
//
//	P = min(P_s/η, V·I_c, V·I_b - P_h)          P_shaft = η·P          I = P/V
//
//	P    electrical power, W          P_s  greatest shaft power, W          η  efficiency of motor and controller
//	V    nominal voltage, V
//	I_c, I_b  greatest current of controller and bank, A; I_b left out where not stated
//	P_h  hotel loads, W
//
// Valid: continuous running; a bank and a motor without faults. Where hotel loads alone take what the bank gives, P is
// 0.
// Source: arithmetic.
func (m Motor) Greatest(b Bank, hotelW float64) Greatest {
	v := b.VoltageV()
	g := Greatest{ElectricalW: m.ShaftW / m.Efficiency, Limit: MotorPower}
	if w := v * m.ControllerA; w < g.ElectricalW {
		g.ElectricalW, g.Limit = w, ControllerCurrent
	}
	if b.MostA() > 0 {
		if w := float64(v*b.MostA()) - hotelW; w < g.ElectricalW {
			g.ElectricalW, g.Limit = math.Max(w, 0), BankCurrent
		}
	}
	g.ShaftW, g.CurrentA = g.ElectricalW*m.Efficiency, g.ElectricalW/v
	return g
}

// Drive is what stands between motor and water: shares of power that go through, 0 to 1.
type Drive struct {
	Transmission float64 // shaft line 0.98 to 0.99, gearbox 0.96
	Propeller    float64 // slow and large 0.5 to 0.6, small and fast 0.2 to 0.4
}

// Validate lists what is wrong.
func (d Drive) Validate() []Fault {
	var fs faults
	fs.within("drive", "the efficiency of the transmission", d.Transmission, 0.2, 1, "")
	fs.within("drive", "the efficiency of the propeller", d.Propeller, 0.05, 0.9, "")
	return fs
}

// PropulsiveEfficiency is the share of electrical power that drives the boat.
//
//	η = η_motor·η_trans·η_prop          P_eff = F·v = η·P
//
//	η_motor  motor and controller       η_trans  transmission       η_prop  propeller behind the hull
//	P_eff    power that moves the boat, W: force F, N, times speed v, m/s       P  electrical power, W
//
// Valid: each 0 to 1.
// Source: Watson, Practical Ship Design, p. 167: shaft line 98 to 99 %, gearbox 96 %; the product is arithmetic.
// Battery to propulsive power 18 % (trolling motors) to 56 % (the best), from a motor maker's glossary. Propeller 50 to
// 60 % from memory.
func PropulsiveEfficiency(motor, transmission, propeller float64) float64 {
	return motor * transmission * propeller
}
