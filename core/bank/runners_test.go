package bank_test

import (
	"math"

	"ribband/core/bank"
)

func runTable(in named) named {
	var percent numbers
	for _, k := range in["exponents"] {
		for _, a := range in["currents_a"] {
			percent = append(percent, 100*bank.PeukertAh(in.one("capacity_ah"), in.one("rated_h"), k,
				a)/in.one("capacity_ah"))
		}
	}
	return named{"percent": percent}
}

func runExponent(in named) named {
	rated := bank.Run{CurrentA: in.one("rated_ah") / in.one("rated_h"), Hours: in.one("rated_h")}
	fast := bank.Run{CurrentA: in.one("current_a"), Hours: in.one("measured_ah") / in.one("current_a")}
	k, err := bank.PeukertExponent(rated, fast)
	if err != nil {
		panic(err)
	}
	return named{"exponent": {k}}
}

func runDischarge(in named) named {
	c, h, k, a := in.one("capacity_ah"), in.one("rated_h"), in.one("exponent"), in.one("current_a")
	return named{"hours": {bank.PeukertHours(c, h, k, a)}, "ah": {bank.PeukertAh(c, h, k, a)}}
}

func runOneAmpere(in named) named {
	c := bank.OneAmpereAh(in.one("one_ampere_ah"))
	return each("currents_a", "hours", func(a float64) float64 { return c.Hours(in.one("exponent"), a) })(in)
}

func runTemperature(in named) named {
	share, err := bank.AGM().TemperatureFactor(in.one("temperature_c"))
	if err != nil {
		panic(err)
	}
	return named{"ah": {in.one("capacity_ah") * share}}
}

func runBanks(in named) named {
	out := named{}
	for i := range in["voltage_v"] {
		block := bank.Block{VoltageV: in["voltage_v"][i], CapacityAh: in["capacity_ah"][i]}
		b := bank.Bank{Chemistry: bank.AGM(), Block: block, Series: int(in["series"][i]),
			Parallel: int(in["parallel"][i])}
		out["voltage_v"] = append(out["voltage_v"], b.VoltageV())
		out["capacity_ah"] = append(out["capacity_ah"], b.CapacityAh())
		out["wh"] = append(out["wh"], 1000*b.EnergyKWh())
	}
	return out
}

func runTwoStage(in named) named {
	about80, full := bank.TwoStageChargeHours(in.one("capacity_ah"), in.one("current_a"), in.one("absorption_h"))
	return named{"about_80_h": {about80}, "full_h": {full}}
}

func runSimpleCharge(in named) named {
	efficiency := in["efficiency"]
	if efficiency == nil {
		efficiency = numbers{1 / in.one("factor")}
	}
	return named{"hours": {bank.SimpleChargeHours(in.one("removed_ah"), in.one("current_a"), efficiency[0])}}
}

func runDevice(in named) named {
	a := bank.DeviceA(in.one("continuous_a"), in.one("other_a"))
	standard, _ := bank.StandardDeviceA(a)
	return named{"device_a": {a}, "standard_a": {standard}}
}

func runMains(in named) named {
	c := bank.Charger{VoltageV: in.one("voltage_v"), CurrentA: in.one("current_a"), Efficiency: in.one("efficiency"),
		PowerFactor: in.one("power_factor")}
	a := c.MainsA(c.CurrentA, in.one("mains_v"))
	fits := each("circuits_a", "fits", func(device float64) float64 {
		if bank.ContinuousA(device) >= a {
			return 1
		}
		return 0
	})(in)
	return named{"mains_a": {a}, "fits": fits["fits"]}
}

// runRange lets a whole boat run: exponent 1, no wind, no hotel load, and a trial that has the power at the speed.
func runRange(in named) named {
	s := launch()
	s.Bank.Chemistry.Exponent, s.Bank.Chemistry.Depth = 1, in.one("depth")
	s.Bank.Block = bank.Block{VoltageV: in.one("voltage_v"), CapacityAh: in.one("capacity_ah")}
	s.Bank.Series, s.Bank.Parallel = 1, 1
	v, w := in.one("speed_kn"), in.one("power_w")
	s.Curve = mustCurve(bank.Trial{DisplacementKg: 900,
		Points: []bank.Point{{SpeedKn: v - 2, PowerW: w / 8}, {SpeedKn: v - 1, PowerW: w / 3}, {SpeedKn: v, PowerW: w},
			{SpeedKn: v + 1, PowerW: 2 * w}}})
	s.Conditions = bank.Conditions{DisplacementKg: 900, AirDensity: 1.225}
	s.Windage.TopM2 = 0
	b, err := bank.New(s)
	if err != nil {
		panic(err)
	}
	p, err := b.At(v)
	if err != nil {
		panic(err)
	}
	return named{"wh": {1000 * s.Bank.EnergyKWh()}, "range_nm": {p.RangeNm}}
}

func froudeAtHullSpeed(waterlineFt float64) float64 {
	return bank.Froude(bank.HullSpeedKnOfFt(waterlineFt)*bank.MSPerKn, waterlineFt*bank.MPerFt)
}

func runCoefficient(in named) named {
	return named{"coefficient": {bank.AdmiraltyCoefficient(in.one("displacement_t"), in.one("speed_kn"),
		in.one("power_kw"))}}
}

func runAdmiralty(in named) named {
	hp := bank.AdmiraltyPower(in.one("displacement_t"), in.one("speed_kn"), in.one("coefficient"))
	return named{
		"two_thirds": {bank.AdmiraltyScale(in.one("displacement_t"), 1)}, "hp": {hp},
		"with_margin_hp": {hp * in.one("margin")}, "kw": {hp * bank.WPerHP / 1000},
	}
}

func runEnergy(in named) named {
	return named{"rate": {in.one("rate") * in.one("worse") * bank.AdmiraltyScale(1, in.one("to_kn")/in.one("from_kn"))}}
}

func runSpeedLength(in named) named {
	return named{"speed_length": {bank.GerrSpeedLength(in.one("displacement_lb"), in.one("shaft_hp"))}}
}

func runGerr(in named) named {
	sl, lb := bank.SpeedLength(in.one("speed_kn"), in.one("waterline_ft")), in.one("displacement_lb")
	hp := bank.GerrShaftHP(lb, sl)
	return named{"speed_length": {sl}, "lb_per_hp": {lb / hp}, "shaft_hp": {hp}}
}

func runBetween(in named) named {
	lb := in.one("displacement_lb")
	sl := (bank.GerrSpeedLength(lb, in.one("shaft_hp")) + bank.SpeedLength(in.one("speed_kn"),
		in.one("waterline_ft"))) / 2
	return named{"speed_length": {sl}, "shaft_hp": {bank.GerrShaftHP(lb, sl)}}
}

func runPounds(in named) named {
	area, drag := in.one("area_ft2"), in.one("drag")
	out := each("wind_kn", "lbf", func(kn float64) float64 { return bank.WindForceLbf(drag, area, kn) })(in)
	n := bank.WindForceN(1.225, drag, area*bank.MPerFt*bank.MPerFt, in["wind_kn"][0]*bank.MSPerKn)
	out["si_n_at_first"], out["si_lbf_at_first"] = numbers{n}, numbers{n / (bank.KgPerLb * bank.GravityMS2)}
	return out
}

func runWind(in named) named {
	return named{"newton": {bank.WindForceN(in.one("density"), in.one("drag"), in.one("area_m2"), in.one("wind_ms"))}}
}

func runPropulsion(in named) named {
	return named{"watts": {in.one("power_w") * bank.PropulsiveEfficiency(in.one("motor"), in.one("transmission"),
		in.one("propeller"))}}
}

// near says whether two numbers are the same but for rounding.
func near(a, b, relative float64) bool {
	return math.Abs(a-b) <= relative*math.Max(math.Abs(a), math.Abs(b))
}
