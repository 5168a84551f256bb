package figures

import (
	"fmt"

	"ribband/core/bank"
	"ribband/core/formula"
	"ribband/core/pack"
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

const july = 6 // in bank.Irradiation

// power computes range, endurance and charging for the speed and hours of the use.
//
// It reads the trial of the hull; the figures mass_kg, bank_kwh, bank_v, bank_max_a, bank_kg, usable_share (0.7 and
// above is taken for LiFePO4, below for AGM), motor_kw, motor_efficiency, charger_kw, charger_efficiency, charging_v,
// inlet_kw, hotel_w, solar_w, top_height_m; use.speed_kn, range_nm, hours and the region; hull.beam_m, depth_m,
// draft_m. A boat without motor or bank, or one that does not reach the speed, has a range of zero. speed_for_range_kn
// is the greatest speed with the range wanted in use.range_nm; zero where none is wanted, or no speed has it.
//
// The sun of an average July day in the region of the use is in range and endurance: what the panels bring on average
// between sunrise and sunset, for the hours under way in a day that the use states, and no longer. The reserve does
// without.
//
// Valid: speeds within the trial; constant speed in deep, flat water; the sag of voltage under load is ignored. Source:
// package bank.
var power = module{
	name: "power",
	outputs: []string{"range_nm", "endurance_h", "reserve_nm", "demand_w", "current_a", "top_speed_kn", "charge_h",
		"charge_kwh", "solar_july_kwh", "speed_for_range_kn"},
	needs: []string{"mass_kg", "bank_kwh", "bank_v", "motor_kw", "motor_efficiency", "charger_efficiency",
		"charging_v"},
	asks: []string{"bank_max_a", "bank_kg", "usable_share", "charger_kw", "inlet_kw", "hotel_w", "solar_w",
		"top_height_m"},
	uses: []string{"speed_kn", "range_nm", "persons", "hours", "region"},
	only: map[string][]string{
		"speed_kn": {"range_nm", "endurance_h", "reserve_nm", "demand_w", "current_a"},
		"range_nm": {"speed_for_range_kn"},
		"hours":    {"range_nm", "endurance_h", "speed_for_range_kn"},
		"region":   {"range_nm", "endurance_h", "speed_for_range_kn", "solar_july_kwh"},
	},
	prepare: preparePower,
	dooms:   overTrial,
	signs: []signs{
		{[]string{"range_nm", "endurance_h"}, map[string]int{"mass_kg": -1, "hotel_w": -1, "top_height_m": -1,
			"bank_kwh": +1, "bank_max_a": +1,
			"motor_kw": +1, "charger_kw": 0, "charger_efficiency": 0, "charging_v": 0, "inlet_kw": 0, "solar_w": +1}},
		{[]string{"reserve_nm", "top_speed_kn"},
			map[string]int{"mass_kg": -1, "hotel_w": -1, "top_height_m": -1, "bank_kwh": +1, "bank_max_a": +1,
				"motor_kw": +1, "charger_kw": 0, "charger_efficiency": 0, "charging_v": 0, "inlet_kw": 0,
				"solar_w": 0}},
		{[]string{"charge_h", "charge_kwh"}, map[string]int{"mass_kg": 0, "hotel_w": 0, "solar_w": 0, "top_height_m": 0,
			"bank_kwh": +1, "motor_kw": +1,
			"motor_efficiency": 0}}, // without charger, inlet or motor they are zero
		{[]string{"solar_july_kwh"}, map[string]int{"mass_kg": 0, "bank_kwh": 0, "bank_v": 0, "bank_max_a": 0,
			"bank_kg": 0, "usable_share": 0, "motor_kw": 0,
			"motor_efficiency": 0, "charger_kw": 0, "charger_efficiency": 0, "charging_v": 0, "inlet_kw": 0,
			"hotel_w": 0, "top_height_m": 0, "solar_w": +1}},
	},
}

// powerInputs are what the module reads.
type powerInputs struct {
	kwh, volts, maxA, kg, share      func(*formula.State) float64 // of the bank
	motor, efficiency, hotel         func(*formula.State) float64
	charger, charging, inlet, toFull func(*formula.State) float64 // toFull: the voltage of charging
	solar, hours                     func(*formula.State) float64
	speed, wanted                    func(*formula.State) float64
	top, beam, depth, draft          func(*formula.State) float64

	masses *masses
	curves []*bank.Curve
	sun    []sun // by region
	region func(*formula.State) int
}

func preparePower(p *pack.Pack, n *names) (solver, error) {
	in, err := newPowerInputs(p, n)
	if err != nil {
		return nil, err
	}
	return in.solve, nil
}

func newPowerInputs(p *pack.Pack, n *names) (*powerInputs, error) {
	in := &powerInputs{
		kwh: n.figure("bank_kwh"), volts: n.figure("bank_v"), maxA: n.figure("bank_max_a"), kg: n.figure("bank_kg"),
		share: n.figure("usable_share"),
		motor: n.figure("motor_kw"), efficiency: n.figure("motor_efficiency"), hotel: n.figure("hotel_w"),
		charger: n.figure("charger_kw"), charging: n.figure("charger_efficiency"), inlet: n.figure("inlet_kw"),
		toFull: n.figure("charging_v"),
		solar:  n.figure("solar_w"), hours: n.used("hours", 0), speed: n.used("speed_kn", 0),
		wanted: n.used("range_nm", 0),
		top:    n.figure("top_height_m"), beam: n.field("beam_m"), depth: n.field("depth_m"), draft: n.field("draft_m"),
		masses: n.table(p), curves: make([]*bank.Curve, len(p.Hulls)), sun: suns(p), region: regionOf(p),
	}
	for i := range p.Hulls {
		if p.Hulls[i].Trial == nil {
			return nil, fmt.Errorf("the hull %s has no trial; add one", p.Hulls[i].ID)
		}
		var err error
		if in.curves[i], err = p.Hulls[i].NewCurve(); err != nil {
			return nil, fmt.Errorf("the hull %s: %w", p.Hulls[i].ID, err)
		}
	}
	return in, nil
}

// setup is the boat as package bank takes it; ok is false without a bank or a motor.
func (in *powerInputs) setup(st *formula.State) (s bank.Setup, ok bool) {
	volts, kwh, motorW, efficiency := in.volts(st), in.kwh(st), 1000*in.motor(st), in.efficiency(st)
	if !(volts > 0 && kwh > 0 && motorW > 0) {
		return s, false
	}
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

func (in *powerInputs) solve(st *formula.State, out []float64) error {
	clear(out)
	out[8] = in.sun[in.region(st)].july(in.solar(st))
	setup, ok := in.setup(st)
	if !ok {
		return nil
	}
	boat, err := bank.New(setup)
	if err != nil {
		return fmt.Errorf("Range cannot be computed: %w.", err)
	}
	if passage, err := boat.At(in.speed(st)); err == nil {
		out[0], out[1], out[2] = passage.RangeNm, passage.EnduranceH, passage.ReserveNm
		out[3], out[4] = passage.CurrentA*in.volts(st), passage.CurrentA
	}
	if top, _, err := boat.TopSpeed(); err == nil {
		out[5] = top
	}
	if wanted := in.wanted(st); wanted > 0 {
		if passage, err := boat.SpeedForRange(wanted); err == nil {
			out[9] = passage.SpeedKn
		}
	}
	if in.charger(st) > 0 && in.inlet(st) > 0 {
		charge, err := in.chargingOf(st, setup).From(1 - setup.Bank.Chemistry.Depth)
		if err == nil {
			out[6], out[7] = charge.TotalH, charge.MainsKWh
		}
	}
	return nil
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
func RangeCurve(p *pack.Pack, st *formula.State, points int) ([]bank.Passage, bool) {
	in, err := newPowerInputs(p, namesOf(p))
	if err != nil {
		return nil, false
	}
	setup, ok := in.setup(st)
	if !ok {
		return nil, false
	}
	boat, err := bank.New(setup)
	if err != nil {
		return nil, false
	}
	curve, err := boat.RangeCurve(points)
	return curve, err == nil
}

// HeadWind says how strong the head wind is, for a reader: in m/s, knots and Beaufort force.
//
//	1 kn = 1852/3600 m/s
//
// Source: WMO Manual on Codes, table 1100 (lower ends of the forces in m/s), from memory.
func HeadWind() string {
	force := 0
	for _, from := range []float64{0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7} {
		if HeadWindMS >= from {
			force++
		}
	}
	return fmt.Sprintf("%g\u00a0m/s (%.0f\u00a0kn, force %d)", HeadWindMS, HeadWindMS*3600/1852, force)
}
