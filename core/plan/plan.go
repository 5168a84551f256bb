// Package plan says when work is done: it puts the activities of many boats into the hours of a yard's shops, its
// moulds, its tank and its benches.
//
// What it does: calendars of shops; schedules under scarce people and places ([Solve]); the same order with other hours
// ([Replay]); what each activity waits for, the critical chain and float ([Waits], [CriticalChain], [Floats]); the
// network without scarcity ([CriticalPath]); the spread of launches ([Simulate]); learning and batches. [Verify] checks
// a schedule by other means than those that made it.
//
// What it does not: it knows no book, no order, no date and no money. Whoever asks translates operations to activities
// and dates to [Time]. It proves no schedule the best: it looks through a bounded number of them, and the same load
// gives the same schedule on every machine. Capacities do not change from week to week, but shops close on days.
//
// Sources: serial generation and priority rules, R. Kolisch, Serial and parallel resource-constrained project
// scheduling methods revisited, European Journal of Operational Research 90 (1996), 320-333; forward-backward
// improvement, V. Valls, F. Ballestín, S. Quintanilla, Justification and RCPSP, ibid. 165 (2005), 375-386; the
// search, S. Hartmann, A competitive genetic algorithm for resource-constrained project scheduling, Naval Research
// Logistics 45 (1998), 733-750; maximum lags, B. Franck, K. Neumann, C. Schwindt, Truncated branch-and-bound,
// schedule-construction, and schedule-improvement procedures for resource-constrained project scheduling, OR Spektrum
// 23 (2001), 297-324. Cited from memory.
package plan

// Time is a moment or a length of time in quarter-hours of the clock. Moments count from the Monday 00:00 with which a
// load begins; what was done before it is negative. Worked time counts only the quarter-hours in which a shop is open.
type Time int64

// Lengths of time.
const (
	Hour Time = 4
	Day       = 24 * Hour
	Week      = 7 * Day

	// Never is later than every moment: no limit.
	Never Time = 1 << 60
)

// Load is all the work of a yard and what there is to do it with. What refers to a calendar, a resource, a holder, a
// boat or an activity is its index here.
type Load struct {
	Calendars  []Calendar
	Resources  []Resource
	Holders    []Holder
	Boats      []Boat
	Activities []Activity
	Holdings   []Holding
}

// Resource is the people of a shop, or of one skill in it: several of a kind, of which an activity takes some in the
// open hours of its calendar.
type Resource struct {
	Title    string
	Calendar int
	Capacity int // how many there are at once
}

// Holder is a place that takes one boat at a time and keeps it over night: a mould, the tank, the paint bay, a bench.
type Holder struct {
	Title string
	Units int // alike, such as two moulds of one hull
}

// Holding is a use of a holder: in clock time, from the start of an activity until the finish of the same or of a later
// one. A mould is held from gelcoat to release, a bench while one thing is made on it.
type Holding struct {
	Holder   int
	From, To int // activities
}

// Boat is one order.
type Boat struct {
	Title  string
	Launch int  // the activity whose finish is the launch
	Due    Time // when it is promised; [Never] where it is not
	Weight int  // of one quarter-hour later than promised; at least 1 where it is promised
}

// Promised says whether a launch has a date that must be kept.
func (b *Boat) Promised() bool { return b.Due < Never }

// State is how far an activity is.
type State int

// The states of an activity.
const (
	Open  State = iota // not begun: the schedule says when it is
	Begun              // Start is fixed; Duration is what remains from then on, or from the load's begin if it is later
	Done               // Start and Finish are fixed: it is past, or others rely on it and it stays where it is planned
)

// Activity is one piece of work that is not interrupted by other work: once begun it goes on in each open hour of its
// calendar until it is done.
type Activity struct {
	Title    string
	Boat     int
	Calendar int
	Duration Time // worked time of the calendar: hours of work by the number of people on it; 0 also of what [Replay]
	// may give hours, and which needs nobody until then
	Demands       []Demand
	OneDay        bool // begun and done on one day, as a coat or a laminate is: not in the evening and the next morning
	After         []Link
	Earliest      Time // not before: when the material arrives, or the order begins
	State         State
	Start, Finish Time // see the states
}

// Demand is how many of a resource an activity takes all the while. The resource keeps the activity's calendar.
type Demand struct{ Resource, Units int }

// Link is a predecessor: an activity starts Min after the finish of the other at the earliest, and Max after it at the
// latest, in clock time. Resin cures in the night and has a Min; an overcoat that must go on while the coat below is
// still soft has a Max.
type Link struct {
	Activity int
	Min, Max Time // Max is [Never] where there is none
}

// After are links to predecessors without a wait.
func After(activities ...int) []Link {
	list := make([]Link, len(activities))
	for i, a := range activities {
		list[i] = Link{a, 0, Never}
	}
	return list
}

// Schedule says when each activity is done.
type Schedule struct {
	Start, Finish []Time // clock, by activity; Finish is the end of the last quarter-hour worked
	Order         []Handover
	Breaches      []Breach
}

// Handover is people or a place going from one activity to another: To starts when From is finished. All handovers of a
// schedule are its order; whatever the durations are, nothing is booked twice as long as the order is kept.
type Handover struct {
	From, To int
	Resource int // that is handed over; [None] where it is a holder
	Holder   int // [None] where it is a resource
}

// None stands for no index.
const None = -1

// Breach is a window that could not be kept: Activity starts more than the Max of its link after Predecessor.
type Breach struct {
	Activity, Predecessor int
	Over                  Time
}

// Launches are the finishes of the boats of a load.
func (s *Schedule) Launches(load *Load) []Time {
	list := make([]Time, len(load.Boats))
	for i, b := range load.Boats {
		list[i] = s.Finish[b.Launch]
	}
	return list
}
