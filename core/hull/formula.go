package hull

// Densities of water, kg/m³.
//
// Source: Tupper, Introduction to Naval Architecture, Table 5.1 (1.000 and 1.025 t/m³; at 20 °C 998.1 and
// 1024.7 kg/m³). US rules take 62.4 lb/ft³ for fresh water, which is 999.55 kg/m³; 62.2 and 62.5 are printed elsewhere.
const (
	FreshWater   = 1000.0
	FreshWaterUS = 62.4 * Pound / (Foot * Foot * Foot)
	SaltWater    = 1025.0
)

// Units in kg and m: international pound, foot and inch of 1959, exact.
const (
	Pound = 0.45359237
	Foot  = 0.3048
	Inch  = 0.0254
)

// Waterplane is the area of a waterplane, m²: A_W = Cwp·L·B, with length L and breadth B in m and the coefficient Cwp.
//
// Valid: by definition of Cwp.
// Source: Barrass & Derrett, ch. 9.
func Waterplane(length, beam, cwp float64) float64 { return cwp * length * beam }

// TPC is the mass that sinks a boat 1 cm, kg/cm: A_W·ρ/100, with A_W in m² and ρ in kg/m³; tonnes per centimetre
// (TPC) times 1000.
//
// Valid: small changes of draft, over which the waterplane stays the same.
// Source: Barrass & Derrett, ch. 9: TPC = A_W·ρ/100 with ρ in t/m³.
func TPC(waterplane, density float64) float64 { return waterplane * density / 100 }

// PoundsPerInch is the mass that sinks a boat 1 in, lb/in: A_W·ρ/12 in ft² and lb/ft³, here from m² and kg/m³.
//
// In fresh water of 62.4 lb/ft³ it is 5.2 lb/in for each ft², in salt water of 64 lb/ft³ 5.333 (5.34 is in common use).
//
// Valid: as [TPC].
// Source: US handbooks, from memory.
func PoundsPerInch(waterplane, density float64) float64 { return waterplane * density * Inch / Pound }

// MCTC is the moment that changes trim by 1 cm, kg·m/cm: W·GM_L/(100·L), with the mass W in kg, GM_L in m and
// the length L in m over which trim is measured.
//
// Valid: small trim; BM_L may replace GM_L.
// Source: Barrass & Derrett: MCT1cm.
func MCTC(mass, gml, length float64) float64 { return ratio(mass*gml, 100*length) }

// Drafts are the drafts at the two ends of a boat, m.
type Drafts struct{ Aft, Fore float64 }

// Trim is the draft aft less the draft fore, m: above zero by the stern.
func (d Drafts) Trim() float64 { return d.Aft - d.Fore }

// After gives the drafts after a mass w (kg; below zero for one taken off) comes aboard at d (m) forward of the centre
// of flotation: sinkage w/kgPerCm, change of trim w·d/mct, in cm. aftShare is the share of the change of trim that goes
// to the draft aft: the distance from the centre of flotation to the aft end divided by the length; ½ where it is at
// midlength.
//
// Valid: small changes. ok is false where kgPerCm or mct is not above zero.
// Source: Barrass & Derrett; a Derrett exercise. A printed solution adds the whole trim to one end; that is a slip.
func (d Drafts) After(mass, distance, kgPerCm, mct, aftShare float64) (after Drafts, ok bool) {
	if !(kgPerCm > 0) {
		return d, false
	}
	sinkage := mass / kgPerCm / 100
	return Drafts{d.Aft + sinkage, d.Fore + sinkage}.AfterShift(mass, distance, mct, aftShare)
}

// AfterShift gives the drafts after a mass w (kg) aboard is moved d (m) forward; below zero is aft. See [Drafts.After].
//
// Valid: small changes. ok is false where mct is not above zero.
// Source: Nicholls; Barrass & Derrett.
func (d Drafts) AfterShift(mass, distance, mct, aftShare float64) (after Drafts, ok bool) {
	if !(mct > 0) {
		return d, false
	}
	byBow := mass * distance / mct / 100
	return Drafts{d.Aft - float64(byBow*aftShare), d.Fore + float64(byBow*(1-aftShare))}, true
}
