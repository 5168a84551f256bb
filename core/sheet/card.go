package sheet

import (
	"slices"
	"strings"

	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/works"
)

// Card is what one shop works by on one boat, and writes on: its operations with all that belongs to them, then the
// lists and drawings that the book gives the shop. There is no money in it, and no customer.
type Card struct {
	Shop      string // title, like Lamination
	Hull      string
	Spec      string // digest of what was chosen
	Edition   pack.Edition
	Clashes   []string
	Job       *Job       // nil for a boat that nobody has ordered
	Hours     ShopHours  // of all operations, of those that are done, too
	Done      []CardWork // of an order, to be told in short
	Work      []CardWork // what is to do, as it is done, then extra items
	Parts     *ShopParts // nil where the shop does not get them, as the next three
	Laminates *LaminateSheet
	Drilling  []DrillPart
	Flotation []FlotationPart
	Cuts      []CutPart
	Circuits  []CircuitPart
	Loom      *LoomPart
	Pictures  []look.Picture
}

// Job is what an order adds to the cards of its boat. Days are of ISO 8601.
type Job struct {
	Number string
	HIN    string    // hull identification number; "" where the order does not give it yet
	Year   int       // of the week in which the boat is to be launched
	Week   int       // of the year, ISO 8601
	Day    string    // on which the plan was made
	Tasks  []JobTask // of the boat's tasks, in their order
}

// JobTask is how far a task of the boat is, and when it is worked by the plan.
type JobTask struct {
	Begin, End string        // by the plan; of what is begun or done as it was entered
	Begun      bool          // under way
	Done       bool          // nothing is left of it
	Again      bool          // it was done, and a change asks for more of it
	Booked     measure.Hours // until now
	Left       measure.Hours // to do by the plan
	Material   string        // what comes last of what it takes, where it is not there yet
	Comes      string        // and on which day
}

// CardWork is an operation of the shop with all that its crew has to know.
type CardWork struct {
	Operation string // identifier; "" for an extra item
	Title     string // of an extra item its own
	For       []string
	Hours     measure.Hours // of one person, by the book
	Elapsed   measure.Hours // that the crew is at it
	Crew      int           // people at once
	Skill     string        // that all of them have; "" for none
	After     []CardLink
	Next      []CardLink // what has to follow within a time
	Sent      []CardSent // what goes out to a supplier as soon as all is ready for it
	Uses      []string   // equipment, while it is worked on
	Holds     []CardHold
	Steps     []string
	Materials []CardMaterials
	Checks    []CardCheck
	Planned   *JobTask // of an order
}

// CardLink is an operation before or behind another, and the time by the clock between the two.
type CardLink struct {
	Title   string
	Shop    string        // title, or the supplier
	Wait    measure.Hours // at least
	Within  measure.Hours // at most, where it is bounded
	Bounded bool
	Planned *JobTask // of an order: when it is done
}

// CardSent is work that a supplier does behind an operation.
type CardSent struct {
	Title    string
	Supplier string
	Days     int      // working days until it is back
	Planned  *JobTask // of an order: when it goes out and is due back
}

// CardHold is equipment that stays the boat's until others of its operations are done; none for this one alone.
type CardHold struct {
	Equipment string
	Until     []string // titles
}

// CardMaterials are what an operation takes for one item.
type CardMaterials struct {
	For   string
	Parts []CardMaterial
}

// CardMaterial is a material as it is taken from the store, with its waste. Several lines of the book that take the
// same one for the same work are one.
type CardMaterial struct {
	Material string // identifier
	Title    string
	Unit     string // a word of package measure, of both quantities
	Used     measure.Quantity
	Pack     measure.Quantity // in which it is sold; 0 where it is sold by the unit
	Customer bool             // who brings it
}

// CardCheck is a value that the shop fills in.
type CardCheck struct {
	Title       string
	Unit        string   // a word of package measure; "" for what is noted in words
	Least, Most *float64 // between which it is good, in the unit; nil for no bound
	Predicted   string   // by the figure of the boat that the book names, in words; "" for none
}

// ForShop makes the card of a shop by its index, of a boat that is ordered with its job; nil on the desks without hours
// by shop.
func ForShop(e *engine.Engine, a *engine.Answer, shop int, job *Job) (*Card, error) {
	if !e.Pack.Can(pack.Sheets) {
		return nil, nil
	}
	// a part of the yard's own sheet, so that a foreman and the office never read two numbers for one thing
	y, papers := ForYard(e, a, quote.Details{}), e.Pack.Work.Shops[shop].Papers
	c := &Card{Shop: e.Work.Shops[shop].Title, Hull: y.Hull, Spec: y.Spec, Edition: y.Edition, Clashes: y.Clashes,
		Job: job, Hours: y.Shops[shop]}
	c.work(e, a, shop)
	// what the book gives a shop to read, by the words of its papers
	gets := func(paper string) bool { return slices.Contains(papers, paper) }
	c.Parts = shopParts(e, a, func(l *cost.MaterialLine) bool { return takes(e, shop, l) }).only(gets)
	if gets("laminates") {
		c.Laminates = y.Laminates
	}
	var err error
	if gets("drilling") {
		if c.Drilling, err = Drilling(e, a.Build); err != nil {
			return nil, err
		}
	}
	if gets("flotation") {
		c.Flotation = Flotation(e, a.Build)
	}
	// layouts follow the work that takes what is cut, whatever papers the book gives the shop
	for _, cut := range y.Cuts {
		if slices.Contains(cutters(e, &cut), shop) {
			c.Cuts = append(c.Cuts, cut)
		}
	}
	if gets("loom") {
		c.Circuits, c.Loom = y.Circuits, y.Loom
	}
	// first of its drawings: a bender sets his stop by it
	hoops, err := hoopPictures(e, c.Parts)
	if err != nil {
		return nil, err
	}
	pictures, err := shopPictures(e, a.Build, c.Cuts, gets)
	c.Pictures = slices.Concat(hoops, pictures)
	return c, err
}

// takes says whether a line of material is taken by an operation of a shop.
func takes(e *engine.Engine, shop int, l *cost.MaterialLine) bool {
	return l.Operation >= 0 && e.Work.Operations[l.Operation].Shop == shop
}

// work puts the operations of a shop on its card: those that are done apart from the others, which stand as they are
// done by the plan, or where there is none in an order in which they can be done.
func (c *Card) work(e *engine.Engine, a *engine.Answer, shop int) {
	tasks := a.Work.Tasks()
	// all tasks are needed, those of other shops for what this one waits for
	for i := range tasks {
		if tasks[i].Shop != shop {
			continue
		}
		w := cardWork(e, a, tasks, i, c.Job)
		if w.Planned != nil && w.Planned.Done {
			c.Done = append(c.Done, w)
		} else {
			c.Work = append(c.Work, w)
		}
	}
	if c.Job != nil { // days of ISO 8601 sort as text
		slices.SortStableFunc(c.Work, func(x, y CardWork) int {
			return strings.Compare(x.Planned.Begin, y.Planned.Begin)
		})
	}
}

// cardWork is a task of a boat as its shop reads it.
func cardWork(e *engine.Engine, a *engine.Answer, tasks []works.Task, i int, job *Job) CardWork {
	t := &tasks[i]
	w := CardWork{Hours: t.Hours, Elapsed: t.Elapsed, Crew: t.Crew, Planned: job.task(i)}
	if t.Operation == works.NoOperation {
		w.Title, w.For = title(e, a.Work, t), []string{e.Say("sheet.for-extra-item")}
		return w
	}
	// in the language of the engine, as all words of the book are
	op := &e.Work.Operations[t.Operation]
	w.Operation, w.Title, w.Steps = op.ID, op.Title, op.Steps
	for _, line := range t.Lines {
		w.For = append(w.For, causeTitle(e, a.Work.Lines[line].For))
	}
	if t.Skill > 0 {
		w.Skill = e.Work.Shops[t.Shop].Skills[t.Skill-1].Title
	}
	// both ways by one form, so that two cards say the same of one wait
	link := func(task int, l works.Link) CardLink {
		of := &tasks[task]
		return CardLink{Title: title(e, a.Work, of), Shop: e.Work.Place(of), Wait: l.Wait, Within: l.Within,
			Bounded: l.Bounded, Planned: job.task(task)}
	}
	for _, l := range t.After {
		w.After = append(w.After, link(l.Task, l))
	}
	// who sprays gelcoat has to know that somebody must be there to laminate tomorrow
	for k := range tasks {
		for _, l := range tasks[k].After {
			if l.Task == i && l.Bounded {
				w.Next = append(w.Next, link(k, l))
			}
			if of := &tasks[k]; l.Task == i && of.Shop == works.Outside {
				w.Sent = append(w.Sent, CardSent{title(e, a.Work, of), e.Work.Place(of), of.Days, job.task(k)})
			}
		}
	}
	equipment := e.Pack.Work.Equipment
	// what is used is free again at the end, what is held is not, so that they are two lists
	for _, k := range t.Uses {
		w.Uses = append(w.Uses, equipment[k].Title)
	}
	for _, h := range t.Holds {
		// until the end of a later operation, which is in another shop as a rule
		hold := CardHold{Equipment: equipment[h.Equipment].Title}
		for _, until := range h.Until {
			hold.Until = append(hold.Until, title(e, a.Work, &tasks[until]))
		}
		w.Holds = append(w.Holds, hold)
	}
	w.Materials, w.Checks = cardMaterials(e, a, t.Operation), cardChecks(e, a, op.Checks)
	return w
}

// task is that of a job; nil where there is none.
func (j *Job) task(i int) *JobTask {
	if j == nil {
		return nil
	}
	return &j.Tasks[i]
}

// title is what the shop calls a task.
func title(e *engine.Engine, w *works.Boat, t *works.Task) string {
	if t.Operation == works.NoOperation {
		return w.Extras[w.Lines[t.Lines[0]].For.Index].Title
	}
	return e.Work.Operations[t.Operation].Title
}

// cardMaterials are what an operation takes, item by item.
func cardMaterials(e *engine.Engine, a *engine.Answer, operation int) (list []CardMaterials) {
	at := map[works.Cause]int{} // in the list
	for i := range a.Cost.Materials {
		l := &a.Cost.Materials[i]
		if l.Operation != operation {
			continue
		}
		if _, ok := at[l.For]; !ok {
			at[l.For] = len(list)
			list = append(list, CardMaterials{For: causeTitle(e, l.For)})
		}
		list[at[l.For]].add(&e.Pack.Costs.Materials[l.Material], l)
	}
	return list
}

// add puts a quantity to that of the same material: a storekeeper hands it out once.
func (m *CardMaterials) add(def *pack.Material, l *cost.MaterialLine) {
	if i := slices.IndexFunc(m.Parts, func(p CardMaterial) bool {
		return p.Material == def.ID && p.Customer == l.Customer
	}); i >= 0 {
		m.Parts[i].Used += l.Used
		return
	}
	part := CardMaterial{def.ID, def.Title, def.Unit, l.Used, measure.Quantity(def.Pack.Millionths()), l.Customer}
	// he does not buy it by the yard's packs
	if l.Customer {
		part.Pack = 0
	}
	m.Parts = append(m.Parts, part)
}

// cardChecks are the values that an operation fills in, each with what the boat's own figure predicts.
func cardChecks(e *engine.Engine, a *engine.Answer, list []pack.Check) (out []CardCheck) {
	for _, k := range list {
		c := CardCheck{Title: k.Title, Unit: k.Unit, Least: k.Least, Most: k.Most}
		// figures of the yard have units of the sea, as those of checks are
		for i := range e.Pack.Figures {
			if k.Figure != "" && e.Pack.Figures[i].ID == k.Figure {
				c.Predicted = e.Text(e.FigureValue(a.Build.State, i, measure.Sea).Message())
			}
		}
		out = append(out, c)
	}
	return out
}

// cutters are the shops that get a layout: those whose operations take what is cut of it, or where it feeds no material
// those that the book gives layouts.
func cutters(e *engine.Engine, c *CutPart) (shops []int) {
	for _, n := range e.Pack.Costs.Options[c.option].Materials {
		taker := e.Pack.Taker(n.At)
		if n.Cut == nil || n.Cut.Cut != c.index || taker < 0 {
			continue
		}
		shop := e.Work.Operations[taker].Shop
		if shop != works.Outside && !slices.Contains(shops, shop) {
			shops = append(shops, shop)
		}
	}
	if len(shops) > 0 {
		return shops
	}
	// nobody takes a material by it, and somebody has to cut all the same
	for i, def := range e.Pack.Work.Shops {
		if slices.Contains(def.Papers, "cuts") {
			shops = append(shops, i)
		}
	}
	return shops
}
