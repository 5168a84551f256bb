package main

import (
	"context"
	"fmt"

	"ribband/core/pack"
)

// publishSite writes the site for any static host. The default is the public page alone; whoever asks for all is told
// what that gives away.
func publishSite(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "publish", "publish -out DIR [-book DIR] [-desks buyer|all]")
	out := f.String("out", "", "folder to write the site to; made if it is not there")
	which := oneOf(f, "desks", "the public page alone, or the show's and the yard's as well, whose costs anybody can "+
		"then read", "buyer", "all")
	if err := f.parse(args); err != nil {
		return err
	}
	if *out == "" {
		return f.wrong("where to? Give -out DIR")
	}
	// The buyer alone is the default, because it can be undone: what was once public stays public.
	desks := []pack.Desk{pack.Buyer}
	if *which == "all" {
		desks = pack.Desks
	}
	packs, err := load(c, f.book)
	if err != nil {
		return err
	}
	s, err := buildSite(ctx, c, packs, desks)
	if err != nil {
		return err
	}
	// Ctrl-C is heard between two files, and leaves what was there.
	done, err := s.publish(ctx, *out)
	if err != nil {
		return err
	}
	// What a visitor downloads is less: one desk, and the schemas only where they are asked for.
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
