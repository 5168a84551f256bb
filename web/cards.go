package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/orders"
	"ribband/core/paper"
)

// Cards are printed when a boat is taken on, and again when the plan has moved: they are made of orders, book and day
// alone, as the plan is. A foreman gets one for each boat on which he has work left. The code beside an operation names
// boat and operation, as 2027-003/laminate-hull, to the telephone that books hours.

// makeCards writes the job cards of orders: into a folder, a file for each, or one after the other.
func makeCards(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "cards", "cards -orders DIR [-book DIR] [-order NUMBER] [-shop SHOP] [-day YYYY-MM-DD] "+
		"[-effort thorough|quick|long] [-language TAG] [-size auto|A4|letter] [-format text|html] [-out DIR]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	order := f.String("order", "", "the number of the only order; none: all that have work left")
	shop := f.String("shop", "", "the only shop, by its id; none: all that have work left on a boat")
	dayText := f.String("day", "", "the day from which is planned, as for plan")
	effort := oneOf(f, "effort", "how long it looks for a better plan, as for plan", "thorough", "quick", "long")
	language := f.String("language", "", "of the cards, one of the book's, such as nl; none: the first of the book")
	size := oneOf(f, "size", "of the printed pages; auto is what the printer has", autoSize, doc.A4, doc.Letter)
	format := oneOf(f, "format", "of the cards", paper.AsText, paper.AsHTML)
	out := f.String("out", "", "folder for the cards, a file for each; it is made, and cards of the same name are "+
		"written anew; none: they are printed")
	f.about = "Writes a job card for each open order and each shop with work left on its boat: operations in order, " +
		"with their days by the plan, what must be ready, materials, checks to fill in, and a QR code for each."
	if err := f.parse(args); err != nil {
		return err
	}
	// there is no folder of orders that every yard has
	if *folder == "" {
		return f.wrong("which orders? Give -orders DIR")
	}
	load, faults, e, err := loadOrders(c, f, *folder, *dayText)
	if err != nil {
		return err
	}
	// before the plan, as for plan
	for _, fault := range faults {
		c.progress("%v", fault)
	}
	// as late as can be: words are asked for before the plan, which takes seconds
	if *language != "" {
		if e, err = engineIn(e.Pack, *language); err != nil {
			return fmt.Errorf("making job cards: %w", err)
		}
	}
	p, err := load.Make(efforts[*effort])
	if err != nil {
		return err
	}
	// the same plan for all, so that the cards of two shops agree on the day between them
	cards, err := p.Cards(e, *order, *shop)
	if err != nil {
		return err
	}
	if err := writeCards(c, cards, e, *format, *size, *out); err != nil {
		return err
	}
	// the cards are right, and some boats have none: a script must know
	if len(faults) > 0 {
		return errFaults
	}
	return nil
}

// writeCards writes cards in the language of the engine. Two pages of HTML in one file are none, so that more than one
// card needs a folder; text has a form feed between them, at which a printer takes a new page.
func writeCards(c *console, cards []orders.Card, e *engine.Engine, format paper.Format, size doc.Size,
	out string) error {
	// the paper of the yard's desk, so that there is one card and not two
	of, err := paper.Find("job-card", e)
	if err != nil {
		return err
	}
	switch {
	case len(cards) == 0:
		c.progress("No shop has work left: there is no card.")
		return nil
	case out == "" && format == paper.AsHTML && len(cards) > 1:
		return fmt.Errorf("writing job cards: there are %d; give -out DIR for a page of each, or -order and -shop for "+
			"one", len(cards))
	case out != "":
		if err := os.MkdirAll(out, 0o777); err != nil {
			return fmt.Errorf("writing job cards: %w", err)
		}
	}
	// one card after the other, so that what is written so far is whole if the disk is full
	ending, _ := format.File()
	var all [][]byte
	for i := range cards {
		k := &cards[i]
		text, err := of.Write(&paper.Source{Language: e.Language(), Quote: k.Quote, Card: k.Card, Size: size}, format)
		if err != nil {
			return err
		}
		if out == "" {
			all = append(all, text)
			continue
		}
		// an order has the name of its file, so that it is one here, too
		name := filepath.Join(out, k.Order+"-"+k.Shop+ending)
		if err := os.WriteFile(name, text, 0o666); err != nil {
			return fmt.Errorf("writing job cards: %w", err)
		}
		fmt.Fprintf(c.out, "%s: %s, %s, %s\n", name, k.Card.Shop, k.Hull, plural(len(k.Work), "operation"))
	}
	if out == "" {
		_, err = c.out.Write(bytes.Join(all, []byte("\f")))
	}
	return err
}
