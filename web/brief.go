package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"ribband/core/brief"
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/spec"
)

// findBoats answers a brief. That there is no boat is an answer, too, and no failure. The command line goes before the
// file, so that one wish of a saved brief can be changed without editing it.
func findBoats(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "brief", "brief [-wishes FILE] [-wish ID=VALUE]... [-use FIELD=VALUE]... [-hull HULL]... [-book "+
		"DIR] [-desk buyer|dealer|show|yard] [-dealer ID] [-format text|json]")
	file := f.String("wishes", "", "brief as JSON; - reads standard input")
	stated := f.list("wish", "a wish as ID=VALUE, or ID alone where it has no amount; goes before the file")
	use := f.list("use", "something known of the use as FIELD=VALUE, such as region=nl")
	hulls := f.list("hull", "look among this hull only")
	who := f.who(f.anyDesk())
	format := oneOf(f, "format", "for a reader or a program", "text", "json")
	if err := f.parse(args); err != nil {
		return err
	}
	// Without a file the command line states all of it, so that a brief may be tried out in one line.
	b := brief.Brief{Format: brief.Format}
	if *file != "" {
		var err error
		if b, err = readBrief(c, *file); err != nil {
			return err
		}
	}
	// Hulls replace those of the file and do not add to them: to look among fewer is what the flag is for.
	if len(*hulls) > 0 {
		b.Hulls = *hulls
	}
	if err := state(&b, *stated, *use); err != nil {
		return f.wrong("%w", err)
	}
	packs, err := load(c, f.book)
	if err != nil {
		return err
	}
	p, err := who.pack(packs)
	if err != nil {
		return err
	}
	return answerBrief(ctx, c, p, b, *format)
}

// readBrief reads a file; an error names it, then the key.
func readBrief(c *console, name string) (brief.Brief, error) {
	text, err := readFile(c, name)
	if err != nil {
		return brief.Brief{}, err
	}
	b, err := brief.Decode(text)
	if err != nil {
		return b, fmt.Errorf("%s: %w", name, err)
	}
	return b, nil
}

// state adds what the command line states. A wish is given as it would stand in the file, a number or a word, without
// the quotes that a shell would take away.
func state(b *brief.Brief, stated, use []string) error {
	// A brief without wishes has no map to add to.
	if b.Wishes == nil {
		b.Wishes = map[string]brief.Value{}
	}
	for _, s := range stated {
		id, text, amount := strings.Cut(s, "=")
		v := brief.Value{Yes: true}
		if amount {
			if err := v.UnmarshalJSON([]byte(text)); err != nil {
				v = brief.Value{Text: text}
			}
		}
		if id == "" || amount && text == "" {
			return fmt.Errorf("-wish %q is no wish; write range=25, or weather", s)
		}
		b.Wishes[id] = v
	}
	for _, s := range use {
		id, text, ok := strings.Cut(s, "=")
		if !ok || id == "" || text == "" {
			return fmt.Errorf("-use %q states nothing; write region=nl", s)
		}
		var v spec.Value
		if err := v.UnmarshalJSON([]byte(text)); err != nil {
			v = spec.Value{Choice: text}
		}
		if b.Use == nil {
			b.Use = map[string]spec.Value{}
		}
		b.Use[id] = v
	}
	return nil
}

// answerBrief searches in steps, as the page does, and so comes to the same boats; between them it looks whether
// somebody has stopped it. Stopped, it says how far it came, and gives no answer that looks like the end.
func answerBrief(ctx context.Context, c *console, p *pack.Pack, b brief.Brief, format string) error {
	e, err := engine.Compile(p)
	if err != nil {
		return err
	}
	r, err := brief.Start(e, b)
	if err != nil {
		return fmt.Errorf("reading the wishes: %w", err)
	}
	defer r.Stop()
	for done := false; !done; {
		// Some hundred boats take a part of a second, which is how long Ctrl-C waits.
		if done, err = r.Step(500); err != nil {
			return fmt.Errorf("finding boats: %w", err)
		}
		if err := ctx.Err(); err != nil {
			return fmt.Errorf("finding boats: stopped after checking %d boats", r.Progress().Checked)
		}
	}
	report := r.Answer().Report(e, b)
	if format == "json" {
		return printJSON(c.out, report)
	}
	writeBrief(c.out, e, report)
	return nil
}

// writeBrief writes a report for a reader. The verdict stands before where there is no boat, and behind the boats where
// there are some: a reader looks for boats first.
func writeBrief(w io.Writer, e *engine.Engine, r *brief.Report) {
	// Prices stand as the region writes them: with its tax, and its currency where it puts it.
	region := brief.Region(e, r.Brief)
	fmt.Fprintf(w, "%s\n", e.Pack.Yard.Name)
	// In the order of the book, in which the page asks for them.
	for i := range e.Pack.Brief.Wishes {
		def := &e.Pack.Brief.Wishes[i]
		if v, ok := r.Brief.Wishes[def.ID]; ok {
			fmt.Fprintf(w, "  %s\n", e.Text(brief.Words(e, def, v, region, measure.Sea)))
		}
	}
	if len(r.Boats) == 0 {
		fmt.Fprintf(w, "\n%s\n", r.Summary)
	}
	for _, b := range r.Boats {
		writeBoat(w, r.Currency, region, &b)
	}
	for _, x := range r.Relaxations {
		fmt.Fprintf(w, "\n%s\n", x.Words)
		if !x.Proved {
			fmt.Fprint(w, "  (a smaller change may be enough)\n")
		}
		writeBoat(w, r.Currency, region, &x.Boat)
	}
	if len(r.Boats) > 0 {
		fmt.Fprintf(w, "\n%s\n", r.Summary)
	}
	for _, s := range e.Pack.Cautions {
		fmt.Fprintf(w, "\n%s\n", s)
	}
}

// writeBoat writes a boat in three parts: what it is and costs, its figures, and what differs from the standard build.
// Merits say why it is among the boats: in what none of the others is better.
func writeBoat(w io.Writer, currency, region string, b *brief.BoatReport) {
	merits := ""
	if len(b.Merits) > 0 {
		merits = ": " + strings.Join(b.Merits, ", ")
	}
	fmt.Fprintf(w, "\n%s, %s%s\n", b.Hull, money.Priced(b.Price, currency, region), merits)
	var figures []string
	for _, f := range b.Figures {
		figures = append(figures, f.Title+" "+f.Message().String())
	}
	// Only the yard has hours.
	if b.Hours != "" {
		figures = append(figures, "Build hours "+money.Grouped(b.Hours))
	}
	fmt.Fprintf(w, "  %s\n", strings.Join(figures, "; "))
	for _, s := range b.Chosen {
		fmt.Fprintf(w, "  - %s\n", s)
	}
}
