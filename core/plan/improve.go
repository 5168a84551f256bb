package plan

import "slices"

// solution is a list with what becomes of it.
type solution struct {
	list          []int
	start, finish []Time
	late          []Breach
	score         Score
}

// justify improves a schedule: all activities are shifted to the right, the last ones first, as far as the ends of
// their boats let them, and then to the left again in the order in which they came to stand. Gaps close, and without
// blocks no boat ends later than before. Where slack is asked for, a boat with a promise may use the time until then,
// so that others come to stand before it.
//
// Source: double justification, Valls, Ballestín, Quintanilla 2005.
func (s *search) justify(of *solution, slack bool) *solution {
	if s.back == nil {
		return nil
	}
	ends := s.ends(of, slack)
	n := len(of.list)
	floor, keys := make([]Time, n), make([]Time, n)
	for i := range n {
		end := ends[s.load.Activities[i].Boat]
		if end > s.horizon {
			return nil // beyond what the mirrored calendars know
		}
		floor[i], keys[i] = s.horizon-end, s.horizon-of.finish[i]
	}
	// of two that end at once the one that stands later in the list goes first, as seen from the end
	reversed := slices.Clone(of.list)
	slices.Reverse(reversed)
	s.spent++
	if !s.back.build(byStart(keys, ranks(reversed)), floor) {
		return nil
	}
	for i := range n {
		keys[i] = s.horizon - s.back.finish[i]
	}
	return s.build(byStart(keys, ranks(of.list)))
}

// ends are until when each boat may be shifted.
func (s *search) ends(of *solution, slack bool) []Time {
	// a boat may end as late as it does now; for the makespan as late as the last
	ends := make([]Time, len(s.load.Boats))
	last := Time(0)
	for i, f := range of.finish {
		boat := s.load.Activities[i].Boat
		ends[boat] = max(ends[boat], f)
		last = max(last, f)
	}
	for k := range ends {
		switch b := &s.load.Boats[k]; {
		case s.objective.Total == Makespan && !b.Promised():
			ends[k] = last
		case s.objective.Total == Makespan:
			ends[k] = max(ends[k], min(b.Due, last))
		case slack && b.Promised():
			ends[k] = max(ends[k], min(b.Due, s.horizon))
		}
	}
	return ends
}

// ranks is where each activity stands in a list.
func ranks(list []int) []int {
	rank := make([]int, len(list))
	for k, i := range list {
		rank[i] = k
	}
	return rank
}

// improved justifies a schedule as often as that makes it better, at most so often, and gives the best.
func (s *search) improved(of *solution, times int) *solution {
	for range times {
		if s.done() {
			break
		}
		next := s.justify(of, false)
		if next == nil || of.score.Less(next.score) {
			break
		}
		better := next.score.Less(of.score)
		of = next
		if !better {
			break
		}
	}
	return of
}
