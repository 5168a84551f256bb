package proof

import (
	"ribband/core/fit"
	"ribband/core/formula"
)

// seekBoats bounds the search for a boat that breaks a rule over figures which many slots carry together.
const seekBoats = 4000

func (p *prover) climb(r int, f *fit.Fit, hull int, use []float64) *formula.State {
	return f.Seek(fit.Quest{Hull: hull, Use: use, Vary: everyField(p.pack), Choices: f.NewChoices(), Boats: seekBoats})
}
