package proof

import (
	"slices"

	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
)

// judge evaluates boats by another way than the search does: figures as a whole, rules one by one. ~It is for checking,
// so that it shares as little as it can: no index, no boat on the way, no bounds. A rule that the index forgot to judge
// again, say, shows here.
type judge struct {
	pack  *pack.Pack
	figs  *figures.Figures
	when  []formula.TruthFunc // of the rules; nil where a rule always counts
	need  []formula.TruthFunc
	slots []formula.TruthFunc // nil where a slot is always there
}

// newJudge compiles each condition by itself, not as the one loop that judges boats of a search (formula.Rules). It
// takes as long as compiling the book, and is done once.
func newJudge(p *pack.Pack, figs *figures.Figures) judge {
	j := judge{pack: p, figs: figs}
	for _, r := range p.Rules {
		j.when, j.need = append(j.when, r.When.Truth()), append(j.need, r.Need.Truth())
	}
	for _, s := range p.Slots {
		j.slots = append(j.slots, s.When.Truth())
	}
	return j
}

// broken lists the rules that a boat breaks; sound says that its slots are filled as they must be and that its figures
// can be computed. Nothing of the boat but its counts, hull and use is taken over.
func (j *judge) broken(boat *formula.State) (rules []int, sound bool) {
	st := figures.NewState(j.pack, boat.HullID, boat.Use)
	copy(st.Counts, boat.Counts)
	for o, n := range st.Counts {
		st.Slots[j.pack.Options[o].Slot] += n
	}
	j.figs.Fill(st)
	sound = len(st.Faults) == 0
	for i, s := range j.pack.Slots {
		n, there := st.Slots[i], j.present(i, st)
		sound = sound && (there || n == 0) && (!there || n >= s.Least) && (s.Most == 0 || n <= s.Most)
	}
	for i := range j.need {
		if j.breaks(i, st) {
			rules = append(rules, i)
		}
	}
	return rules, sound
}

// breaks says whether a boat, whose figures are computed, breaks a rule.
func (j *judge) breaks(rule int, st *formula.State) bool {
	return (j.when[rule] == nil || j.when[rule](st)) && !j.need[rule](st)
}

// present says whether a boat has a slot. A slot that is not made for the hull is never there, whatever its condition
// says.
func (j *judge) present(slot int, st *formula.State) bool {
	hulls := j.pack.Slots[slot].Hulls
	return (len(hulls) == 0 || slices.Contains(hulls, st.HullID)) && (j.slots[slot] == nil || j.slots[slot](st))
}
