package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/msg/office"
	"ribband/core/orders"
	"ribband/core/orders/list"
	"ribband/core/orders/papers"
	"ribband/core/paper"
	"ribband/core/quote"
)

// A boat is sold once and asked about for thirty years: which resin was that, what did the motor draw in the tank,
// whose is it now. What the shops noted on their cards is entered while they still remember; the file of the boat is
// made of it whenever somebody asks, and says where something is missing.
//
// One folder a boat, under the number of its order: its photographs, and the file as one paper of all. Photographs are
// entered by the digest of their bytes, so that one that was exchanged is found, and lie wherever the yard keeps
// pictures until somebody puts them there.

// What is entered, and where it is from:
//
//	values       the checks of the cards: serial numbers, batches, what was measured; by the identifiers of the book,
//	             which stand on the card, so that one list serves all boats
//	runs         the sheet of the trial: the current at each speed that was run
//	hull number  the running number of the yard and the month; the rest of it is the book's
//	pictures     files, of which the name and the digest are kept and nothing else
//	owner        where it is not the customer of the quotation: a boat is given away, or sold on
//	warranty     days, worked out by whoever knows the terms
//
// A declaration of conformity is no paper of this program: the file has what it has to say, and the builder signs.

// noteValues enters what is known of a boat: values of cards, its number, pictures, owner, warranty.
func noteValues(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "noted", "noted -orders DIR (-order NUMBER [-value OPERATION/CHECK=VALUE ...] [-run KN=A ...] "+
		"[-serial XXXXX] [-month YYYY-MM] [-photo FILE=TITLE ...] [-owner NAME [-address LINE ...] [-email ADDRESS] "+
		"[-phone NUMBER]] [-handed-over YYYY-MM-DD] [-warranty TITLE=YYYY-MM-DD ...] | -list FILE) [-book DIR]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	number := f.String("order", "", "the number of the order")
	values := f.list("value", "a value of a card: OPERATION/CHECK=VALUE, by the identifiers of the book")
	file := f.String("list", "", "values of several cards: CSV with the columns order, operation, check and value")
	runs := f.list("run", "a run of the trial: speed in knots and current of the battery in amperes, as 4.5=38")
	serial := f.String("serial", "", "the yard's running number in the hull number, five characters")
	month := f.String("month", "", "the month of building in the hull number, as 2027-03")
	photos := f.list("photo", "a photograph: FILE=TITLE; its bytes are read for their digest, and it stays where it is")
	owner := quote.Party{}
	f.StringVar(&owner.Name, "owner", "", "who has the boat, where it is not the customer")
	address := f.list("address", "a line of the owner's address")
	f.StringVar(&owner.Email, "email", "", "where the owner is written to")
	f.StringVar(&owner.Phone, "phone", "", "where the owner is called")
	handed := dayFlag(f, "handed-over", "the day on which the boat was handed over")
	warranty := f.list("warranty", "until when somebody answers for something: TITLE=YYYY-MM-DD")
	f.about = "Enters what is known of a boat for its file: what the shops noted and measured, its hull number, its " +
		"photographs by their digests, its owner and warranty. What stands there already is replaced."
	if err := f.parse(args); err != nil {
		return err
	}
	// a list has values alone: whose owner or picture would it be?
	switch {
	case *folder == "":
		return f.wrong("which orders? Give -orders DIR")
	case (*file == "") == (*number == ""):
		return f.wrong("which boat? Give -order NUMBER with what is known of it, or -list FILE")
	}
	// what cannot be read at all is told before the book is loaded
	noted, faults, err := notedOf(c, *file, *number, *values)
	if err != nil {
		return f.wrong("%w", err)
	}
	in, err := openOrders(c, *folder, false)
	if err != nil {
		return err
	}
	for _, fault := range in.read.Faults {
		c.progress("%v", fault)
	}
	e, err := yardEngine(c, f)
	if err != nil {
		return err
	}
	// line by line, as on an envelope
	owner.Address = *address
	k := &known{serial: *serial, month: *month, runs: *runs, photos: *photos, warranty: *warranty, owner: owner,
		handed: *handed}
	left := len(faults)
	for _, fault := range faults {
		c.progress("%s: %v", *file, fault)
	}
	// order by order, each written once
	for _, of := range numbersOf(noted, *number) {
		wrong, err := in.note(c, e, of, noted, k)
		if err != nil {
			return err
		}
		left += wrong
	}
	// what was left out was told one by one; a script sees it by the exit code
	if left > 0 {
		c.progress("%s left out.", plural(left, "value"))
		return errFaults
	}
	return nil
}

// cardValue is a value of a card of an order; the line is that of a list, or 0.
type cardValue struct {
	order string
	line  int
	orders.Noted
}

// notedOf reads values from a list or from flags. Rows that are wrong are faults; a flag that is, is an error.
func notedOf(c *console, file, number string, flags []string) (out []cardValue, faults []error, err error) {
	for _, text := range flags {
		// as the code on the card has it, operation behind a slash, and then the check
		name, value, ok := strings.Cut(text, "=")
		operation, check, slash := strings.Cut(name, "/")
		if !ok || !slash {
			return nil, nil, fmt.Errorf("-value %q: write OPERATION/CHECK=VALUE", text)
		}
		out = append(out, cardValue{number, 0, orders.Noted{Operation: operation, Check: check, Value: value}})
	}
	if file == "" {
		return out, nil, nil
	}
	text, err := readFile(c, file)
	if err != nil {
		return nil, nil, err
	}
	l, err := list.Read(text, "order", "operation", "check", "value")
	if err != nil {
		return nil, nil, fmt.Errorf("%s: reading values of cards: %w", file, err)
	}
	for i := range l.Rows {
		r := &l.Rows[i]
		out = append(out, cardValue{r.Text("order"), r.Line, orders.Noted{Operation: r.Text("operation"),
			Check: r.Text("check"), Value: r.Text("value")}})
	}
	return out, l.Faults, nil
}

// numbersOf are the orders that something is entered into, each once.
func numbersOf(list []cardValue, number string) (out []string) {
	// the one that was named comes first, also where no value of it is given
	if number != "" {
		out = []string{number}
	}
	for _, v := range list {
		if !slices.Contains(out, v.order) {
			out = append(out, v.order)
		}
	}
	return out
}

// known is what flags say of a boat.
type known struct {
	serial, month          string
	runs, photos, warranty []string
	owner                  quote.Party
	handed                 orders.Day
}

// note enters values and what else is known into one order, and says how many values were left out.
func (o *orderFolder) note(c *console, e *engine.Engine, number string, list []cardValue, k *known) (left int,
	err error) {
	of, err := o.find(number)
	if err != nil {
		return 0, err
	}
	// with the line of each, since what is wrong is told by it
	var noted []orders.Noted
	var lines []int
	for _, v := range list {
		if v.order == number {
			noted, lines = append(noted, v.Noted), append(lines, v.line)
		}
	}
	next, faults, err := of.Note(e, noted)
	if err != nil {
		return 0, err
	}
	for _, x := range faults {
		if at := lines[x.Step]; at > 0 {
			x.Err = fmt.Errorf("line %d: %w", at, x.Err)
		}
		c.progress("%v", x.Err)
	}
	// then what the flags say, which replaces what stood there
	built := next.Known()
	if err := k.enter(built); err != nil {
		return 0, err
	}
	if next, err = next.With(built); err != nil {
		return 0, err
	}
	// a number that another boat has is seen among all orders only
	if first := orders.OfSerial(o.read.Orders, next.Details().Serial, number); first != nil {
		return 0, fmt.Errorf("entering what is known of the boat of order %s: hull_serial: %s is the number of order "+
			"%s already; no number is given twice", number, next.Details().Serial, first.Number)
	}
	if err := o.save(next); err != nil {
		return 0, err
	}
	fmt.Fprintf(c.out, "%s: %s entered.\n", number, plural(len(noted)-len(faults), "value"))
	return len(faults), nil
}

// enter puts what the flags say in the place of what was known before; what they do not name stays.
func (k *known) enter(b *orders.Built) error {
	// a flag that is not given says nothing: nobody clears a hull number by leaving it out
	if k.serial != "" {
		b.Serial = k.serial
	}
	if k.month != "" {
		b.Month = k.month
	}
	if !k.handed.IsZero() {
		b.HandedOver = k.handed
	}
	if k.owner.Name != "" {
		b.Owner = &k.owner
	}
	for i, text := range k.runs {
		speed, current, _ := strings.Cut(text, "=")
		// with a point, as everywhere on the command line
		kn, err1 := strconv.ParseFloat(speed, 64)
		amperes, err2 := strconv.ParseFloat(current, 64)
		if err := errors.Join(err1, err2); err != nil {
			return usageError{fmt.Errorf("noted: -run %q: write the speed in knots and the current, as 4.5=38", text)}
		}
		if i == 0 { // the runs of one trial belong together
			b.Runs = nil
		}
		b.Runs = append(b.Runs, orders.Run{SpeedKn: kn, CurrentA: amperes})
	}
	// of one title the later day holds
	for _, text := range k.warranty {
		title, until, _ := strings.Cut(text, "=")
		day, err := orders.ParseDay(until)
		if err != nil {
			return usageError{fmt.Errorf("noted: -warranty %q: %w", text, err)}
		}
		b.Warranty = slices.DeleteFunc(b.Warranty, func(w orders.Warranty) bool { return w.Title == title })
		b.Warranty = append(b.Warranty, orders.Warranty{Title: title, Until: day})
	}
	return k.enterPhotos(b)
}

// enterPhotos reads photographs for their digests.
func (k *known) enterPhotos(b *orders.Built) error {
	for _, text := range k.photos {
		// the title is behind the last sign, since a path may have one
		at := strings.LastIndex(text, "=")
		if at < 0 {
			return usageError{fmt.Errorf("noted: -photo %q: write FILE=TITLE", text)}
		}
		// read and left where it is: the yard keeps its pictures as it likes
		raw, err := readNamed(text[:at])
		if err != nil {
			return err
		}
		p := orders.Photograph{File: filepath.Base(text[:at]), SHA256: sha256Of(raw), Title: text[at+1:]}
		b.Photographs = slices.DeleteFunc(b.Photographs, func(q orders.Photograph) bool { return q.File == p.File })
		b.Photographs = append(b.Photographs, p)
	}
	return nil
}

// sha256Of is the digest of some bytes, in hexadecimal.
func sha256Of(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}

// writeFile writes the file of a boat, or the register of hull numbers.
func writeFile(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "file", "file -orders DIR (-order NUMBER -out DIR [-letters html|text|pdf] | -register "+
		"[-format text|html|csv|xlsx|json]) [-book DIR]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	number := f.String("order", "", "the number of the order")
	out := f.String("out", "", "folder of the boats' folders: the file goes into one named after the order, where its "+
		"photographs lie")
	letters := oneOf(f, "letters", "form of the file; pdf is printed by Chromium", outFormats...)
	register := f.Bool("register", false, "list the hull numbers that were given instead")
	format := oneOf(f, "format", "of the register; xlsx is a workbook", paper.AsText, paper.AsHTML, paper.AsCSV,
		paper.AsWorkbook, paper.AsJSON)
	f.about = "Writes the file of a boat: its number, owner and warranty, what it is, what was noted and measured " +
		"beside what was predicted, photographs by their digests, the contents of its declaration, how it is sent. " +
		"Exit code 1 where a photograph is not the one that was entered, or a hull number was given twice."
	if err := f.parse(args); err != nil {
		return err
	}
	switch {
	case *folder == "":
		return f.wrong("which orders? Give -orders DIR")
	case !*register && (*number == "" || *out == ""):
		return f.wrong("which boat, and where to? Give -order NUMBER and -out DIR, or -register")
	}
	in, err := openOrders(c, *folder, false)
	if err != nil {
		return err
	}
	for _, fault := range in.read.Faults {
		c.progress("%v", fault)
	}
	e, err := yardEngine(c, f)
	if err != nil {
		return err
	}
	// the register follows from all orders, a file from one
	if *register {
		given := orders.Register(e, in.read.Orders)
		d := papers.Register(e.Language(), e.Public().Yard.Name, given)
		err = writeListing(c, d, office.Words(e.Language()), "Register", *format, given)
	} else {
		err = in.file(ctx, c, e, *number, *out, *letters)
	}
	if err == nil && len(in.read.Faults) > 0 {
		return errFaults
	}
	return err
}

// file writes the file of one boat into its folder. It is written anew each time: it grows with the boat.
func (o *orderFolder) file(ctx context.Context, c *console, e *engine.Engine, number, out string,
	letters paper.Format) error {
	// an order whose number another boat has, too, still has its file: the fault was told
	of, err := o.find(number)
	if err != nil {
		return err
	}
	l, speaking, err := speakingOf(e, of)
	if err != nil {
		return err
	}
	// in the language of the customer, who gets a copy
	dir := filepath.Join(out, number)
	digests, err := digestsOf(dir, of.Known().Photographs)
	if err != nil {
		return err
	}
	file, err := of.File(speaking, digests)
	if err != nil {
		return err
	}
	// the day of a print is that of the order, since the file has none of its own
	to := &outFolder{ctx: ctx, dir: dir, format: letters, day: of.Accepted.String(), again: true}
	var d *doc.Doc = papers.BoatFile(l, file)
	if err := to.write(c, number+"-boat-file", d, l); err != nil {
		return err
	}
	// one that is missing may come yet; one that was exchanged is a fault
	changed := 0
	for _, p := range file.Photos {
		switch p.State {
		case orders.PhotoChanged:
			changed++
			c.progress("%s: %s is not the photograph that was entered; put that back, or enter this one by `noted "+
				"-photo`", number, p.File)
		case orders.PhotoMissing:
			c.progress("%s: %s is not in %s; put it there", number, p.File, dir)
		}
	}
	if changed > 0 {
		return errFaults
	}
	return nil
}

// digestsOf are the digests of photographs that lie in a folder; none where there is no folder yet.
func digestsOf(dir string, list []orders.Photograph) (map[string]string, error) {
	// those alone that were entered: whatever else lies in the folder is somebody's
	sums := map[string]string{}
	for _, p := range list {
		// the name was checked to be one: it leads out of no folder; a link is followed by nobody
		name := filepath.Join(dir, p.File)
		info, err := os.Lstat(name)
		if errors.Is(err, fs.ErrNotExist) || err == nil && !info.Mode().IsRegular() {
			continue
		}
		if err != nil {
			return nil, err
		}
		raw, err := readNamed(name)
		if err != nil {
			return nil, err
		}
		sums[p.File] = sha256Of(raw)
	}
	return sums, nil
}
