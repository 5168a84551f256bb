package plan

// Total is what a schedule is made small in, once promises are kept as well as can be.
type Total int

// The totals.
const (
	SumOfLaunches Total = iota // of the finishes of all boats: each boat early
	Makespan                   // the finish of the last activity: the yard empty early
)

// Objective says which of two schedules is better. First comes whether windows are kept, then the lateness of promised
// boats, each quarter-hour times the weight of the boat, then the total.
type Objective struct {
	Total Total
}

// Score is what an objective gives for a schedule; less is better, the first that differs decides.
type Score struct {
	Breach int64 // quarter-hours beyond windows
	Late   int64 // quarter-hours beyond promises, weighted
	Total  int64 // quarter-hours
}

// Less says whether a score is the better one.
func (s Score) Less(t Score) bool {
	if s.Breach != t.Breach {
		return s.Breach < t.Breach
	}
	if s.Late != t.Late {
		return s.Late < t.Late
	}
	return s.Total < t.Total
}

// Score is that of a schedule of a load.
func (o Objective) Score(load *Load, s *Schedule) Score { return o.of(load, s.Finish, s.Breaches) }

func (o Objective) of(load *Load, finish []Time, breaches []Breach) (score Score) {
	for _, b := range breaches {
		score.Breach += int64(b.Over)
	}
	for i := range load.Boats {
		b := &load.Boats[i]
		launch := finish[b.Launch]
		if b.Promised() {
			score.Late += int64(b.Weight) * int64(max(0, launch-b.Due))
		}
		if o.Total == SumOfLaunches {
			score.Total += int64(launch)
		}
	}
	// of all activities: what follows a launch, as a despatch, empties the yard too
	if o.Total == Makespan {
		for _, f := range finish {
			score.Total = max(score.Total, int64(f))
		}
	}
	return score
}
