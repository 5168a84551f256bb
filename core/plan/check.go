package plan

import (
	"fmt"
	"strings"
)

// Limits of a load: sums of them stay far below [Never].
const (
	maxActivities = 1 << 16
	maxLength     = Time(1 << 20) // of a duration or a lag: some 30 years
	maxMoment     = Time(1 << 22)
	maxUnits      = 1 << 20
	maxWeight     = 1000
)

// Check says what is wrong with a load: the first fault, with the title and the index of its activity. Whether it can
// be scheduled at all, [Solve] says.
func (l *Load) Check() error {
	if err := l.checkMeans(); err != nil {
		return err
	}
	for i := range l.Activities {
		if err := l.checkActivity(i); err != nil {
			return err
		}
	}
	for i, h := range l.Holdings {
		if err := l.checkHolding(h); err != nil {
			return fmt.Errorf("reading holding %d of a load: %w", i, err)
		}
	}
	for i, b := range l.Boats {
		place := fmt.Sprintf("reading boat %d of a load, %.60q", i, b.Title)
		if b.Launch < 0 || b.Launch >= len(l.Activities) {
			return fmt.Errorf("%s: its launch is activity %d of %d; name one of them", place, b.Launch,
				len(l.Activities))
		}
		if b.Promised() && (b.Due < -maxMoment || b.Due > maxMoment || b.Weight < 1 || b.Weight > maxWeight) {
			return fmt.Errorf("%s: it is promised for %d with weight %d; give a moment up to %d and a weight of 1 "+
				"to %d, or Never", place, b.Due, b.Weight, maxMoment, maxWeight)
		}
	}
	return nil
}

// checkMeans looks at what the work is done with.
func (l *Load) checkMeans() error {
	if len(l.Activities) > maxActivities {
		return fmt.Errorf("reading a load: it has %d activities, more than %d; plan fewer boats at once",
			len(l.Activities), maxActivities)
	}
	for i := range l.Calendars {
		if _, err := l.Calendars[i].Clock(); err != nil {
			return err
		}
	}
	for i, r := range l.Resources {
		if r.Calendar < 0 || r.Calendar >= len(l.Calendars) {
			return fmt.Errorf("reading resource %d of a load, %.60q: there is no calendar %d", i, r.Title, r.Calendar)
		}
		if r.Capacity < 0 || r.Capacity > maxUnits {
			return fmt.Errorf("reading resource %d of a load, %.60q: its capacity is %d; give 0 to %d", i, r.Title,
				r.Capacity, maxUnits)
		}
	}
	for i, h := range l.Holders {
		if h.Units < 1 || h.Units > maxUnits {
			return fmt.Errorf("reading holder %d of a load, %.60q: there are %d of it; give 1 to %d", i, h.Title,
				h.Units,
				maxUnits)
		}
	}
	return nil
}

// checkBoat says whether a load has a boat.
func (l *Load) checkBoat(boat int) error {
	if boat < 0 || boat >= len(l.Boats) {
		return fmt.Errorf("looking for boat %d of a load: it has %d", boat, len(l.Boats))
	}
	return nil
}

// place names an activity.
func (l *Load) place(i int) string {
	return fmt.Sprintf("activity %d, %.60q", i, l.Activities[i].Title)
}

// checkActivity looks at one activity: what it belongs to, its times, its demands and its links. A crew larger than the
// shop is a fault only of what is still to do: done work may have had help.
func (l *Load) checkActivity(i int) error {
	a := &l.Activities[i]
	fault := func(format string, args ...any) error {
		return fmt.Errorf("reading %s: %s", l.place(i), fmt.Sprintf(format, args...))
	}
	switch {
	case a.Boat < 0 || a.Boat >= len(l.Boats):
		return fault("there is no boat %d; the load has %d", a.Boat, len(l.Boats))
	case a.Calendar < 0 || a.Calendar >= len(l.Calendars):
		return fault("there is no calendar %d; the load has %d", a.Calendar, len(l.Calendars))
	case a.Duration < 0 || a.Duration > maxLength:
		return fault("its duration is %d quarter-hours; give 0 to %d", a.Duration, maxLength)
	case a.Earliest > maxMoment:
		return fault("it may not begin before %d; give a moment up to %d", a.Earliest, maxMoment)
	case a.State < Open || a.State > Done:
		return fault("its state %d is unknown", a.State)
	case a.State != Open && (a.Start < -maxMoment || a.Start > maxMoment):
		return fault("it began at %d; give a moment from %d to %d", a.Start, -maxMoment, maxMoment)
	case a.State == Done && (a.Finish < a.Start || a.Finish > maxMoment):
		return fault("it was begun at %d and done at %d; give a finish after the start", a.Start, a.Finish)
	}
	for j, d := range a.Demands {
		switch {
		case d.Resource < 0 || d.Resource >= len(l.Resources):
			return fault("it needs resource %d, which is missing; the load has %d", d.Resource, len(l.Resources))
		case d.Units < 1:
			return fault("it needs %d of %.60q; give 1 or more, or leave it out", d.Units,
				l.Resources[d.Resource].Title)
		case l.Resources[d.Resource].Calendar != a.Calendar:
			return fault("it needs %.60q, which keeps another calendar", l.Resources[d.Resource].Title)
		case a.State == Open && d.Units > l.Resources[d.Resource].Capacity:
			return fault("it needs %d of %.60q, which has %d; take a smaller crew or add to the shop", d.Units,
				l.Resources[d.Resource].Title, l.Resources[d.Resource].Capacity)
		}
		for _, other := range a.Demands[:j] {
			if other.Resource == d.Resource {
				return fault("it needs %.60q twice; add the two up", l.Resources[d.Resource].Title)
			}
		}
	}
	for _, link := range a.After {
		if err := l.checkLink(a, link); err != nil {
			return fault("%s", err.Error())
		}
	}
	return nil
}

// checkLink looks at a link of an activity. A negative lag would have work begin before what it waits for is done: that
// is two activities in truth, with the link between the parts.
func (l *Load) checkLink(a *Activity, link Link) error {
	if link.Activity < 0 || link.Activity >= len(l.Activities) {
		return fmt.Errorf("it comes after activity %d, which is missing; the load has %d", link.Activity,
			len(l.Activities))
	}
	p := &l.Activities[link.Activity]
	switch {
	case link.Min < 0 || link.Min > maxLength:
		return fmt.Errorf("it waits %d quarter-hours after %.60q; give 0 to %d", link.Min, p.Title, maxLength)
	case link.Max < link.Min:
		return fmt.Errorf("it starts from %d to %d quarter-hours after %.60q, which is an empty window; give a latest "+
			"that is no less than the earliest", link.Min, link.Max, p.Title)
	case link.Max < Never && link.Max > maxLength:
		return fmt.Errorf("it starts up to %d quarter-hours after %.60q; give up to %d, or Never", link.Max, p.Title,
			maxLength)
	case a.State == Begun && p.State == Open || a.State == Done && p.State != Done:
		return fmt.Errorf("it is begun or done, and %s, which comes before it, is not; book that first",
			l.place(link.Activity))
	}
	return nil
}

// checkHolding looks at a holding. What gives a place free takes time, so that the order of two boats in it is never in
// doubt.
func (l *Load) checkHolding(h Holding) error {
	for _, i := range []int{h.From, h.To} {
		if i < 0 || i >= len(l.Activities) {
			return fmt.Errorf("there is no activity %d; the load has %d", i, len(l.Activities))
		}
	}
	if h.Holder < 0 || h.Holder >= len(l.Holders) {
		return fmt.Errorf("%s needs holder %d, which is missing; the load has %d", l.place(h.From), h.Holder,
			len(l.Holders))
	}
	if to := &l.Activities[h.To]; to.State == Open && to.Duration == 0 {
		return fmt.Errorf("%s gives %.60q free and takes no time; give it a quarter-hour", l.place(h.To),
			l.Holders[h.Holder].Title)
	}
	return nil
}

// circle names activities that wait for each other, from those that could not be put in order.
func (l *Load) circle(left []bool) error {
	// what is left waits for something else that is left: going back from any of them ends in the circle
	at := 0
	for !left[at] {
		at++
	}
	seen := map[int]int{}
	var way []int
	for {
		if first, again := seen[at]; again {
			way = way[first:]
			break
		}
		seen[at] = len(way)
		way = append(way, at)
		for _, link := range l.Activities[at].After {
			if left[link.Activity] {
				at = link.Activity
				break
			}
		}
	}
	var names []string
	// a long circle is told by its begin: one link has to go, wherever it is
	for _, i := range way[:min(len(way), 8)] {
		names = append(names, l.place(i))
	}
	return fmt.Errorf("ordering a load: activities wait for each other in a circle: %s; take one of the links out",
		strings.Join(names, " after "))
}
