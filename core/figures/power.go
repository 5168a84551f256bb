package figures

import (
	"fmt"

	"ribband/core/bank"
	"ribband/core/formula"
	"ribband/core/msg"
)

// What range and charging are computed for, where the book does not say otherwise.
const (
	Transmission = 0.98  // of a shaft line; range of 0.98 to 0.99 in textbooks
	Propeller    = 0.50  // open-water efficiency of a slow propeller; range of 0.5 to 0.6 in textbooks
	HeadWindMS   = 4.0   // a gentle breeze from ahead (Beaufort 3); our own assumption
	AirDensity   = 1.225 // kg/m³, standard atmosphere at 15 °C
	DragOfTops   = 1.0   // Cd of a boxy top from ahead; textbooks give 0.8 to 1.2, from memory
	Reserve      = 0.20  // of the usable energy, kept back; common practice, no source
	BankC        = 20.0  // temperature of the bank, °C
	PowerFactor  = 0.98  // of the charger; common practice, no source
	SolarShare   = 0.70  // of a panel's rating that reaches the bank; common practice, no source
)

// july is the month whose sun counts for a boat under way; the index is that of [bank.Irradiation].
const july = 6

// Range, endurance and charging.
const (
	PowerRange         ID = "power.range_nm"
	PowerEndurance     ID = "power.endurance_h"
	PowerReserve       ID = "power.reserve_nm"
	PowerDemand        ID = "power.demand_w"
	PowerCurrent       ID = "power.current_a"
	PowerTopSpeed      ID = "power.top_speed_kn"
	PowerCharge        ID = "power.charge_h"
	PowerChargeEnergy  ID = "power.charge_kwh"
	PowerSolarJuly     ID = "power.solar_july_kwh"
	PowerSpeedForRange ID = "power.speed_for_range_kn"
)

// NoRange says that range cannot be computed, with its cause.
const NoRange formula.FaultCode = "no-range"

// power computes range, endurance and charging for the speed and hours of the use.
//
// A boat without motor or bank, or one that does not reach the speed, has a range of zero. speed_for_range_kn is the
// greatest speed with the range wanted in use.range_nm; zero where none is wanted, or no speed has it.
//
// The sun of an average July day in the region of the use is in range and endurance: what the panels bring on average
// between sunrise and sunset, for the hours under way in a day that the use states, and no longer. The reserve does
// without.
//
// Formula: as the messages of the outputs say it. Valid: speeds within the trial; constant speed in deep, flat water;
// the sag of voltage under load is ignored. Source: package bank.
var power = module{
	name:  "power",
	needs: []Given{MassKg, BankKWh, BankV, MotorKW, MotorEfficiency, ChargerEfficiency, ChargingV},
	asks:  []Given{BankMaxA, BankKg, UsableShare, ChargerKW, InletKW, HotelW, SolarW, TopHeightM},
	uses:  []UseField{UseSpeed, UseRange, UsePersons, UseHours, UseRegion},

	prepare: preparePower,
	dooms:   overTrial,
	moves: []monotonicity{
		{[]ID{PowerRange, PowerEndurance}, map[Given]int{MassKg: -1, HotelW: -1, TopHeightM: -1, BankKWh: +1,
			BankMaxA: +1, MotorKW: +1, ChargerKW: 0, ChargerEfficiency: 0, ChargingV: 0, InletKW: 0, SolarW: +1}},
		{[]ID{PowerReserve, PowerTopSpeed}, map[Given]int{MassKg: -1, HotelW: -1, TopHeightM: -1, BankKWh: +1,
			BankMaxA: +1, MotorKW: +1, ChargerKW: 0, ChargerEfficiency: 0, ChargingV: 0, InletKW: 0, SolarW: 0}},
		// without charger, inlet or motor they are zero
		{[]ID{PowerCharge, PowerChargeEnergy}, map[Given]int{MassKg: 0, HotelW: 0, SolarW: 0, TopHeightM: 0,
			BankKWh: +1, MotorKW: +1, MotorEfficiency: 0}},
		{[]ID{PowerSolarJuly}, map[Given]int{MassKg: 0, BankKWh: 0, BankV: 0, BankMaxA: 0, BankKg: 0, UsableShare: 0,
			MotorKW: 0, MotorEfficiency: 0, ChargerKW: 0, ChargerEfficiency: 0, ChargingV: 0, InletKW: 0, HotelW: 0,
			TopHeightM: 0, SolarW: +1}},
	},
	outputs: []Definition{
		{ID: PowerRange, Unit: "nm", follows: true, sunlit: true, uses: underWay},
		{ID: PowerEndurance, Unit: "h", sunlit: true, uses: underWay},
		{ID: PowerReserve, Unit: "nm", uses: []UseField{UsePersons, UseSpeed}},
		{ID: PowerDemand, Unit: "W", uses: []UseField{UsePersons, UseSpeed}},
		{ID: PowerCurrent, Unit: "A", uses: []UseField{UsePersons, UseSpeed}},
		{ID: PowerTopSpeed, Unit: "kn", follows: true, ends: true, uses: []UseField{UsePersons}},
		{ID: PowerSpeedForRange, Unit: "kn", NoneAtZero: true, follows: true, ends: true, sunlit: true,
			uses: []UseField{UsePersons, UseRange, UseHours, UseRegion}},
		{ID: PowerCharge, Unit: "h", uses: []UseField{UsePersons}},
		{ID: PowerChargeEnergy, Unit: "kWh", uses: []UseField{UsePersons}},
		{ID: PowerSolarJuly, Unit: "kWh", uses: []UseField{UsePersons, UseRegion}},
	},
}

// underWay are the fields of the use from which range and endurance follow; the range wanted is not among them.
var underWay = []UseField{UsePersons, UseSpeed, UseHours, UseRegion}

// powerInputs are what the module reads.
type powerInputs struct {
	kwh, volts, maxA, kg, share      number // of the bank
	motor, efficiency, hotel         number
	charger, charging, inlet, toFull number // toFull: the voltage of charging
	solar, hours                     number
	speed, wanted                    number
	top, beam, depth, draft          number

	masses *masses
	curves []*bank.Curve
	sun    []sun // by region
	region func(*formula.State) int
}

// preparePower makes the solver of the module, on what the drawing of the curve computes from, too.
func preparePower(n *parts) (solver, error) {
	in, err := n.power()
	if err != nil {
		return nil, err
	}
	return in.solve, nil
}

// newPowerInputs looks up what the module reads. Every hull must have been on trial: a range from another hull's power
// would be a guess that nobody sees as one.
func newPowerInputs(n *parts) (*powerInputs, error) {
	p := n.pack
	for i := range p.Hulls {
		if p.Hulls[i].Trial == nil {
			return nil, fmt.Errorf("the hull %s has no trial; add one", p.Hulls[i].ID)
		}
	}
	curves, err := each(n, n.curves, "%w")
	return &powerInputs{
		kwh: n.given(BankKWh), volts: n.given(BankV), maxA: n.given(BankMaxA), kg: n.given(BankKg),
		share: n.given(UsableShare),
		motor: n.given(MotorKW), efficiency: n.given(MotorEfficiency), hotel: n.given(HotelW),
		charger: n.given(ChargerKW), charging: n.given(ChargerEfficiency), inlet: n.given(InletKW),
		toFull: n.given(ChargingV),
		solar:  n.given(SolarW), hours: n.used(UseHours), speed: n.used(UseSpeed), wanted: n.used(UseRange),
		top: n.given(TopHeightM), beam: n.field(HullBeam), depth: n.field(HullDepth), draft: n.field(HullDraft),
		masses: n.masses(), curves: curves, sun: suns(p), region: regionOf(p),
	}, err
}

// setup is the boat as package bank takes it; ok is false without a bank or a motor.
func (in *powerInputs) setup(st *formula.State) (s bank.Setup, ok bool) {
	volts, kwh, motorW, efficiency := in.volts(st), in.kwh(st), 1000*in.motor(st), in.efficiency(st)
	if !(volts > 0 && kwh > 0 && motorW > 0) {
		return s, false
	}
	// the book does not say what a bank is made of; what of its energy may be used tells the two kinds apart
	chemistry := bank.AGM()
	if in.share(st) >= 0.7 {
		chemistry = bank.LiFePO4()
	}
	return bank.Setup{
		Bank: bank.Bank{Chemistry: chemistry, Series: 1, Parallel: 1,
			Block: bank.Block{VoltageV: volts, CapacityAh: 1000 * kwh / volts, MassKg: in.kg(st), MostA: in.maxA(st)}},
		State: bank.State{TemperatureC: BankC},
		Motor: bank.Motor{ShaftW: motorW, ControllerA: 1.1 * motorW / (efficiency * volts), Efficiency: efficiency},
		Drive: bank.Drive{Transmission: Transmission, Propeller: Propeller},
		Curve: in.curves[st.HullID],
		Windage: bank.Windage{HullM2: in.beam(st) * max(0, in.depth(st)-in.draft(st)),
			TopM2: in.beam(st) * in.top(st) / 2, Drag: DragOfTops},
		Conditions: bank.Conditions{DisplacementKg: in.masses.loaded(st).Mass, HeadWindMS: HeadWindMS,
			AirDensity: AirDensity,
			HotelW:     in.hotel(st), Reserve: Reserve, SolarW: 1000 * in.sun[in.region(st)].whileUp(in.solar(st)),
			SolarH: in.hours(st)},
	}, true
}

// solve computes the outputs one after the other: a boat that does not reach the speed of the use still has a top speed
// and a time to charge.
func (in *powerInputs) solve(b *boat, out *results) formula.Fault {
	st := b.State
	out.set(PowerSolarJuly, in.sun[in.region(st)].july(in.solar(st)))
	setup, ok := in.setup(st)
	if !ok {
		return formula.Fault{}
	}
	boat, err := bank.New(setup)
	if err != nil {
		return formula.Fault{Code: NoRange, Cause: msg.Of(err)}
	}
	if passage, err := boat.At(in.speed(st)); err == nil {
		out.set(PowerRange, passage.RangeNm)
		out.set(PowerEndurance, passage.EnduranceH)
		out.set(PowerReserve, passage.ReserveNm)
		out.set(PowerDemand, passage.CurrentA*in.volts(st))
		out.set(PowerCurrent, passage.CurrentA)
	}
	if top, _, err := boat.TopSpeed(); err == nil {
		out.set(PowerTopSpeed, top)
	}
	if wanted := in.wanted(st); wanted > 0 {
		if passage, err := boat.SpeedForRange(wanted); err == nil {
			out.set(PowerSpeedForRange, passage.SpeedKn)
		}
	}
	if in.charger(st) > 0 && in.inlet(st) > 0 {
		charge, err := in.chargingOf(st, setup).From(1 - setup.Bank.Chemistry.Depth)
		if err == nil {
			out.set(PowerCharge, charge.TotalH)
			out.set(PowerChargeEnergy, charge.MainsKWh)
		}
	}
	return formula.Fault{}
}

// chargingOf is the bank at its charger. The inlet is known by its continuous power alone, so its voltage is taken as
// 230 V; power is what counts.
func (in *powerInputs) chargingOf(st *formula.State, s bank.Setup) bank.Charging {
	const mains = 230.0
	volts := in.toFull(st)
	return bank.Charging{Bank: s.Bank, State: s.State,
		Charger: bank.Charger{VoltageV: volts, CurrentA: 1000 * in.charger(st) / volts, Efficiency: in.charging(st),
			PowerFactor: PowerFactor},
		Inlet: bank.Inlet{VoltageV: mains, RatedA: 1000 * in.inlet(st) / (bank.Continuous * mains),
			Continuous: bank.Continuous}}
}

// RangeCurve is range over speed for a boat, for drawing. There is none without a trial, a bank or a motor.
func (f *Figures) RangeCurve(st *formula.State, points int) ([]bank.Passage, bool) {
	boat, ok := f.underWay(st)
	if !ok {
		return nil, false
	}
	curve, err := boat.RangeCurve(points)
	return curve, err == nil
}

// Passage is what a speed gives, in the conditions of the figures. There is none without a trial, a bank or a motor,
// nor at a speed that the boat does not reach or that was not tried.
func (f *Figures) Passage(st *formula.State, speedKn float64) (bank.Passage, bool) {
	boat, ok := f.underWay(st)
	if !ok {
		return bank.Passage{}, false
	}
	p, err := boat.At(speedKn)
	return p, err == nil
}

// underWay is a boat with its bank, motor and trial.
func (f *Figures) underWay(st *formula.State) (*bank.Boat, bool) {
	in, err := f.parts.power()
	if err != nil {
		return nil, false
	}
	setup, ok := in.setup(st)
	if !ok {
		return nil, false
	}
	boat, err := bank.New(setup)
	return boat, err == nil
}

// Wind is a wind from ahead as people speak of it: in m/s, in knots, and by its force on the Beaufort scale.
type Wind struct {
	MS, Kn float64
	Force  int
}

// HeadWind is the wind of [HeadWindMS].
//
//	1 kn = 1852/3600 m/s
//
// Source: WMO Manual on Codes, table 1100 (lower ends of the forces in m/s), from memory.
func HeadWind() Wind {
	w := Wind{MS: HeadWindMS, Kn: HeadWindMS * 3600 / 1852}
	for _, from := range []float64{0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7} {
		if HeadWindMS >= from {
			w.Force++
		}
	}
	return w
}
