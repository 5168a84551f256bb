package figures

const manner = "in the manner of ISO 12217-1 and -3, from memory: a first check; a qualified person assesses the boat, which is tried"

// afloat are the explanations of how a boat floats.
var afloat = map[string]How{
	"floating.displacement_kg": {"sum of the masses × 1.03 + persons × (75 + 5) kg",
		"definition; 75 kg a person by ISO 12217-1, from memory; allowance and things: common practice, no source"},
	"floating.draft_m":      {"depth under water of the deepest point of hull, skeg, drive and propeller, at draught, trim and heel", archimedes},
	"floating.draft_aft_m":  {"draught and trim at which the hull displaces the mass, read at the last station to the base line", archimedes},
	"floating.draft_fore_m": {"draught and trim at which the hull displaces the mass, read at the first station to the base line", archimedes},
	"floating.trim_deg":     {"angle at which the centres of buoyancy and gravity are in one vertical", archimedes},
	"floating.heel_deg": {"first heel from upright at which the righting lever is zero and rises",
		archimedes + ", ch. 14"},
	"floating.freeboard_m": {"lowest height of the deck edge above the water, at draught, trim and heel",
		archimedes},
	"floating.gm_m":           {"GM = KB + BM − KG", "Barrass & Derrett"},
	"floating.lcg_m":          {"Σ m·x / Σ m, from the aft end", "definition of the centre of gravity"},
	"floating.vcg_m":          {"Σ m·z / Σ m, above the base line", "definition of the centre of gravity"},
	"floating.kg_per_cm":      {"area of the waterplane × density / 100", "Barrass & Derrett, ch. 9"},
	"floating.moment_to_trim": {"W·GML / (100·L)", "Barrass & Derrett"},
	"floating.air_draft_m": {"height above the water of the highest of deck edge, top, lights, staff and seated heads (0.90 m above the seat)",
		"geometry of the boat as it floats; sitting height from memory"},
	"floating.air_draft_down_m": {"the same with the top folded; none where it does not fold",
		"geometry of the boat as it floats"},
	"floating.immersion_m": {"depth under water of what must be immersed, less how deep it must be",
		"geometry of the boat as it floats; one diameter to the axis of a tunnel: common practice, no source"},
	"road.height_m": {"highest of deck edge and of what stands as shipped, above the base line",
		"geometry, base line level"},
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
	"stability.flooding_height_limit_c_m": {"LH / 17, 0.3 to 0.75 m, × (10·V / (LH·B²))^⅓: design category C, inshore",
		manner},
	"stability.flooding_height_limit_d_m": {"LH / 20, 0.2 to 0.4 m, × (10·V / (LH·B²))^⅓: design category D, sheltered waters", manner},
}

// NoneAtZero says that zero means none of a computed figure, as of the speed for a range that nobody wants or no speed
// has, or of the height of a boat with its top folded that has no top which folds.
func NoneAtZero(computed string) bool {
	return computed == "power.speed_for_range_kn" || computed == "floating.air_draft_down_m"
}

// Absent says that a figure which is zero is not worth a line, since nobody asked for it or the boat has no such thing.
func Absent(computed string, rangeWanted float64) bool {
	return NoneAtZero(computed) && (computed != "power.speed_for_range_kn" || rangeWanted == 0)
}
