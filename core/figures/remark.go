package figures

import (
	"slices"

	"ribband/core/formula"
)

// BeyondTrial is from how much more than the displacement on trial a boat's range and speeds are said to be estimated;
// common practice, no source.
const BeyondTrial = 0.15

// Of the computed figures these end where the trial of the hull does, these follow from its power, and these have the
// sun of July in them.
var (
	endWithTrial = []string{"power.top_speed_kn", "power.speed_for_range_kn"}
	followTrial  = []string{"power.range_nm", "power.top_speed_kn", "power.speed_for_range_kn"}
	haveSun      = []string{"power.range_nm", "power.endurance_h", "power.speed_for_range_kn"}
)

// AtLeast says that a figure of a boat is a lower bound: a speed at which the trial of her hull ends, while motor and
// bank could do more.
func (f *Figures) AtLeast(st *formula.State, figure int) bool {
	trial := f.pack.Hulls[st.HullID].Trial
	if trial == nil || len(trial.SpeedKn) == 0 || len(st.Faults) > 0 ||
		!slices.Contains(endWithTrial, f.pack.Figures[figure].Computed) {
		return false
	}
	return st.Figures[figure] == trial.SpeedKn[len(trial.SpeedKn)-1]
}

// WithSun says that a figure of a boat has the sun of a mean day of July in it: she has panels.
func (f *Figures) WithSun(st *formula.State, figure int) bool {
	panels, ok := f.named.figures["solar_w"]
	return ok && st.Figures[panels] > 0 && st.Figures[figure] > 0 && len(st.Faults) == 0 &&
		slices.Contains(haveSun, f.pack.Figures[figure].Computed)
}

// Beyond is by what share a loaded boat displaces more than the boat on trial, where a figure follows from the trial
// and that is more than [BeyondTrial]; else 0.
//
// Formula: displacement with persons / displacement on trial - 1. Valid: as the figures of floating. Source:
// definition.
func (f *Figures) Beyond(st *formula.State, figure int) float64 {
	trial := f.pack.Hulls[st.HullID].Trial
	if trial == nil || f.named.masses == nil || len(st.Faults) > 0 || st.Figures[figure] == 0 ||
		!slices.Contains(followTrial, f.pack.Figures[figure].Computed) {
		return 0
	}
	if share := f.named.masses.loaded(st).Mass/trial.DisplacementKg - 1; share > BeyondTrial {
		return share
	}
	return 0
}
