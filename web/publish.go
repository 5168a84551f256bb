package main

import (
	"context"
	"fmt"

	"ribband/core/pack"
)

func publishSite(ctx context.Context, c *console, args []string) error {
	f := flags(c, "publish", "publish -out DIR [-book DIR] [-desks buyer|all]")
	folder := f.String("book", "rules", "folder of the book")
	out := f.String("out", "", "folder to write the site to; made if it is not there")
	desksName := f.String("desks", "buyer", "buyer writes the public page alone; all adds the show's and the yard's, "+
		"whose costs anybody can then read")
	if err := parse(f, args); err != nil {
		return err
	}
	if *out == "" {
		return usageError{fmt.Errorf("publish: where to? Give -out DIR")}
	}
	desks := []pack.Desk{pack.Buyer}
	switch *desksName {
	case "buyer":
	case "all":
		desks = pack.Desks
	default:
		return usageError{fmt.Errorf("publish: -desks is buyer or all, not %q", *desksName)}
	}
	packs, err := load(c, *folder)
	if err != nil {
		return err
	}
	s, err := buildSite(ctx, c, packs, desks)
	if err != nil {
		return err
	}
	done, err := s.publish(ctx, *out)
	if err != nil {
		return err
	}
	total := 0
	for _, text := range s {
		total += len(text)
	}
	fmt.Fprintf(c.out, "Wrote %d files, %d kB, to %s.\n", len(s), total/1000, *out)
	if done.removed+done.left > 0 {
		fmt.Fprintf(c.out, "Of the edition before, %d files made room; %d files of others stay.\n", done.removed,
			done.left)
	}
	if len(desks) > 1 {
		c.progress("Warning: show.html and yard.html hold costs, rates, margins and suppliers, which anybody who can " +
			"reach them can read. Put them only where the yard alone can.")
	}
	return nil
}
