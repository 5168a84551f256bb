package bank

import "math"

// Extraterrestrial is the sun's energy above the atmosphere on a level surface in a day, kWh/m², and how long the sun
// is up, h.
//
//	R_a = 24·60/π·G·d_r·(ω·sin φ·sin δ + cos φ·cos δ·sin ω)          N = 24/π·ω
//	d_r = 1 + 0.033·cos(2π·J/365)      δ = 0.409·sin(2π·J/365 - 1.39)      ω = arccos(-tan φ·tan δ)
//
//	G  0.0820 MJ/m² a minute      φ  latitude, rad      J  day of the year, from 1
//	δ  declination      ω  hour angle of sunset
//
// Valid: latitudes up to 66°, where the sun rises and sets every day; 1 kWh is 3.6 MJ.
// Source: R. Allen, L. Pereira, D. Raes, M. Smith: Crop evapotranspiration, FAO Irrigation and Drainage Paper 56
// (1998), equations 21 to 25 and 34.
func Extraterrestrial(latitudeDeg float64, day int) (kwhM2, daylightH float64) {
	phi, turn := latitudeDeg*math.Pi/180, 2*math.Pi*float64(day)/365
	distance, delta := 1+float64(0.033*math.Cos(turn)), 0.409*math.Sin(turn-1.39)
	omega := math.Acos(max(-1, min(1, -math.Tan(phi)*math.Tan(delta))))
	mj := 24 * 60 / math.Pi * 0.0820 * distance * (float64(omega*math.Sin(phi)*math.Sin(delta)) +
		float64(math.Cos(phi)*math.Cos(delta)*math.Sin(omega)))
	return mj / 3.6, 24 / math.Pi * omega
}

// Sunlit is how much of the sun's energy arrives on the ground, kWh/m² a day, when the sun shines for a share of its
// time above the horizon.
//
//	R_s = (0.25 + 0.50·n/N)·R_a
//
// Valid: where no local coefficients were measured.
// Source: FAO Irrigation and Drainage Paper 56, equation 35 (Ångström).
func Sunlit(aboveKWhM2, sunshine float64) float64 {
	return (0.25 + float64(0.50*sunshine)) * aboveKWhM2
}

// middays are the days of the year in the middle of the months.
var middays = [12]int{15, 46, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344}

// Climate is where panels are used.
type Climate struct {
	LatitudeDeg float64 // north above zero
	Sunshine    float64 // share of the daylight of a summer month in which the sun shines, 0 to 1
}

// SunshineIn is the share of the daylight in which the sun shines in a month, January 0.
//
//	s·(0.73 + 0.27·cos(2π·k/12)), k months from the middle of summer
//
// Valid: temperate climates with cloudy winters. Source: our own; a little under half of summer's share in December, as
// the means of 1990 to 2020 at Toronto and in Picardy have it (weather-and-climate.com: 9.3 h a day in July and 2.6 h
// in December; 7.3 and 1.8 h).
func (c Climate) SunshineIn(month int) float64 {
	k := float64(month - 6)
	if c.LatitudeDeg < 0 {
		k += 6
	}
	return c.Sunshine * (0.73 + float64(0.27*math.Cos(2*math.Pi*k/12)))
}

// Irradiation is the sun's energy on the level in the mean day of each month, and the hours from sunrise to sunset.
//
// Valid and Source: [Extraterrestrial] in the middle of the month, [Sunlit], [Climate.SunshineIn].
func (c Climate) Irradiation() (r Irradiation, daylightH [12]float64) {
	for m, day := range middays {
		var above float64
		above, daylightH[m] = Extraterrestrial(c.LatitudeDeg, day)
		r[m] = Sunlit(above, c.SunshineIn(m))
	}
	return r, daylightH
}
