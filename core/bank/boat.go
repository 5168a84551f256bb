package bank

import "math"

// MSPerKn is a knot in m/s, exact.
const MSPerKn = 1852.0 / 3600

// MostOfTrial is how many times as heavy, or as light, as on trial a boat may be.
const MostOfTrial = 2

// Conditions are those of the passage.
type Conditions struct {
	DisplacementKg float64 // of boat, persons and stores, kg
	HeadWindMS     float64 // true wind from ahead, m/s
	AirDensity     float64 // kg/m³; see [AirDensity]
	HotelW         float64 // lights, instruments and the like, W
	Reserve        float64 // share of the usable energy that is kept back, 0 to 0.9
	// what panels bring under way on average, W, and for how many hours of the day that is counted
	SolarW, SolarH float64
}

// Setup is everything that range depends on.
type Setup struct {
	Bank       Bank
	State      State
	Motor      Motor
	Drive      Drive
	Curve      *Curve
	Windage    Windage
	Conditions Conditions
}

// Validate lists what is wrong.
func (s Setup) Validate() []Fault {
	fs := faults(s.Bank.Validate())
	fs = append(fs, s.State.Validate(s.Bank.Chemistry)...)
	fs = append(fs, s.Motor.Validate()...)
	fs = append(fs, s.Drive.Validate()...)
	fs.within("windage", "the area of the hull", s.Windage.HullM2, 0, 200, "m2")
	fs.within("windage", "the area of top and enclosure", s.Windage.TopM2, 0, 200, "m2")
	fs.within("windage", "the drag coefficient", s.Windage.Drag, 0, 3, "")
	c := s.Conditions
	fs.within("conditions", "the head wind", c.HeadWindMS, 0, 40, "m/s")
	fs.within("conditions", "the density of air", c.AirDensity, 0.5, 2, "kg/m3")
	fs.within("conditions", "the hotel load", c.HotelW, 0, 1e5, "W")
	fs.within("conditions", "the reserve", c.Reserve, 0, 0.9, "")
	fs.within("conditions", "the power of the panels", c.SolarW, 0, 20000, "W")
	fs.within("conditions", "the hours of sun", c.SolarH, 0, 24, "h")
	if s.Curve == nil {
		fs.add("trial", "there is no curve of power over speed", "give the trial table of this hull")
		return fs
	}
	d := s.Curve.trial.DisplacementKg
	if !(c.DisplacementKg >= d/MostOfTrial && c.DisplacementKg <= MostOfTrial*d) {
		fs.add("conditions", "the displacement is "+amount(c.DisplacementKg, "kg")+" and was "+amount(d, "kg")+
			" on trial",
			"stay between half and twice that of the trial, or try the hull at this displacement")
	}
	return fs
}

// Boat is a setup found right, ready to be asked.
type Boat struct {
	setup      Setup
	scale      float64 // from power on trial to electrical power at this displacement
	efficiency float64 // from electrical power to power that moves the boat
	full       Usable  // at no current
	greatest   Greatest
}

// New checks a setup and makes it ready.
func New(s Setup) (*Boat, error) {
	if fs := faults(s.Validate()); len(fs) > 0 {
		return nil, fs.err()
	}
	b := &Boat{setup: s, full: s.Bank.usable(0, s.State), greatest: s.Motor.Greatest(s.Bank, s.Conditions.HotelW)}
	b.scale = AdmiraltyScale(s.Conditions.DisplacementKg/s.Curve.trial.DisplacementKg, 1)
	if s.Curve.trial.AtShaft {
		b.scale /= s.Motor.Efficiency
	}
	b.efficiency = PropulsiveEfficiency(s.Motor.Efficiency, s.Drive.Transmission, s.Drive.Propeller)
	return b, nil
}

// Demand is the electrical power that a speed takes, W.
type Demand struct {
	WaterW float64 // from the trial, at this displacement
	WindW  float64 // head wind, top and enclosure
	HotelW float64
}

// MotorW is what the motor's controller draws, W.
func (d Demand) MotorW() float64 { return d.WaterW + d.WindW }

// TotalW is what the bank gives, W.
func (d Demand) TotalW() float64 { return d.WaterW + d.WindW + d.HotelW }

// Demand is the electrical power that a speed takes.
//
//	P = P_trial·(D/D_trial)^(2/3)·u + F·v/η + P_h
//
//	P_trial  power on trial, W         D, D_trial  displacement now and on trial, kg
//	u        1, or 1/η_motor where the trial measured at the shaft
//	F        [Windage.AddedN], N       v  speed, m/s       η  [PropulsiveEfficiency]       P_h  hotel loads, W
//
// Valid: speeds of the trial table; else an [OutsideError]. Whether the motor can give it is not asked here.
// Source: [AdmiraltyScale]; the rest is arithmetic.
func (b *Boat) Demand(speedKn float64) (Demand, error) {
	w, err := b.setup.Curve.PowerW(speedKn)
	if err != nil {
		return Demand{}, err
	}
	return b.demand(speedKn, w), nil
}

func (b *Boat) demand(speedKn, trialW float64) Demand {
	c, v := b.setup.Conditions, speedKn*MSPerKn
	force := b.setup.Windage.AddedN(c.AirDensity, v, c.HeadWindMS)
	return Demand{WaterW: trialW * b.scale, WindW: force * v / b.efficiency, HotelW: c.HotelW}
}

// Passage is a speed held until the reserve is reached.
type Passage struct {
	SpeedKn  float64
	Demand   Demand
	CurrentA float64 // of the bank
	Usable   Usable  // at that current, the reserve still in it

	EnduranceH, RangeNm float64 // until the reserve
	ReserveH, ReserveNm float64 // what the reserve is good for at the same speed
}

// At is what a speed gives: power, current, endurance, range and reserve.
//
//	I = P/V          t by [HoursUntilEmpty] of (1-r)·1000·E          R = v·t
//	t_r = r·1000·E/P          R_r = v·t_r
//
//	P  [Boat.Demand], W     V  nominal voltage, V     I  current, A     E  [Bank.Usable] at I, kWh     r  reserve
//	t, t_r  time to the reserve and in it, h          v  speed, kn      R, R_r  range and range of the reserve, nm
//
// Valid: speeds of the trial table, else an [OutsideError]; within the power of motor, controller and bank, else a
// [TooFastError]; steady speed, no current of the water.
// Source: arithmetic.
func (b *Boat) At(speedKn float64) (Passage, error) {
	d, err := b.Demand(speedKn)
	if err != nil {
		return Passage{}, err
	}
	if d.MotorW() > b.greatest.ElectricalW {
		return Passage{}, &TooFastError{speedKn, d.MotorW(), b.greatest}
	}
	return b.passage(speedKn, d), nil
}

func (b *Boat) passage(speedKn float64, d Demand) Passage {
	bank, reserve := b.setup.Bank, b.setup.Conditions.Reserve
	p := Passage{SpeedKn: speedKn, Demand: d, CurrentA: d.TotalW() / bank.VoltageV(), Usable: b.full}
	c := bank.CapacityAh()
	p.Usable.Peukert = PeukertAh(c, bank.RatedHours(), bank.Chemistry.Exponent, p.CurrentA) / c
	p.Usable.Ah, p.Usable.KWh = b.full.Ah*p.Usable.Peukert, b.full.KWh*p.Usable.Peukert
	hours := 1000 * p.Usable.KWh / d.TotalW()
	p.ReserveH = reserve * hours
	p.EnduranceH = HoursUntilEmpty((1-reserve)*1000*p.Usable.KWh, d.TotalW(), b.setup.Conditions.SolarW,
		b.setup.Conditions.SolarH)
	p.RangeNm, p.ReserveNm = speedKn*p.EnduranceH, speedKn*p.ReserveH
	return p
}

// HoursUntilEmpty is how long an energy lasts, h, while panels bring power for the first hours.
//
//	t = min(E/(P - P_s), (E + P_s·h)/P); where the panels bring all that is taken, the second
//
//	E  energy, Wh       P  power taken, W       P_s  power of the panels, W       h  hours for which it is counted
//
// Valid: P above zero. The reserve and the current of the bank are reckoned without the sun.
// Source: energy balance.
func HoursUntilEmpty(wh, w, solarW, solarH float64) float64 {
	hours := (float64(wh) + float64(solarW*solarH)) / w
	if w > solarW {
		hours = min(hours, wh/(w-solarW))
	}
	return hours
}

// TooFastError says that motor, controller or bank does not give what a speed takes.
type TooFastError struct {
	SpeedKn, MotorW float64
	Greatest        Greatest
}

func (e *TooFastError) Error() string {
	return "power at " + amount(e.SpeedKn, "kn") + ": it takes " + amount(math.Ceil(e.MotorW), "W") + ", and the " +
		string(e.Greatest.Limit) +
		" ends at " + amount(math.Floor(e.Greatest.ElectricalW), "W") +
		"; choose a lower speed, or more of what is short"
}
