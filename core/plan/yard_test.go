package plan_test

import (
	"fmt"
	"math/rand/v2"

	"ribband/core/plan"
)

// The shops of an invented yard, and its places.
const (
	moulding = iota
	assembly
	electrics
	wood
	trim
	paint
	shops
	curing = shops // a calendar that is always open
)

const (
	hullMould = iota // of the first of three models
	deckMould = iota + 2
	paintBay  = iota + 4
	tank
	bench
)

// yard is a load of so many boats with 60 activities each, the same for the same number: six shops with people, hours
// and closed days of their own, moulds held from gelcoat to release, overcoats with windows, material that arrives,
// promises. Invented; hours are of the size that small launches take.
func yard(boats int, number uint64) *plan.Load {
	r := rand.New(rand.NewPCG(number, 12))
	day := []plan.Hours{{From: 28, Until: 48}, {From: 50, Until: 64}}
	short := []plan.Hours{{From: 32, Until: 48}, {From: 52, Until: 64}}
	var closed []int
	for year := range 12 {
		for d := range 14 {
			closed = append(closed, year*364+203+d, year*364+355+d/2)
		}
	}
	l := &plan.Load{}
	for s, title := range []string{"moulding", "assembly", "electrics", "wood", "trim", "paint"} {
		hours := day
		if s >= wood {
			hours = short
		}
		l.Calendars = append(l.Calendars, plan.Weekdays(title, closed, hours...))
		l.Resources = append(l.Resources, plan.Resource{Title: title, Calendar: s, Capacity: []int{8, 10, 5, 4, 3,
			3}[s]})
	}
	l.Calendars = append(l.Calendars, plan.Always())
	for _, h := range []string{"hull mould A", "hull mould B", "hull mould C", "deck mould A", "deck mould B",
		"deck mould C",
		"paint bay", "tank", "welding bench"} {
		l.Holders = append(l.Holders, plan.Holder{Title: h, Units: 1 + len(h)%2})
	}
	for b := range boats {
		addBoat(l, b, r)
	}
	return l
}

// addBoat adds the 60 activities of one boat.
func addBoat(l *plan.Load, boat int, r *rand.Rand) {
	first, model := len(l.Activities), r.IntN(3)
	order := plan.Time(boat) * 5 * plan.Day / 2
	add := func(title string, shop, crew, hours int, after ...plan.Link) int {
		a := plan.Activity{Title: title, Boat: boat, Calendar: shop, After: after, Earliest: order,
			Duration: plan.Time(hours*4/crew + r.IntN(4) + 1)}
		if shop < shops {
			a.Demands = []plan.Demand{{Resource: shop, Units: crew}}
		}
		l.Activities = append(l.Activities, a)
		return len(l.Activities) - 1
	}
	hold := func(holder, from, to int) {
		l.Holdings = append(l.Holdings, plan.Holding{Holder: holder, From: from, To: to})
	}
	follows := func(i int, least, most plan.Time) plan.Link { return plan.Link{Activity: i, Min: least, Max: most} }
	shell := func(name string, mould int) int {
		prepare := add(name+": prepare mould", moulding, 1, 3)
		gelcoat := add(name+": gelcoat", moulding, 1, 1, follows(prepare, 0, plan.Never))
		skin := add(name+": skin coat", moulding, 2, 4, follows(gelcoat, 2, 3*plan.Day))
		laminate := skin
		for range 4 {
			laminate = add(name+": laminate", moulding, 2, 6+r.IntN(6), follows(laminate, 0, 4*plan.Day))
		}
		release := add(name+": release", moulding, 3, 3, follows(laminate, plan.Day, plan.Never))
		hold(mould+model, prepare, release)
		return release
	}
	hull, deck := shell("hull", hullMould), shell("deck", deckMould)
	coat := add("sand bottom", paint, 1, 6, follows(hull, 0, plan.Never))
	bay := coat
	for range 3 {
		coat = add("antifouling", paint, 1, 2, follows(coat, 4*plan.Hour, 4*plan.Day))
	}
	hold(paintBay, bay, coat)
	last := []int{coat, deck}
	for k := range 34 { // fitting out: in three strands that join
		shop := []int{assembly, electrics, wood, trim, assembly}[k%5]
		i := add(fmt.Sprintf("fit %d", k+1), shop, 1+r.IntN(2), 4+r.IntN(9), follows(last[r.IntN(len(last))], 0,
			plan.Never))
		if r.IntN(6) == 0 {
			l.Activities[i].Earliest += plan.Time(r.IntN(40)) * plan.Day // material
		}
		if k%9 == 4 {
			hold(bench, i, i)
		}
		if last = append(last, i); len(last) > 5 {
			last = last[1:]
		}
	}
	joint := add("join hull and deck", assembly, 3, 9, follows(hull, 0, plan.Never), follows(deck, 0, plan.Never))
	clamp := add("adhesive sets", curing, 1, 11, follows(joint, 0, 0))
	done := clamp
	for len(l.Activities)-first < 57 {
		done = add("assemble", assembly, 2, 6+r.IntN(8), follows(done, 0, plan.Never))
	}
	links := []plan.Link{follows(done, 0, plan.Never)}
	for _, i := range last {
		links = append(links, follows(i, 0, plan.Never))
	}
	check := add("check", electrics, 1, 4, links...)
	trial := add("tank trial", assembly, 2, 6, follows(check, 0, plan.Never))
	hold(tank, trial, trial)
	launch := add("launch", assembly, 2, 2, follows(trial, 0, plan.Never))
	b := plan.Boat{Title: fmt.Sprintf("boat %d", boat+1), Launch: launch, Due: plan.Never}
	if r.IntN(10) < 7 {
		b.Due, b.Weight = order+plan.Time(12+r.IntN(20))*plan.Week, 1+r.IntN(3)
	}
	l.Boats = append(l.Boats, b)
}
