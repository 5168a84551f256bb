package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/editions"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/supply"
)

// Suppliers send a list of prices once or twice a year, in whatever form their own program writes. The command reads it
// into the book: it proposes an edit of the book's files, as actuals does, and says before anybody applies it what
// moves with it: costs and margins of the options, prices that follow from costs, list prices that are under their
// floor now, quotations that are out.
//
// The edit is tried before it is shown: the book is read with it, in memory, and both books are compiled and set side
// by side. That takes some seconds, and is what an owner wants to see before he says yes.
//
// What is doubtful is left out and told; the exit code is 1 where a row could not be read.

// PricesReport is what prices -json prints.
type PricesReport struct {
	*supply.Proposal
	Moves    []editions.Move `json:"moves,omitempty"`
	Floor    money.Rate      `json:"floor"`           // the least margin of the book
	Fallen   []editions.Move `json:"under,omitempty"` // list prices that are below it now
	Open     []editions.Boat `json:"quotations,omitempty"`
	Faults   []string        `json:"faults,omitempty"`
	currency money.Currency
	day      string
}

// What it does not do: buy, choose between suppliers, or follow a price over years. The book knows one price and its
// day; the diffs of its files are its history, where somebody keeps them.

// takePrices reads a supplier's list, says what it changes, and writes it on demand.
func takePrices(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "prices", "prices -csv FILE -supplier NAME [-book DIR] [-date DAY] [-jump 0.20] [-accept-jumps] "+
		"[-columns ROLE=HEAD,…] [-quotations DIR] [-json | -diff] [-apply]")
	file := f.String("csv", "", "the supplier's list, parted by semicolons, commas or tabs; - reads standard input")
	supplier := f.String("supplier", "", "whose it is, as the book names him; copperbeck-cable does for Copperbeck "+
		"Cable")
	day := f.String("date", "", "day from which its prices hold, as 2027-01-31; of rows that say none")
	jump := f.String("jump", "0.20", "changes beyond this share of the old price are left out and listed")
	accept := f.Bool("accept-jumps", false, "take these, too")
	columns := f.String("columns", "", "heads of columns by what they are, such as article=Code,price=Netto; they can "+
		"be "+strings.Join(supply.Roles, ", "))
	quotations := f.String("quotations", "", "folder of quotations that are out: which of them lose margin")
	asJSON := f.Bool("json", false, "print everything as JSON")
	asDiff := f.Bool("diff", false, "print what to change in the book, as a unified diff for `patch -p1` in its folder")
	apply := f.Bool("apply", false, "write the changes into the book")
	f.about = "Reads a price list of a supplier, proposes what to change in the book, and says what moves with it: " +
		"costs, margins, prices, quotations that are out."
	if err := f.parse(args); err != nil {
		return err
	}
	// whatever is wrong with the command is told before the book is read
	most, err := money.ParseRate(*jump)
	named, wrong := namedColumns(*columns)
	_, noDay := time.Parse(time.DateOnly, *day)
	switch {
	case *file == "" || *supplier == "":
		return f.wrong("which list, and whose? Give -csv FILE and -supplier NAME")
	case err != nil || most.Sign() < 0:
		return f.wrong("-jump %q is no share; write 0.20 for 20 %%", *jump)
	case wrong != nil:
		return f.wrong("%w", wrong)
	case *day != "" && noDay != nil:
		return f.wrong("-date %q is no day; write it as 2027-01-31", *day)
	case *asJSON && *asDiff:
		return f.wrong("-json and -diff are two; give one")
	}
	// the list first: it comes from a person, and the book takes a second to load
	list, err := readPriceList(c, *file, named)
	if err != nil {
		return err
	}
	if *day == "" && slices.ContainsFunc(list.Rows, func(r supply.Row) bool { return r.Day == "" }) {
		return f.wrong("the list does not say from which day its prices hold; give -date DAY")
	}
	r, after, err := propose(c, f.book, list, supply.Terms{Supplier: *supplier, Day: *day, Jump: most,
		AcceptJumps: *accept})
	if err != nil {
		return err
	}
	// rows that could not be read are told at once, and once more in the JSON
	for _, fault := range list.Faults {
		r.Faults = append(r.Faults, *file+": "+fault.Error())
		c.progress("%s: %v", *file, fault)
	}
	r.day = *day
	if err := r.moves(c, f.book, after, *quotations); err != nil {
		return err
	}
	if err := r.print(c, *asJSON, *asDiff); err != nil {
		return err
	}
	// after it was shown, so that what was written can be read above
	if *apply {
		names, err := applyEdit(f.book, r.Edit)
		if err != nil {
			return err
		}
		for _, name := range names {
			c.progress("Wrote %s.", filepath.Join(f.book, name))
		}
	}
	if len(r.Faults) > 0 {
		return errFaults
	}
	return nil
}

// Heads of columns are found by their meaning; a list in another language, or with two prices of which the second is
// the yard's, is pointed at.

// namedColumns reads -columns: article=Code,price=Netto. A comma parts them, since no head of a price list has one that
// is not in quotes.
func namedColumns(text string) (map[string]string, error) {
	named := map[string]string{}
	for pair := range strings.SplitSeq(text, ",") {
		role, head, ok := strings.Cut(pair, "=")
		if text == "" {
			break
		}
		if !ok || head == "" || !slices.Contains(supply.Roles, role) {
			return nil, fmt.Errorf("-columns %q: write what a column is and its head, such as article=Code; it can be "+
				"%s", pair, strings.Join(supply.Roles, ", "))
		}
		named[role] = head
	}
	return named, nil
}

// readPriceList reads a file of prices.
func readPriceList(c *console, file string, columns map[string]string) (*supply.List, error) {
	// from standard input, too: a list may come out of a mail by another program
	text, err := readFile(c, file)
	if err != nil {
		return nil, err
	}
	list, err := supply.Read(text, supply.Options{Columns: columns})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return list, nil
}

// propose makes the edit of a list, and reads the book that would come of it: one with an error is not proposed.
func propose(c *console, dir string, list *supply.List, terms supply.Terms) (*PricesReport, *pack.Pack, error) {
	// as its owner wrote it, with the place of every price: a pack has none of these
	folder := os.DirFS(dir)
	b, found, err := source.Read(folder)
	if err != nil {
		return nil, nil, fmt.Errorf("loading the book in %s: %w", dir, err)
	}
	if slices.ContainsFunc(found, func(d book.Diagnostic) bool { return d.Grade == book.Error }) {
		_, err := load(c, dir) // tells what is wrong
		return nil, nil, cmpErr(err, errFaults)
	}
	if terms.Supplier, err = supply.FindSupplier(b, terms.Supplier); err != nil {
		return nil, nil, err
	}
	p, err := supply.Propose(b, folder, list, terms)
	if err != nil {
		return nil, nil, err
	}
	// warnings are told by check; here only whether there is a book at all
	packs, _, found, err := publish.Load(p.Edit.After())
	if err != nil {
		return nil, nil, err
	}
	if packs == nil {
		printReport(c.err, reportOf(dir, publish.Counts{}, found))
		return nil, nil, errors.New("the prices of the list make a book with errors, which are told above; nothing " +
			"is proposed")
	}
	return &PricesReport{Proposal: p}, packs[pack.Yard], nil
}

// cmpErr is the first error there is.
func cmpErr(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

// moves finds what moves with the list. Options are looked at one by one on the standard build of each hull: what a
// boat costs is the matter of its quotation.
func (r *PricesReport) moves(c *console, dir string, after *pack.Pack, quotations string) error {
	packs, err := load(c, dir)
	if err != nil {
		return err
	}
	was, err := engine.Compile(packs[pack.Yard])
	if err != nil {
		return err
	}
	now, err := engine.Compile(after)
	if err != nil {
		return err
	}
	r.currency, r.Floor = now.Pricing.Currency(), now.Pack.Costs.MarginFloor
	// both by the same engine's rules: what differs is the prices of the list alone
	before, err := editions.ProfileOf(was)
	if err != nil {
		return err
	}
	behind, err := editions.ProfileOf(now)
	if err != nil {
		return err
	}
	r.Moves = editions.Moves(before, behind)
	r.Fallen = editions.Fallen(r.Moves, r.Floor)
	if quotations == "" {
		return nil
	}
	boats, faults, err := requoteFolder(quotations, was, now, whole)
	for _, fault := range faults {
		r.Faults = append(r.Faults, fault)
		c.progress("%s", fault)
	}
	for _, b := range boats {
		// what has run out is nobody's promise any more; the day is that of the list
		if b.Until == "" || b.Until >= r.day {
			r.Open = append(r.Open, b)
		}
	}
	return err
}

// A folder of quotations may have specs among them: what somebody wishes for has no price yet, and is compared by what
// the two books say.

// requoteFolder answers every file of a folder, or those of a part, by their names. Faults are of files that are
// neither quotations nor specs.
func requoteFolder(dir string, was, now *engine.Engine, p part) (boats []editions.Boat, faults []string, err error) {
	// an empty folder is a mistake in the path more often than it is meant
	names, err := fs.Glob(os.DirFS(dir), "*.json")
	if err == nil && len(names) == 0 {
		err = editions.ErrEmpty
	}
	if err != nil {
		return nil, nil, fmt.Errorf("reading %s: %w", dir, err)
	}
	slices.Sort(names)
	for i, name := range names {
		if !p.has(i) {
			continue
		}
		text, err := readNamed(filepath.Join(dir, name))
		if err != nil {
			return nil, nil, err
		}
		b, err := editions.Requote(name, text, was, now)
		if err != nil {
			faults = append(faults, fmt.Sprintf("%s: %v", filepath.Join(dir, name), err))
			continue
		}
		boats = append(boats, *b)
	}
	return boats, faults, nil
}

// The report is for whoever decides, and so begins with what he may want to refuse. A program gets the same as JSON,
// and patch the diff alone. Amounts have the digits of the currency, those of one unit as many as they need.

// print writes the report.
func (r *PricesReport) print(c *console, asJSON, asDiff bool) error {
	switch {
	case asJSON:
		return printJSON(c.out, r)
	case asDiff:
		// standard output is for patch alone
		for _, s := range r.Edit.ByHand {
			c.progress("To be changed by hand: %s", s)
		}
		_, err := c.out.Write(r.Edit.Diff())
		return err
	}
	// for a person: what changes, what he has to look at, what follows, and what to do next
	w := c.out
	fmt.Fprintf(w, "%s: %d prices read; %d change, %d articles are as in the book, %d things are left to you.\n",
		r.Supplier, r.Rows, len(r.Changes), r.Same, len(r.Left))
	r.printChanges(w)
	r.printLeft(w)
	r.printMoves(w)
	r.printOpen(w)
	if len(r.Edit.Changes) > 0 {
		fmt.Fprintf(w, "\n%s to write: `-diff` prints them for patch, `-apply` writes them.\n",
			plural(len(r.Edit.Changes), "place"))
	}
	for _, s := range r.Edit.ByHand {
		fmt.Fprintf(w, "By hand: %s\n", s)
	}
	return nil
}

// printChanges lists the prices that change.
func (r *PricesReport) printChanges(w io.Writer) {
	if len(r.Changes) == 0 {
		return
	}
	// as the supplier numbers them, since he is who is asked
	fmt.Fprintln(w, "\nPrices of one unit")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "Article\tMaterial\tUnit\tFrom\tWas\tBecomes\tChange\t")
	// a price by quantity stands below the first one of its article
	for _, x := range r.Changes {
		from := ""
		if x.From > 0 {
			from = x.From.String()
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", x.Article, x.Material, x.Unit, from, r.unitPrice(x.Was),
			r.unitPrice(x.Now), movedBy(x.Share))
	}
	t.Flush()
}

// A metre of thread costs less than the smallest coin.

// unitPrice is a price with the digits of the currency, and with more where it has them.
func (r *PricesReport) unitPrice(a money.Amount) string { return supply.Written(a, r.currency.Digits) }

// leftWords are the titles of what is left out, by kind.
var leftWords = map[supply.Kind]string{
	supply.Missing: "Not in the list", supply.Unnumbered: "Without an article in the book",
	supply.Unmatched: "Of no article in the book", supply.Doubled: "Twice in the list",
	supply.OtherUnit: "For another unit, left out", supply.OtherMoney: "In another currency, left out",
	supply.Incomplete: "Without a first price, left out", supply.Older: "Older than the book's, left out",
	supply.Jump: "Beyond the jump, left out",
}

// printLeft lists what is left to a person, by kind.
func (r *PricesReport) printLeft(w io.Writer) {
	// in the order in which somebody asks the supplier about them
	for _, kind := range supply.Kinds {
		first := true
		for _, x := range r.Left {
			if x.Kind != kind {
				continue
			}
			if first {
				fmt.Fprintf(w, "\n%s\n", leftWords[kind])
				first = false
			}
			where := x.Article
			if x.Line > 0 {
				where = fmt.Sprintf("line %d, %s", x.Line, x.Article)
			}
			fmt.Fprintf(w, "  %s: %s\n", strings.Trim(where+" "+x.Material, " "), x.Why)
		}
	}
}

// What moves is said by hull, since an option takes more of a material on a longer boat.

// printMoves lists the options that move, by hull, and the list prices that are under the floor now.
func (r *PricesReport) printMoves(w io.Writer) {
	if len(r.Moves) == 0 {
		fmt.Fprintln(w, "\nNo option moves.")
		return
	}
	fmt.Fprintf(w, "\nWhat one of an option costs and leaves, on the standard build, %s net\n", r.currency.Code)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "Hull\tOption\tCost was\tis\tPrice was\tis\tMargin was\tis\t")
	// a list price stays whatever it costs: it is marked, since its margin alone moves
	for _, m := range r.Moves {
		price := m.Now.Price.Fixed(r.currency.Digits)
		if m.Now.Listed {
			price += " listed"
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", m.Now.Hull, m.Now.Option,
			m.Was.Cost.Fixed(r.currency.Digits), m.Now.Cost.Fixed(r.currency.Digits),
			m.Was.Price.Fixed(r.currency.Digits), price, ofNet(m.Was.Margin), ofNet(m.Now.Margin))
	}
	t.Flush()
	for _, m := range r.Fallen {
		fmt.Fprintf(w, "Under the least margin of %s now: %s on %s, listed at %s, leaves %s.\n", ofNet(r.Floor),
			m.Now.Option, m.Now.Hull, m.Now.Price.Fixed(r.currency.Digits), ofNet(m.Now.Margin))
	}
	if len(r.Fallen) == 0 {
		fmt.Fprintf(w, "No list price falls under the least margin of %s.\n", ofNet(r.Floor))
	}
}

// A quotation that is accepted is built at today's costs: what its price leaves then is what there is to decide on.

// printOpen lists the quotations that lose margin.
func (r *PricesReport) printOpen(w io.Writer) {
	if len(r.Open) == 0 {
		return
	}
	fmt.Fprintf(w, "\nOf %s, those that cost otherwise now, with the margin of the price as it was given\n",
		plural(len(r.Open), "quotation"))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "File\tCustomer\tHull\tNet price\tCost was\tis\tMargin was\tis\t")
	// one that costs the same is no news, and one that cannot be had is told by requote
	for _, b := range r.Open {
		if b.Then == nil || b.Now == nil || b.Then.Cost == nil || b.Then.Cost.Equal(*b.Now.Cost) {
			continue
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", b.File, b.Customer, b.Hull,
			b.Then.Net.Fixed(r.currency.Digits), b.Then.Cost.Fixed(r.currency.Digits),
			b.Now.Cost.Fixed(r.currency.Digits), ofNet(*b.Then.Margin), ofNet(*b.Kept))
	}
	t.Flush()
}

// movedBy is a change in per cent, with its sign.
func movedBy(r money.Rate) string {
	if r.Sign() > 0 {
		return "+" + ofNet(r)
	}
	return ofNet(r)
}
