package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"ribband/core/brief"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/spec"
)

// findBoats answers a brief. That there is no boat is an answer, too, and no failure.
func findBoats(ctx context.Context, c *console, args []string) error {
	f := flags(c, "brief", "brief [-wishes FILE] [-wish ID=VALUE]... [-use FIELD=VALUE]... [-hull HULL]... [-book "+
		"DIR] [-desk buyer|show|yard] [-format text|json]")
	folder := f.String("book", "rules", "folder of the book")
	file := f.String("wishes", "", "brief as JSON; - reads standard input")
	var stated, use, hulls []string
	list := func(to *[]string) func(string) error {
		return func(s string) error { *to = append(*to, s); return nil }
	}
	f.Func("wish", "a wish as ID=VALUE, or ID alone where it has no amount; may be given several times, and goes "+
		"before the file", list(&stated))
	f.Func("use", "something known of the use as FIELD=VALUE, such as region=nl; may be given several times",
		list(&use))
	f.Func("hull", "look among this hull only; may be given several times", list(&hulls))
	deskName := f.String("desk", "buyer", "who is looking: buyer, show or yard")
	format := f.String("format", "text", "text or json")
	if err := parse(f, args); err != nil {
		return err
	}
	desk, err := pack.DeskOf(*deskName)
	if err != nil {
		return usageError{err}
	}
	if *format != "text" && *format != "json" {
		return usageError{fmt.Errorf("brief: the format %q is none; want text or json", *format)}
	}
	b := brief.Brief{Format: brief.Format}
	if *file != "" {
		if b, err = readBrief(c, *file); err != nil {
			return err
		}
	}
	if len(hulls) > 0 {
		b.Hulls = hulls
	}
	if err := state(&b, stated, use); err != nil {
		return usageError{err}
	}
	packs, err := load(c, *folder)
	if err != nil {
		return err
	}
	return answerBrief(ctx, c, packs[desk], b, *format)
}

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

// state adds what the command line states.
func state(b *brief.Brief, stated, use []string) error {
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
			return fmt.Errorf("brief: -wish %q is no wish; write range=25, or weather", s)
		}
		b.Wishes[id] = v
	}
	for _, s := range use {
		id, text, ok := strings.Cut(s, "=")
		if !ok || id == "" || text == "" {
			return fmt.Errorf("brief: -use %q states nothing; write region=nl", s)
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

// writeBrief writes a report for a reader.
func writeBrief(w io.Writer, e *engine.Engine, r *brief.Report) {
	region := brief.Region(e, r.Brief)
	fmt.Fprintf(w, "%s\n", e.Pack.Yard.Name)
	for i := range e.Pack.Brief.Wishes {
		def := &e.Pack.Brief.Wishes[i]
		if v, ok := r.Brief.Wishes[def.ID]; ok {
			fmt.Fprintf(w, "  %s\n", e.Text(brief.Words(e, def, v, region)))
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
	if b.Hours != "" {
		figures = append(figures, "Build hours "+money.Grouped(b.Hours))
	}
	fmt.Fprintf(w, "  %s\n", strings.Join(figures, "; "))
	for _, s := range b.Chosen {
		fmt.Fprintf(w, "  - %s\n", s)
	}
}
