package bank

import "math"

// SimpleChargeHours is the time to put charge back, without the taper at the end.
//
//	t = Q/(I·η), which is Q·f/I with f = 1/η
//
//	t  time, h       Q  charge removed, Ah       I  current, A       η  share of the charge that stays
//
// Valid: constant current; short, because it leaves the taper out.
// Source: charger maker's manual; teaching pages.
func SimpleChargeHours(removedAh, currentA, efficiency float64) float64 {
	return removedAh / (currentA * efficiency)
}

// Charging is a bank at a charger at a shore inlet.
type Charging struct {
	Bank    Bank
	State   State
	Charger Charger
	Inlet   Inlet
}

// Validate lists what is wrong.
func (c Charging) Validate() []Fault {
	fs := faults(c.Bank.Validate())
	fs = append(fs, c.State.Validate(c.Bank.Chemistry)...)
	fs = append(fs, c.Charger.Validate()...)
	fs = append(fs, c.Inlet.Validate()...)
	if v := c.Bank.VoltageV(); !(c.Charger.VoltageV >= v && c.Charger.VoltageV <= 1.35*v) {
		fs.add("charger", "it charges at "+amount(c.Charger.VoltageV, "V")+", and the bank has "+amount(v, "V"),
			"choose a charger for this voltage: between the nominal voltage and 1.35 times it")
	}
	if low := c.Bank.Chemistry.ChargeFromC; c.State.TemperatureC < low {
		fs.add("charging", "the bank is at "+amount(c.State.TemperatureC, "C"),
			"warm it first: "+c.Bank.Chemistry.Name+" is charged from "+amount(low, "C"))
	}
	return fs
}

// Current is the greatest current into the bank and what holds it there.
//
//	I = min(I_charger, s·I_inlet·V_ac·η·PF/V_dc, I_bank)
//
//	I_charger  greatest output, A       s·I_inlet  [Inlet.ContinuousA], A
//	V_ac  mains, V      V_dc  charging voltage, V
//	η, PF      efficiency and power factor of the charger
//	I_bank  greatest charging current, A; left out where not stated
//
// Valid: a charger that can be set to draw less than it might; else take a smaller one.
// Source: [Charger.MainsA] turned round; NEC 210.20(A).
func (c Charging) Current() (float64, Limit) {
	a, limit := c.Charger.CurrentA, ChargerCurrent
	if i := c.Inlet.ContinuousA() / c.Charger.MainsA(1, c.Inlet.VoltageV); i < a {
		a, limit = i, InletCurrent
	}
	if i := c.Bank.MostInA(); i > 0 && i < a {
		a, limit = i, BankCharging
	}
	return a, limit
}

// Charge is one charge until full.
type Charge struct {
	CurrentA                   float64 // in bulk, into the bank
	Limit                      Limit   // what holds the current there
	MainsA, MainsW             float64 // in bulk, from the shore
	BulkH, AbsorptionH, TotalH float64
	AddedKWh                   float64 // what the bank can give again
	MainsKWh                   float64 // what the meter counts; times the tariff it is the cost
}

// Within says whether the charge is done in so many hours, such as overnight.
func (c Charge) Within(hours float64) bool { return c.TotalH <= hours }

// From is the charge from a state of charge, 0 empty to 1 full.
//
//	t_bulk = max(b-s, 0)·C/(η·I)       t_abs = max(T·q/(1-b), q·C/(η·I)), q = 1-max(s, b)
//	E_add = (1-s)·C·V/1000             E_mains = E_add/(η·η_c)
//
//	s  state of charge             b  state of charge at which bulk ends      C  [Bank.FullAh], Ah
//	η  charge efficiency           I  [Charging.Current], A                   T  absorption after a bulk charge, h
//	V  nominal voltage, V          η_c  efficiency of the charger             t_bulk, t_abs  time, h
//	E_add, E_mains  energy that the bank can give again and that the meter counts, kWh
//
// The charge efficiency, of energy, stands for that of charge as well: so the time comes out long rather than short.
// Absorption falls in proportion where it begins above b, and never asks for more than the current of bulk.
//
// Valid: a charging without faults, s 0 to 1. Depth is not in it: after using the usable share, s is 1 less the depth.
// Source: [SimpleChargeHours]; two stages as in the charger maker's manual; the rest is derived.
func (c Charging) From(stateOfCharge float64) (Charge, error) {
	fs := faults(c.Validate())
	fs.within("charging", "the state of charge", stateOfCharge, 0, 1, "")
	if len(fs) > 0 {
		return Charge{}, fs.err()
	}
	k, ah := c.Bank.Chemistry, c.Bank.FullAh(c.State.Age)
	ch := Charge{}
	ch.CurrentA, ch.Limit = c.Current()
	ch.MainsA = c.Charger.MainsA(ch.CurrentA, c.Inlet.VoltageV)
	ch.MainsW = c.Charger.VoltageV * ch.CurrentA / c.Charger.Efficiency
	ch.BulkH = SimpleChargeHours(math.Max(k.BulkTo-stateOfCharge, 0)*ah, ch.CurrentA, k.ChargeEfficiency)
	if rest := 1 - math.Max(stateOfCharge, k.BulkTo); rest > 0 {
		ch.AbsorptionH = math.Max(k.AbsorptionH*rest/(1-k.BulkTo),
			SimpleChargeHours(rest*ah, ch.CurrentA, k.ChargeEfficiency))
	}
	ch.TotalH = ch.BulkH + ch.AbsorptionH
	ch.AddedKWh = (1 - stateOfCharge) * ah * c.Bank.VoltageV() / 1000
	ch.MainsKWh = ch.AddedKWh / (k.ChargeEfficiency * c.Charger.Efficiency)
	return ch, nil
}

// After is the state of charge after so many hours at the charger.
//
//	even rise to the end of bulk, then even rise to full
//
// Valid: as [Charging.From]; within absorption the true charge lies a little above this.
// Source: [Charging.From]; even absorption is a simplification.
func (c Charging) After(stateOfCharge, hours float64) (float64, error) {
	ch, err := c.From(stateOfCharge)
	if err != nil {
		return 0, err
	}
	var fs faults
	if !fs.within("charging", "the time", hours, 0, 1e4, "h") {
		return 0, fs.err()
	}
	switch begin := math.Max(stateOfCharge, c.Bank.Chemistry.BulkTo); {
	case hours >= ch.TotalH:
		return 1, nil
	case hours < ch.BulkH:
		return stateOfCharge + (begin-stateOfCharge)*hours/ch.BulkH, nil
	default:
		return begin + (1-begin)*(hours-ch.BulkH)/ch.AbsorptionH, nil
	}
}
