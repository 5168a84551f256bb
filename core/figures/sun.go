package figures

import (
	"math"

	"ribband/core/bank"
	"ribband/core/formula"
	"ribband/core/msg"
	"ribband/core/pack"
)

// sun is what a region has of it by month.
type sun struct {
	kwhM2     bank.Irradiation
	daylightH [12]float64
}

// suns are those of the regions, and last that of a book without any: none.
func suns(p *pack.Pack) []sun {
	// worked out once by region, and not by boat
	list := make([]sun, len(p.Regions)+1)
	for i := range p.Regions {
		if c, ok := climateOf(&p.Regions[i]); ok {
			list[i].kwhM2, list[i].daylightH = c.Irradiation()
		}
	}
	return list
}

// climateOf is that of a region; false where the book does not give it.
func climateOf(r *pack.Region) (bank.Climate, bool) {
	return bank.Climate{LatitudeDeg: r.Latitude, Sunshine: r.Sunshine}, r.Sunshine > 0
}

// regionOf finds the region of a boat's use: its index, or that behind the last where the book asks for none.
func regionOf(p *pack.Pack) func(*formula.State) int {
	return func(st *formula.State) int {
		if p.RegionField < 0 {
			return len(p.Regions)
		}
		return int(st.Use[p.RegionField])
	}
}

// july is what panels bring to the bank in the mean day of July, kWh.
func (s *sun) july(watts float64) float64 { return watts / 1000 * s.kwhM2[july] * SolarShare }

// whileUp is what they bring on average between sunrise and sunset in July, kW.
func (s *sun) whileUp(watts float64) float64 {
	if s.daylightH[july] == 0 {
		return 0
	}
	return s.july(watts) / s.daylightH[july]
}

// SolarYield is what the panels of a boat bring to its bank in the mean day of each month, in the region of its use,
// kWh, for papers, and where the figures are from; there is none without panels, or where the book does not say how
// much sun the region has.
//
// Valid and Source: [bank.Panel.Yield] with [bank.Climate.Irradiation] and [SolarShare].
func (f *Figures) SolarYield(st *formula.State) (kwh [12]float64, source msg.Message, ok bool) {
	p := f.pack
	watts, region := f.Given(st, SolarW), regionOf(p)(st)
	if !(watts > 0) || region >= len(p.Regions) {
		return kwh, source, false
	}
	r := &p.Regions[region]
	c, ok := climateOf(r)
	if !ok {
		return kwh, source, false
	}
	sun, _ := c.Irradiation()
	kwh, err := bank.Panel{PeakW: watts, System: SolarShare}.Yield(sun)
	return kwh, sunSource(r), err == nil
}

// sunSource says where the sun is from.
func sunSource(r *pack.Region) msg.Message {
	side := "north"
	if r.Latitude < 0 {
		side = "south"
	}
	return msg.New("figures.solar-source", msg.Number("latitude", math.Abs(r.Latitude), msg.Exact),
		msg.Choice("side", side), msg.Text("region", r.Title), msg.Number("sunshine", 100*r.Sunshine, 0),
		msg.Number("share", 100*SolarShare, 0))
}
