package figures

// How says how a computed figure comes about, for a reader who wants to check it.
type How struct {
	Formula string
	Source  string
}

// Explain tells how a computed figure comes about.
func Explain(name string) (How, bool) {
	h, ok := explanations[name]
	return h, ok
}

const (
	archimedes = "Archimedes' principle; Barrass & Derrett, Ship Stability for Masters and Mates"
	manner     = "in the manner of ISO 12217-1 and -3, from memory: a first check; a qualified person assesses the boat, which is tried"
	trialOf    = "the yard's trial of the hull; Admiralty coefficient for another displacement"
)

var explanations = map[string]How{
	"floating.displacement_kg": {"sum of the masses × 1.03 + persons × (75 + 5) kg", "definition; 75 kg a person by ISO 12217-1, from memory; allowance and things: common practice, no source"},
	"floating.draft_m":         {"depth under water of the deepest point of hull, skeg, drive and propeller, at draught, trim and heel", archimedes},
	"floating.draft_aft_m":     {"draught and trim at which the hull displaces the mass, read at the last station to the base line", archimedes},
	"floating.draft_fore_m":    {"draught and trim at which the hull displaces the mass, read at the first station to the base line", archimedes},
	"floating.trim_deg":        {"angle at which the centres of buoyancy and gravity are in one vertical", archimedes},
	"floating.heel_deg":        {"first heel from upright at which the righting lever is zero and rises", archimedes + ", ch. 14"},
	"floating.freeboard_m":     {"lowest height of the deck edge above the water, at draught, trim and heel", archimedes},
	"floating.gm_m":            {"GM = KB + BM − KG", "Barrass & Derrett"},
	"floating.lcg_m":           {"Σ m·x / Σ m, from the aft end", "definition of the centre of gravity"},
	"floating.vcg_m":           {"Σ m·z / Σ m, above the base line", "definition of the centre of gravity"},
	"floating.kg_per_cm":       {"area of the waterplane × density / 100", "Barrass & Derrett, ch. 9"},
	"floating.moment_to_trim":  {"W·GML / (100·L)", "Barrass & Derrett"},
	"floating.air_draft_m": {"height above the water of the highest of deck edge, top, lights, staff and seated heads (0.90 m above the seat)",
		"geometry of the boat as it floats; sitting height from memory"},
	"floating.air_draft_down_m":    {"the same with the top folded; none where it does not fold", "geometry of the boat as it floats"},
	"floating.immersion_m":         {"depth under water of what must be immersed, less how deep it must be", "geometry of the boat as it floats; one diameter to the axis of a tunnel: common practice, no source"},
	"road.height_m":                {"highest of deck edge and of what stands as shipped, above the base line", "geometry, base line level"},
	"stability.offset_heel_deg":    {"heel at rest with all persons (75 kg each) on one side, as far out as the seats allow", manner},
	"stability.offset_freeboard_m": {"height of the deck edge or lowest opening above the water then; 0 where it would be under", manner},
	"stability.boarding_heel_deg": {"heel at rest with one of the persons (80 kg) standing on the gunwale, centre 1.0 m above it",
		archimedes + "; a check of the yard: common practice, no source"},
	"stability.boarding_freeboard_m": {"height of the deck edge or lowest opening above the water then; 0 where it would be under",
		archimedes + "; a check of the yard: common practice, no source"},
	"stability.flooding_height_m":          {"lowest height above the water of deck edge and openings, with the persons seated", manner},
	"stability.flooding_deg":               {"heel at which the first of deck edge and openings comes to the water, the boat free to trim", manner},
	"stability.offset_heel_limit_deg":      {"10 + (24 − LH)³ / 600, with the length LH of the hull", manner},
	"stability.offset_freeboard_limit_c_m": {"0.11 · √LH: design category C, inshore", manner},
	"stability.offset_freeboard_limit_d_m": {"0.07 · √LH: design category D, sheltered waters", manner},
	"stability.flooding_height_limit_c_m":  {"LH / 17, 0.3 to 0.75 m, × (10·V / (LH·B²))^⅓: design category C, inshore", manner},
	"stability.flooding_height_limit_d_m":  {"LH / 20, 0.2 to 0.4 m, × (10·V / (LH·B²))^⅓: design category D, sheltered waters", manner},
	"laminate.glass_kg":                    {"sum over the laminates of the hull: area × glass of the plies", "laminate schedule of the book"},
	"laminate.resin_kg":                    {"sum over the plies: glass × (1 − ψ) / ψ, with ψ the share of glass by mass", "definition of ψ; nominal values of ISO 12215-5, Table C.2, from a secondary place"},
	"laminate.shell_kg":                    {"glass and resin of the hull's laminates, stiffening counted", "laminate schedule of the book"},
	"laminate.deck_kg":                     {"glass and resin of the deck's laminates", "laminate schedule of the book"},
	"laminate.bottom_mm":                   {"sum over the plies: w / 3072 × (2.56 / ψ − 1.36)", "ISO 12215-5, Annex C, from a secondary place"},
	"laminate.keel_mm":                     {"thickness of the bottom with the plies along the keel", "ISO 12215-5, Annex C, from a secondary place; up to 12.7 mm: common practice, no source"},
	"capacity.weight_kg":                   {"greater of MD/5 − BW/5 − 4·MW/5 and (MD − BW)/7, the boat's weight with machinery and bank", "33 CFR 183.33, formulas from a secondary place; handbook reading of the boat's weight"},
	"capacity.persons":                     {"(pounds + 32) / 141 to the nearest whole, from the weight capacity; provisional below 550 lb", "33 CFR 183.39"},
	"capacity.foam_l":                      {"submerged weight of the parts, machinery and bank, and what the persons weigh in the water / net lift of the foam", "33 CFR 183.105; handbook for the swamped load"},
	"wiring.main_mm2":                      {"thicker of the sizes by voltage drop (CM = K·I·L / E, K = 10.75) and by ampacity", "ABYC E-11 as given by teaching pages; 33 CFR 183.425 Table 5 as a yardstick"},
	"wiring.main_fuse_a":                   {"next standard fuse above the load, within what the cable allows", "33 CFR 183.455 as a yardstick; standard sizes: common practice, no source"},
	"wiring.copper_kg":                     {"section × length with slack × 8.89 g/cm³, both wires of every circuit that can be sized, without insulation", "international annealed copper standard, from memory; sizes by ABYC E-11 as given by teaching pages"},
	"power.range_nm":                       {"(usable energy less the reserve + sun of the hours under way in a day) / power × speed", "definition of range at constant speed; " + trialOf + "; sun of the average July day, spread over its daylight"},
	"power.endurance_h":                    {"(usable energy less the reserve + sun of the hours under way in a day) / power", "definition; Peukert's relation for the usable energy at that current; sun of the average July day, spread over its daylight"},
	"power.reserve_nm":                     {"reserve / power × speed", "definition"},
	"power.demand_w":                       {"(power of the trial at this displacement + windage) / efficiencies + hotel load", trialOf + "; wind force ½·ρ·v²·Cd·A"},
	"power.current_a":                      {"power from the bank / its voltage; the sag of voltage is ignored", "definition"},
	"power.top_speed_kn":                   {"speed at which motor, controller or bank gives no more", trialOf},
	"power.speed_for_range_kn":             {"greatest speed at which range at constant speed is still the range wanted; 0 where none is wanted or no speed has it", "search over the trial's speeds from the top speed down, then bisection to 0.001 kn; " + trialOf},
	"power.charge_h":                       {"bulk at the least of charger and inlet, then absorption", "charger maker's manual; continuous load at most 80 % of the circuit (NEC 210.20)"},
	"power.charge_kwh":                     {"energy taken out / charge efficiency / charger efficiency", "definition"},
	"power.solar_july_kwh":                 {"panels × sun of the average July day in the region × 0.70", "FAO Irrigation and Drainage Paper 56 (Allen and others, 1998), equations 21 to 35, for the region's latitude and share of sunshine; share that reaches the bank: common practice, no source"},
}

// NoneAtZero says that zero means none of a computed figure, as of the speed for a range that nobody wants or no speed has, or of the height of a boat
// with its top folded that has no top which folds.
func NoneAtZero(computed string) bool {
	return computed == "power.speed_for_range_kn" || computed == "floating.air_draft_down_m"
}

// Absent says that a figure which is zero is not worth a line, since nobody asked for it or the boat has no such thing.
func Absent(computed string, rangeWanted float64) bool {
	return NoneAtZero(computed) && (computed != "power.speed_for_range_kn" || rangeWanted == 0)
}
