package figures

import "ribband/core/formula"

// BeyondTrial is from how much more than the displacement on trial a boat's range and speeds are said to be estimated;
// common practice, no source.
const BeyondTrial = 0.15

// definition is that of a figure of the pack; the zero Definition of one that the book itself gives.
func (f *Figures) definition(figure int) Definition {
	return registered[ID(f.pack.Figures[figure].Computed)]
}

// AtLeast says that a figure of a boat is a lower bound: a speed at which the trial of its hull ends, while motor and
// bank could do more.
func (f *Figures) AtLeast(st *formula.State, figure int) bool {
	trial := f.pack.Hulls[st.HullID].Trial
	if trial == nil || len(trial.SpeedKn) == 0 || len(st.Faults) > 0 || !f.definition(figure).ends {
		return false
	}
	// to the bit: the module gives that very number where the curve of the trial ends
	return st.Figures[figure] == trial.SpeedKn[len(trial.SpeedKn)-1]
}

// WithSun says that a figure of a boat has the sun of a mean day of July in it: it has panels.
func (f *Figures) WithSun(st *formula.State, figure int) bool {
	return f.Given(st, SolarW) > 0 && st.Figures[figure] > 0 && len(st.Faults) == 0 && f.definition(figure).sunlit
}

// Beyond is by what share a loaded boat displaces more than the boat on trial, where a figure follows from the trial
// and that is more than [BeyondTrial]; else 0.
//
// Formula: displacement with persons / displacement on trial - 1. Valid: as the figures of floating. Source:
// definition.
func (f *Figures) Beyond(st *formula.State, figure int) float64 {
	trial := f.pack.Hulls[st.HullID].Trial
	if trial == nil || !f.parts.weighed || len(st.Faults) > 0 || st.Figures[figure] == 0 ||
		!f.definition(figure).follows {
		return 0
	}
	if share := f.parts.masses().loaded(st).Mass/trial.DisplacementKg - 1; share > BeyondTrial {
		return share
	}
	return 0
}

// Absent says that a figure which is zero is not worth a line, since nobody asked for it or the boat has no such thing;
// a hull whose boats do not have it is [pack.Pack.Has].
func (f *Figures) Absent(st *formula.State, figure int) bool {
	d := f.definition(figure)
	return d.NoneAtZero && (d.ID != PowerSpeedForRange || f.Used(st, UseRange) == 0)
}

// NoneAtZero says that zero means that the boat has none of a figure, as of the speed for a range that nobody wants or
// no speed has, or of the height with the top folded of a boat that has no top which folds.
func (f *Figures) NoneAtZero(figure int) bool { return f.definition(figure).NoneAtZero }
