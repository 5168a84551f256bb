package plan

import (
	"fmt"
	"slices"
)

// Effort bounds a search by the number of schedules that it makes, never by time: the same load and effort give the
// same schedule on every machine. At least the first rule's schedule is made.
type Effort int

// Efforts that served: for a boat in a loaded yard while somebody waits, for the week's plan, for the night.
const (
	Quick    Effort = 30
	Thorough Effort = 1000
	Long     Effort = 20_000
)

// most lists in the population of the search.
const population = 24

// sampled is how many lists with noise join the population at a time.
const sampled = 6

// stale is after how many lists without a new schedule a part of the population makes room for other ones.
const stale = 200

// search is the state of a search for a good schedule.
type search struct {
	load      *Load
	objective Objective
	facts     *facts
	forth     *builder
	back      *builder // of the mirrored network; nil until the horizon is known
	horizon   Time     // from which it is mirrored
	effort    int
	spent     int // schedules made
	dice      dice
	best      *solution
	pool      []*solution
	bound     Score // no schedule is better
}

// Solve makes a schedule of a load that is good by an objective: by priority rules, each improved by justification;
// then by a genetic search over lists of activities, which stops where no better schedule can exist or the effort is
// spent. The error names what is wrong with the load, or the activity that found no place. A window that cannot be
// kept is a breach of the schedule.
func Solve(load *Load, objective Objective, effort Effort) (*Schedule, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	s := &search{load: load, objective: objective, facts: newFacts(net), forth: newBuilder(net), effort: int(effort)}
	if len(load.Activities) == 0 {
		return &Schedule{}, nil // there is no list to begin with
	}
	// without scarcity no launch is earlier, so that no score is better
	s.bound = objective.of(load, s.facts.earlyEnd, nil)
	first := s.build(s.facts.ordered(rules[0].keys(s.facts)))
	if first == nil {
		return nil, s.noPlace()
	}
	s.mirror(first)
	s.tryRules(first)
	s.sample()
	for idle := 0; !s.done(); idle++ {
		if s.breed() {
			idle = 0
		}
		if idle == stale {
			s.pool = s.pool[:1+len(s.pool)/4] // nothing new comes of these
			s.sample()
		}
	}
	return settle(net, s.best)
}

// noPlace is the error of a load that cannot be scheduled: only of what is held from before its begin.
func (s *search) noPlace() error {
	i := max(0, s.forth.stuck)
	return fmt.Errorf("scheduling %s: it finds no place, since what it needs is held by what waits for it; give a "+
		"holder free, or add one", s.load.place(i))
}

// done says that the effort is spent or the best schedule cannot be bettered.
func (s *search) done() bool {
	return s.spent >= s.effort || s.best != nil && !s.bound.Less(s.best.score)
}

// mirror prepares for justification: with time for twice as much as the first schedule takes.
func (s *search) mirror(first *solution) {
	last := slices.Max(first.finish)
	for i := range s.load.Boats {
		if b := &s.load.Boats[i]; b.Promised() {
			last = max(last, b.Due)
		}
	}
	s.horizon = (2*last/Week + 2) * Week
	if s.horizon/Day > maxClosedDay {
		return // farther than a calendar is written; rules and the search do without
	}
	if m := s.facts.net.mirrored(s.horizon); m != nil {
		s.back = newBuilder(m)
	}
}

// build makes the schedule of a list; nil where an activity finds no place.
func (s *search) build(list []int) *solution {
	s.spent++
	b := s.forth
	if !b.build(list, s.facts.net.floor) {
		return nil
	}
	made := &solution{list: byStart(b.start, b.rank), start: slices.Clone(b.start), finish: slices.Clone(b.finish),
		late: slices.Clone(b.late), score: s.objective.of(s.load, b.finish, b.late)}
	if s.best == nil || made.score.Less(s.best.score) {
		s.best = made
	}
	return made
}

// tryRules makes the schedules of all priority rules, of which the first is made, and then improves them, the best
// first.
func (s *search) tryRules(first *solution) {
	s.keep(first)
	for _, r := range rules[1:] {
		if s.done() || r.boats && len(s.load.Boats) == 1 {
			continue
		}
		if made := s.build(s.facts.ordered(r.keys(s.facts))); made != nil {
			s.keep(made)
		}
	}
	for _, made := range slices.Clone(s.pool) {
		s.keep(s.improved(made, 2))
	}
}

// sample fills the population with schedules of the latest finish with noise, so that urgent work mostly comes first.
func (s *search) sample() {
	// noise up to half of the most slack that there is: less gives the same lists again, more gives any
	spread := 1
	for i, late := range s.facts.lateEnd {
		spread = max(spread, int(late-s.facts.early[i])/2)
	}
	size := min(population, len(s.pool)+sampled)
	for try := 0; try < size && len(s.pool) < size && !s.done(); try++ {
		keys := slices.Clone(s.facts.lateEnd)
		for i := range keys {
			keys[i] += Time(s.dice.below(spread))
		}
		if made := s.build(s.facts.ordered(keys)); made != nil {
			s.keep(s.improved(made, 1))
		}
	}
}

// keep takes a solution into the population unless it has the same schedule already, or only better ones. It stays in
// order, the best first.
func (s *search) keep(made *solution) bool {
	at := 0
	for ; at < len(s.pool) && !made.score.Less(s.pool[at].score); at++ {
		if made.score == s.pool[at].score && slices.Equal(made.start, s.pool[at].start) {
			return false
		}
	}
	s.pool = slices.Insert(s.pool, at, made)
	if len(s.pool) > population {
		s.pool = s.pool[:population]
	}
	return at < population
}

// breed makes a list of two of the population, changes it a little, and keeps what becomes of it. It says whether that
// is new.
func (s *search) breed() bool {
	// boats are moved and mixed as wholes: what makes one boat late is mostly another boat, not an activity
	var list []int
	way := 0
	if len(s.load.Boats) > 1 {
		way = s.dice.below(4)
	}
	switch way {
	case 1, 2:
		list = s.move(s.pool[s.parent()])
	case 3:
		list = s.mix(s.pool[s.parent()], s.pool[s.parent()])
	default:
		list = s.cross(s.pool[s.parent()], s.pool[s.parent()])
		s.mutate(list)
	}
	made := s.build(list)
	if made == nil {
		return false
	}
	// with slack for promises in half of the cases: it helps where boats crowd before their date, and costs elsewhere
	if next := s.justify(made, s.dice.below(2) == 0); next != nil && !made.score.Less(next.score) {
		made = next
	}
	return s.keep(made)
}

// parent is the better of two that are drawn; of three where there are several boats, since fewer schedules are made of
// such a load, and the population must become good sooner.
func (s *search) parent() int {
	n := len(s.pool)
	k := min(s.dice.below(n), s.dice.below(n))
	if len(s.load.Boats) > 1 {
		k = min(k, s.dice.below(n))
	}
	return k
}

// cross takes the begin and the end of one list and the middle of another: two-point crossover.
//
// Source: Hartmann 1998.
func (s *search) cross(mother, father *solution) []int {
	n := len(mother.list)
	from := s.dice.below(n)
	until := from + s.dice.below(n-from) + 1
	list := make([]int, 0, n)
	taken := make([]bool, n)
	take := func(from []int, count int) {
		for _, i := range from {
			if len(list) == count {
				return
			}
			if !taken[i] {
				taken[i] = true
				list = append(list, i)
			}
		}
	}
	take(mother.list, from)
	take(father.list, until)
	take(mother.list, n)
	return list
}

// mutate moves some activities of a list forward by a few places. Builders mend an order against the links.
func (s *search) mutate(list []int) {
	for range 1 + len(list)/30 {
		k := s.dice.below(len(list))
		to := max(0, k-1-s.dice.below(8))
		i := list[k]
		copy(list[to+1:k+1], list[to:k])
		list[to] = i
	}
}

// mix takes each boat's starts from one of two solutions.
func (s *search) mix(mother, father *solution) []int {
	start := slices.Clone(mother.start)
	other := make([]bool, len(s.load.Boats))
	for k := range other {
		other[k] = s.dice.below(2) == 0
	}
	for i := range start {
		if other[s.load.Activities[i].Boat] {
			start[i] = father.start[i]
		}
	}
	return byStart(start, ranks(mother.list))
}

// move is the list of a solution with all that remains of one boat moved forward, of one that is late if there is, or
// now and then backward, to make room.
func (s *search) move(of *solution) []int {
	boat := s.dice.below(len(s.load.Boats))
	for try := range len(s.load.Boats) {
		k := (boat + try) % len(s.load.Boats)
		if b := &s.load.Boats[k]; b.Promised() && of.finish[b.Launch] > b.Due {
			boat = k
			break
		}
	}
	// by any part of the time until its launch: a little more often helps than the whole, but nobody knows which
	by := Time(1 + s.dice.below(int(max(1, of.finish[s.load.Boats[boat].Launch]))))
	if s.dice.below(3) == 0 {
		by = -by
	}
	start := slices.Clone(of.start)
	for i := range start {
		if s.load.Activities[i].Boat == boat {
			start[i] -= by
		}
	}
	return byStart(start, ranks(of.list))
}
