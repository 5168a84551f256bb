package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"ribband/core/engine"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/publish"
)

// The folder of orders is the yard's: one file for each boat that was ordered, by its number (package core/orders has
// their form, testdata/orders a dozen of them). Commands write it: order when a customer accepts, booked when work was
// done, paid when money came in, change when something else is to be built. Each writes one file, and leaves the bytes
// of all others as they are. An order whose boat was handed over (noted enters the day) takes no hours any more; it may
// stay, or be moved into a folder below.
//
// The files are plain JSON, which a person can read and mend; whatever is entered is held to the same checks:
//
//	{
//	  "kind": "order of a launch", "format": 1, "number": "2027-014",
//	  "accepted": "2027-01-18", "promised": "2027-W22",
//	  "quotation": {"kind": "quote of a launch", ...},
//	  "done": [
//	    {"operation": "prepare-mould", "begun": "2027-02-01", "done": "2027-02-02", "hours": "5.5"},
//	    {"operation": "laminate-hull", "begun": "2027-02-03", "hours": "12"}
//	  ],
//	  "paid": [{"stage": "With the order", "on": "2027-01-20", "amount": "6000.00"}]
//	}

// Nothing here locks the folder. Two people who enter something into the same order at the same moment are told apart
// by its bytes: who comes second is asked to enter it again, and nothing of either is lost.

// orderFolder is a folder of orders that was read.
type orderFolder struct {
	dir   string
	files map[string][]byte // as they were
	read  *orders.Folder
}

// openOrders reads a folder of orders. One without any is a wrong folder more often than a yard without work; the first
// order of all is put into an empty one.
func openOrders(c *console, dir string, mayBeEmpty bool) (*orderFolder, error) {
	// all of them, whichever one is asked for: two orders of one quotation are seen only side by side
	files, err := filesOf(dir)
	if err != nil {
		return nil, err
	}
	o := &orderFolder{dir, files, orders.Read(files)}
	if len(o.read.Orders) == 0 && !mayBeEmpty {
		for _, fault := range o.read.Faults {
			c.progress("%v", fault)
		}
		return nil, fmt.Errorf("reading orders: %s holds no order; give -orders DIR, with a file ending in .json for "+
			"each", dir)
	}
	return o, nil
}

// filesOf reads the files of a folder that may be orders, by their names. Folders within it are not looked into: a yard
// moves the orders of boats that are gone into one.
func filesOf(folder string) (map[string][]byte, error) {
	list, err := os.ReadDir(folder)
	if err != nil {
		return nil, fmt.Errorf("reading orders: %w", err)
	}
	files := map[string][]byte{}
	for _, entry := range list {
		// what is no plain file, or ends otherwise, is somebody's note
		if entry.Type()&fs.ModeType != 0 || filepath.Ext(entry.Name()) != orderEnding {
			continue
		}
		if files[entry.Name()], err = readNamed(filepath.Join(folder, entry.Name())); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// orderEnding is that of the file of an order.
const orderEnding = ".json"

// find finds an order. Of one whose file is damaged it says what is wrong with it, which is what keeps it from being
// found.
func (o *orderFolder) find(number string) (*orders.Order, error) {
	of, err := orders.Find(o.read.Orders, number)
	if err == nil {
		return of, nil // whatever else is told of it
	}
	for _, fault := range o.read.Faults {
		if fault.File == number+orderEnding {
			return nil, fault
		}
	}
	return nil, err
}

// save writes an order in the place of what its file was, in one step: whoever reads it meanwhile, and whatever stops
// the machine, there is the old file or the new one. Somebody else may have entered something since the folder was
// read; that is not overwritten.
func (o *orderFolder) save(order *orders.Order) error {
	name := filepath.Join(o.dir, order.Number+orderEnding)
	text, err := order.Encode()
	if err != nil {
		return err
	}
	now, err := readNamed(name)
	if err != nil {
		return err
	}
	// the bytes tell more than a time of the file, which a copy loses
	was := o.files[order.Number+orderEnding]
	switch {
	case string(now) != string(was):
		return fmt.Errorf("writing %s: it was changed while this was entered; enter it again", name)
	case string(now) == string(text):
		return nil
	}
	if err := replaceFile(name, text); err != nil {
		return fmt.Errorf("writing %s: %w", name, err)
	}
	o.files[order.Number+orderEnding] = text
	// whatever is entered next is entered beside it
	if i := slices.IndexFunc(o.read.Orders, func(x *orders.Order) bool { return x.Number == order.Number }); i >= 0 {
		o.read.Orders[i] = order
	}
	return nil
}

// replaceFile writes a file beside another and has it take its name, once it is on the disk.
func replaceFile(name string, text []byte) (err error) {
	// beside it, on the same disk: a name changes hands in one step there alone
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	// its name ends in digits, so that no command takes what is left of a kill for an order
	file, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+"-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(file.Name())
		}
	}()
	// as whoever shares the folder could read it before
	_, err = file.Write(text)
	if err == nil {
		err = file.Chmod(info.Mode().Perm())
	}
	if err == nil {
		err = file.Sync()
	}
	if closed := file.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(file.Name(), name)
	}
	if err != nil {
		return err
	}
	// the new name, too, has to outlive a power cut; where a folder cannot be synchronised nothing is lost by it
	if dir, opened := os.Open(filepath.Dir(name)); opened == nil {
		_ = dir.Sync()
		_ = dir.Close()
	}
	return nil
}

// yardEngine is the engine of the yard's desk, which knows the work.
func yardEngine(c *console, f *flags) (*engine.Engine, error) {
	// whoever keeps the folder of orders has the book: nothing here is asked of a published site
	packs, err := load(c, f.book)
	if err != nil {
		return nil, err
	}
	return engine.Compile(packs[pack.Yard])
}

// dayOf is the day that a flag gives, or the one after the last of which the orders tell. The clock is not asked: a
// plan of today would be another one tomorrow, with nothing changed. The day is asked for where it matters.
func (o *orderFolder) dayOf(f *flags, text string) (orders.Day, error) {
	if text == "" {
		return o.read.Day(), nil
	}
	day, err := orders.ParseDay(text)
	if err != nil {
		return day, f.wrong("-day: %w", err)
	}
	return day, nil
}

// loadOrders reads a folder of orders and makes it ready to be planned by the yard's book. Faults are of single files,
// and leave the others in the plan; an error leaves nothing to plan.
func loadOrders(c *console, f *flags, folder, dayText string) (*orders.Load, []orders.Fault, *engine.Engine, error) {
	o, err := openOrders(c, folder, false)
	if err != nil {
		return nil, nil, nil, err
	}
	// asked for before the book is read: a day that is none is told at once
	day, err := o.dayOf(f, dayText)
	if err != nil {
		return nil, nil, nil, err
	}
	// after the files, which are read in no time: loading a book takes a second
	e, err := yardEngine(c, f)
	if err != nil {
		return nil, nil, nil, err
	}
	l, faults := orders.NewLoad(e, o.read.Orders, day)
	return l, slices.Concat(o.read.Faults, faults), e, nil
}

// countFiles is how many files have faults; one file may have many.
func countFiles(faults []orders.Fault) int {
	files := map[string]bool{}
	// a file counts once, however much is wrong in it
	for _, f := range faults {
		files[f.File] = true
	}
	return len(files)
}

// dayFlag and weekFlag are flags that are read as they are given, so that a slip is told before anything is computed.
func dayFlag(f *flags, name, what string) *orders.Day {
	// none where the flag is not given, which the command asks for where it needs it
	d := new(orders.Day)
	f.Func(name, what+", as 2027-03-31", func(text string) (err error) {
		*d, err = orders.ParseDay(text)
		return err
	})
	return d
}

func weekFlag(f *flags, name, what string) *orders.Week {
	w := new(orders.Week)
	f.Func(name, what+", as 2027-W22", func(text string) (err error) {
		*w, err = orders.ParseWeek(text)
		return err
	})
	return w
}

// foundPromise says whether a promised week can be kept by the plan, and refuses one that it cannot, unless the yard
// promises it all the same: somebody may know more than the book does.
func foundPromise(c *console, promised, launch, p80 orders.Week, anyway bool) error {
	// weeks are compared, since weeks are promised
	switch late := launch.Since(promised); {
	case late > 0 && !anyway:
		return fmt.Errorf("the plan has the launch %s after %s, even if every hour is as the book says; promise %s, "+
			"which four of five simulated builds keep, or give -late to promise it all the same",
			plural(late, "week"), promised, p80)
	case p80.Since(promised) > 0:
		c.progress("%s is a risk: four of five simulated builds are launched by %s only.", promised, p80)
	}
	return nil
}

// The book and the orders of the demo yard, as a checkout has them.
const (
	demoBook   = "rules"
	demoOrders = "testdata/orders"
)

// ordersFlags are those of commands whose desks say when a boat would be launched.
func ordersFlags(f *flags) (folder, day *string) {
	return f.String("orders", "", "folder of the yard's orders: desks plan a further boat among "+
			"them, and offer what they leave of a stock"),
		f.String("day", "", "the day on which that is planned; without it the day after the last entry of the orders")
}

// tellOrders has packs know how busy the yard is with the orders of a folder, so that desks can say when a further boat
// would be launched, and what these leave of a stock. Which desks say weeks, the book says. Faults of single orders are
// told, and leave the others.
func tellOrders(c *console, f *flags, packs publish.Packs, folder, dayText string) error {
	o, err := openOrders(c, folder, false)
	if err != nil {
		return err
	}
	day, err := o.dayOf(f, dayText)
	if err != nil {
		return err
	}
	e, err := engine.Compile(packs[pack.Yard])
	if err != nil {
		return err
	}
	// an order that cannot be read takes nothing in this plan: it is told, since desks would promise its weeks
	load, faults := orders.NewLoad(e, o.read.Orders, day)
	for _, fault := range slices.Concat(o.read.Faults, faults) {
		c.progress("%v", fault)
	}
	p, err := load.Make(plan.Thorough)
	if err != nil {
		return err
	}
	// of all orders, those that cannot be planned, too: what they have nobody else can have
	packs[pack.Yard].Leave(orders.Ordered(o.read.Orders, packs[pack.Yard]))
	if packs[pack.Yard].Work.Load, err = p.Taken(); err != nil {
		return err
	}
	// everybody may read whole weeks where the book says so; what they give away, publish -report tells
	if packs[pack.Yard].Work.Launch == pack.Buyer {
		if e, err = engine.Compile(packs[pack.Yard]); err != nil {
			return err
		}
		if packs[pack.Yard].LaunchWeeks, err = e.PublicLaunches(); err != nil {
			return err
		}
	}
	for _, d := range packs.Desks() {
		packs[d] = publish.For(packs[pack.Yard], d)
	}
	return nil
}
