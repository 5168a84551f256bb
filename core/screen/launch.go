//go:build !buyer

package screen

import (
	"strconv"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/calendar"
	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/launch"
	"ribband/core/look"
	"ribband/core/msg"
	"ribband/core/plan"
	"ribband/core/works"
)

// When a boat would be launched, and why not earlier; and on the yard's desk the build by shop and week. What is told
// comes from the orders with which the page was published: a page of last month tells of last month's yard, so the day
// stands with it.

var (
	launchBox = box{"launch-details", "price", "screen.box-launch", true, false, true}
	buildBox  = box{"build-details", "work", "screen.box-build", true, false, false}
)

// plans says that a desk knows when boats are launched.
func plans(e *engine.Engine) bool { return e.Plans() }

// builds says that it may show the shops, too.
func builds(e *engine.Engine) bool { return e.Plans() && sheets(e) }

// beside is the width of a drawing in the specification, which never has the whole of a wide screen.
const beside = 520

// mostReasons is how many reasons are told: behind a handful nobody reads on, and the build has them all.
const mostReasons = 4

// launch tells the week, how sure it is, and what the boat waits for.
func (v *View) launch() []g.Node {
	b, err := v.Engine.LaunchOf(v.Answer)
	if err != nil {
		return []g.Node{note(v.say("screen.launch-none", msg.Words("reason", msg.Of(err))))}
	}
	date := func(name string, d calendar.Day) msg.Arg { return msg.Date(name, d.String()) }
	// how sure it is comes first: whoever promises the week itself is late every other time
	said := []msg.Message{msg.New("screen.launch-expected", msg.Text("half", b.P50.String()),
		msg.Text("most", b.P80.String()))}
	if standard, err := v.Engine.StandardLaunch(v.Answer); err == nil && standard != b.Launch {
		said = append(said, msg.New("screen.launch-standard", date("date", standard),
			msg.Count("days", b.Launch.Since(standard))))
	}
	said = append(said, v.launchReasons(b)...)
	return []g.Node{
		P(Class("launch"), v.say("screen.launch-week", msg.Text("week", b.Launch.Week().String()),
			date("date", b.Launch))),
		v.list("reasons", said),
		note(v.say("screen.launch-note", date("day", v.Engine.PlanDay()), msg.Count("orders", v.Engine.PlanOrders()))),
	}
}

// launchReasons are what the operations wait for that decide the launch, beyond the boat's own work.
func (v *View) launchReasons(b *launch.Boat) (list []msg.Message) {
	for _, i := range b.Chain {
		s := &b.Steps[i]
		operation, begins := msg.Text("operation", v.taskTitle(&b.Tasks[i])), msg.Date("date", s.Start.String())
		switch {
		case len(list) == mostReasons: // the earliest ones: they hold up all that follows
			return list
		case s.Waits == launch.ForPeople && s.Task < 0:
			list = append(list, msg.New("screen.launch-people", operation, begins, msg.Text("shop", s.Means)))
		case s.Waits == launch.ForEquipment && s.Task < 0:
			list = append(list, msg.New("screen.launch-equipment", operation, begins, msg.Text("equipment", s.Means)))
		case s.Waits == launch.ForMaterial:
			list = append(list, msg.New("screen.launch-material", operation, begins,
				msg.Text("material", v.Engine.MaterialTitle(s.Material))))
		}
	}
	return list
}

// taskTitle is what a task is called: as the book has it, or as a salesperson called the extra item.
func (v *View) taskTitle(t *works.Task) string {
	if t.Operation == works.NoOperation {
		w := v.Answer.Work
		return w.Extras[w.Lines[t.Lines[0]].For.Index].Title
	}
	return v.Engine.Work.Operations[t.Operation].Title
}

// build draws the boat in the shops, and lists its operations with their days and what they wait for.
func (v *View) build() []g.Node {
	b, err := v.Engine.LaunchOf(v.Answer)
	if err != nil {
		return []g.Node{note(v.say("screen.launch-none", msg.Words("reason", msg.Of(err))))}
	}
	weeks, err := v.Engine.LaunchWeeks(v.Answer)
	if err != nil {
		return []g.Node{v.undrawn("boat", err)}
	}
	// what decides is dark in the drawing, and said in the list
	chain := map[int]bool{}
	for _, i := range b.Chain {
		chain[i] = true
	}
	var nodes []g.Node
	for i, width := range []float64{beside, narrow} {
		svg, err := v.buildDrawing(b, weeks, chain).SVG(drawing.Format{Width: width, ID: "build-" + sizes[i],
			Language: v.Engine.Language()})
		if err != nil {
			return []g.Node{v.undrawn("boat", err)}
		}
		nodes = append(nodes, shown(sizes[i], look.Picture{SVG: svg}))
	}
	return append(nodes,
		P(v.say("screen.build-chain", msg.Count("n", len(b.Chain)), msg.Count("all", len(b.Tasks)))),
		Details(ID("build-table"), Summary(v.say("screen.build-list")),
			Table(tableHead(v.saidAll("screen.operation", "screen.build-begins", "screen.build-ends",
				"screen.hours")...),
				TBody(g.Map(b.Chronological(), func(i int) g.Node { return v.buildRow(b, i, chain[i]) })))))
}

// buildRow is an operation in the list; what decides the launch is marked in words, not by colour alone.
func (v *View) buildRow(b *launch.Boat, i int, chain bool) g.Node {
	t, s := &b.Tasks[i], &b.Steps[i]
	// where, after what, and whether it matters, below its name: on a telephone a column each has no room
	class, says := "", []msg.Message{msg.Plain(v.Engine.Work.Place(t))}
	if w := v.waits(b, s); w != "" {
		says = append(says, msg.New("screen.build-waits", msg.Text("for", w)))
	}
	if chain {
		class, says = "total", append(says, msg.New("screen.build-decides"))
	}
	date, hours := v.Engine.Language().Date, v.decimal(t.Hours.Fixed(1))
	if t.Shop == works.Outside { // nobody's hours, and the days stand beside
		hours = ""
	}
	return Tr(Class(class), rowHead(v.taskTitle(t),
		Span(Class("note"), v.say("screen.effects", msg.List("effects", msg.Commas, says...)))),
		numbers(date(s.Start.String()), date(s.Finish.String()), hours))
}

// waits is what an operation waits for, in a few words.
func (v *View) waits(b *launch.Boat, s *launch.Step) string {
	switch {
	case s.Waits == launch.ForMaterial:
		return v.Engine.MaterialTitle(s.Material)
	case s.Task >= 0:
		return v.taskTitle(&b.Tasks[s.Task])
	case s.Waits == launch.ForPeople:
		return v.Engine.Say("screen.build-people", msg.Text("shop", s.Means))
	}
	return s.Means
}

// buildDrawing has the shops that the boat comes into.
func (v *View) buildDrawing(b *launch.Boat, weeks []launch.Week, chain map[int]bool) drawing.Build {
	d := drawing.Build{}
	for _, w := range weeks {
		d.Weeks = append(d.Weeks, "W"+strconv.Itoa(w.Week.Week))
	}
	// a shop that has nothing to do with the boat would only make the drawing longer
	lanes := map[int]int{} // of the shops
	for _, t := range b.Tasks {
		lanes[t.Shop] = 0
	}
	// in the order of the book, as everywhere else
	for shop, def := range v.Engine.Shops() {
		if _, ok := lanes[shop]; !ok {
			continue
		}
		lanes[shop] = len(d.Lanes)
		lane := drawing.BuildLane{Title: def.Title}
		for _, w := range weeks {
			lane.Loads = append(lane.Loads, drawing.BuildLoad(w.Shops[shop]))
		}
		d.Lanes = append(d.Lanes, lane)
	}
	// last, since nothing is known of how busy a supplier is
	if _, ok := lanes[works.Outside]; ok {
		lanes[works.Outside] = len(d.Lanes)
		d.Lanes = append(d.Lanes, drawing.BuildLane{Title: v.Engine.Say("screen.outside")})
	}
	// to the quarter of an hour, as it is planned
	inWeeks := func(t plan.Time) float64 { return float64(t) / float64(plan.Week) }
	for i, t := range b.Tasks {
		d.Tasks = append(d.Tasks, drawing.BuildTask{Lane: lanes[t.Shop], From: inWeeks(b.Steps[i].Begin),
			To: inWeeks(b.Steps[i].End), Chain: chain[i], Title: v.taskTitle(&b.Tasks[i])})
	}
	return d
}
