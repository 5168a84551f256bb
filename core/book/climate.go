package book

import "slices"

// climate reports what is wrong with where panels are used: all regions say it, where the book has panels.
func (v *validation) climate(r *Region) {
	if r.LatitudeDeg.Given() && !(r.LatitudeDeg.Value >= -66 && r.LatitudeDeg.Value <= 66) {
		v.error(r.LatitudeDeg.At, "write degrees north from -66 to 66: nearer to the poles the sun does not rise and "+
			"set every day", "the latitude of %s is %g", r.ID, r.LatitudeDeg.Value)
	}
	if r.Sunshine.Given() && !(r.Sunshine.Value > 0 && r.Sunshine.Value <= 1) {
		v.error(r.Sunshine.At, "write a share above 0 and up to 1, such as 0.45", "the sunshine of %s is %g", r.ID,
			r.Sunshine.Value)
	}
	panels := slices.ContainsFunc(v.book.Figures, func(f Figure) bool { return f.ID.Value == "solar_w" })
	if panels && !(r.LatitudeDeg.Given() && r.Sunshine.Given()) {
		v.error(r.ID.At, "add latitude_deg: and sunshine:, the share of a summer day's daylight in which the sun "+
			"shines", "the region %s does not say how much sun its panels have", r.ID)
	}
}
