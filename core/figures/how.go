package figures

// How says how a computed figure comes about, for a reader who wants to check it.
type How struct {
	Formula string
	Source  string
}

// Explain tells how a computed figure comes about.
func Explain(name string) (How, bool) {
	if h, ok := explanations[name]; ok {
		return h, true
	}
	h, ok := afloat[name]
	return h, ok
}

const (
	archimedes = "Archimedes' principle; Barrass & Derrett, Ship Stability for Masters and Mates"
	trialOf    = "the yard's trial of the hull; Admiralty coefficient for another displacement"
)

var explanations = map[string]How{
	"laminate.glass_kg": {"sum over the laminates of the hull: area × glass of the plies",
		"laminate schedule of the book"},
	"laminate.resin_kg": {"sum over the plies: glass × (1 − ψ) / ψ, with ψ the share of glass by mass",
		"definition of ψ; nominal values of ISO 12215-5, Table C.2, from a secondary place"},
	"laminate.shell_kg": {"glass and resin of the hull's laminates, stiffening counted",
		"laminate schedule of the book"},
	"laminate.deck_kg": {"glass and resin of the deck's laminates", "laminate schedule of the book"},
	"laminate.bottom_mm": {"sum over the plies: w / 3072 × (2.56 / ψ − 1.36)",
		"ISO 12215-5, Annex C, from a secondary place"},
	"laminate.keel_mm": {"thickness of the bottom with the plies along the keel",
		"ISO 12215-5, Annex C, from a secondary place; up to 12.7 mm: common practice, no source"},
	"capacity.weight_kg": {"greater of MD/5 − BW/5 − 4·MW/5 and (MD − BW)/7, the boat's weight with machinery and bank",
		"33 CFR 183.33, formulas from a secondary place; handbook reading of the boat's weight"},
	"capacity.persons": {"(pounds + 32) / 141 to the nearest whole, from the weight capacity; provisional below 550 lb",
		"33 CFR 183.39"},
	"capacity.foam_l": {"submerged weight of the parts, machinery and bank, and what the persons weigh in the water / net lift of the foam", "33 CFR 183.105; handbook for the swamped load"},
	"wiring.main_mm2": {"thickest of the sizes by voltage drop (CM = K·I·L / E, K = 10.75), by ampacity ≥ load and by ampacity ≥ fuse, of the cables that the yard keeps", "ABYC E-11 as given by teaching pages; 33 CFR 183.425 Table 5 as a yardstick"},
	"wiring.main_conductors": {"one, or as many alike of AWG 1/0 and more as carry the fuse together",
		"NEC 310.10(G), from memory"},
	"wiring.main_fuse_a": {"smallest fuse that the yard keeps from 1.25 × load up, for the voltage and the fault current of the bank; never above what the cable carries", "stricter than 33 CFR 183.455; 1.25: NEC 210.20(A)"},
	"wiring.main_fuse_computed_a": {"smallest standard fuse from 1.25 × load up",
		"NEC 210.20(A); standard sizes: common practice, no source"},
	"wiring.bank_fuse_a": {"as the fuse of the motor, from all loads of the bank at once; the largest of its leads and strings", "stricter than 33 CFR 183.455; 1.25: NEC 210.20(A)"},
	"wiring.copper_kg":   {"section × length with slack × 8.89 g/cm³, both wires of every circuit that can be sized, without insulation", "international annealed copper standard, from memory; sizes by ABYC E-11 as given by teaching pages"},
	"power.range_nm": {"(usable energy less the reserve + sun of the hours under way in a day) / power × speed",
		"definition of range at constant speed; " + trialOf +
			"; sun of the average July day, spread over its daylight"},
	"power.endurance_h": {"(usable energy less the reserve + sun of the hours under way in a day) / power",
		"definition; Peukert's relation for the usable energy at that current; sun of the average July day, spread over its daylight"},
	"power.reserve_nm": {"reserve / power × speed", "definition"},
	"power.demand_w": {"(power of the trial at this displacement + windage) / efficiencies + hotel load",
		trialOf + "; wind force ½·ρ·v²·Cd·A"},
	"power.current_a":          {"power from the bank / its voltage; the sag of voltage is ignored", "definition"},
	"power.top_speed_kn":       {"speed at which motor, controller or bank gives no more", trialOf},
	"power.speed_for_range_kn": {"greatest speed at which range at constant speed is still the range wanted; 0 where none is wanted or no speed has it", "search over the trial's speeds from the top speed down, then bisection to 0.001 kn; " + trialOf},
	"power.charge_h": {"bulk at the least of charger and inlet, then absorption",
		"charger maker's manual; continuous load at most 80 % of the circuit (NEC 210.20)"},
	"power.charge_kwh": {"energy taken out / charge efficiency / charger efficiency", "definition"},
	"power.solar_july_kwh": {"panels × sun of the average July day in the region × 0.70",
		"FAO Irrigation and Drainage Paper 56 (Allen and others, 1998), equations 21 to 35, for the region's latitude and share of sunshine; share that reaches the bank: common practice, no source"},
}
