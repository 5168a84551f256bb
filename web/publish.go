package main

import (
	"context"
	"fmt"

	"ribband/core/pack"
)

// publishSite writes the site for any static host. The default is the public page alone; whoever asks for all is told
// what that gives away.
func publishSite(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "publish", "publish -out DIR [-book DIR] [-desks buyer|all] [-show-phrase FILE] "+
		"[-yard-phrase FILE] [-unsealed] [-orders DIR [-day YYYY-MM-DD]] [-report [-since SITE]]")
	f.about = "Writes the site into a folder that any web host can serve. The buyer's page holds prices and no cost. " +
		"With -desks all the salespeople's and the yard's pages lie beside it, sealed: what the yard pays, its " +
		"margins " +
		"and hours can be read only with the pass phrase. A phrase comes from the terminal or from a file that you " +
		"alone can read, never from the command line. Make it long, and give the two desks one each: whoever copies " +
		"a sealed file can try phrases at home. go run ./web seal changes a phrase."
	out := f.String("out", "", "folder to write the site to; made if it is not there")
	which := oneOf(f, "desks", "the public page alone, or the show's and the yard's as well, sealed with a pass "+
		"phrase each",
		"buyer", "all")
	files := map[pack.Desk]*string{
		pack.Show: f.String("show-phrase", "", "file with the pass phrase of the show's desk, which you alone can "+
			"read; "+
			"without it you are asked"),
		pack.Yard: f.String("yard-phrase", "", "file with the pass phrase of the yard's desk, likewise")}
	unsealed := f.Bool("unsealed", false, "with -desks all: leave costs and margins open to whoever reaches the site")
	folder, day := ordersFlags(f)
	tells := f.Bool("report", false, "say in plain words what anybody can learn from the public page")
	since := f.String("since", "", "with -report: folder of a site of before; also what both tell beside each other")
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
	// Asked before the book is loaded and the engine built, so that nobody has to wait beside the terminal.
	sealed := phrases{}
	for _, d := range desks {
		if d == pack.Buyer || *unsealed {
			continue
		}
		var err error
		if sealed[d], err = phraseFor(c, pageNames[d], *files[d], true); err != nil {
			return err
		}
	}
	packs, err := load(c, f.book)
	if err != nil {
		return err
	}
	// before the report, which says what the weeks of launches give away
	if *folder != "" {
		if err := tellOrders(c, f, packs, *folder, *day); err != nil {
			return err
		}
	}
	s, err := buildSite(ctx, c, packs, desks, sealed, true)
	if err != nil {
		return err
	}
	// The site of before may be the one that is about to be replaced.
	if *tells {
		var before *pack.Pack
		if *since != "" {
			if before, err = publicPack(*since); err != nil {
				return err
			}
		}
		tellPublic(c.out, packs[pack.Buyer], before)
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
	// What is gone and what stays can be checked against the folder.
	if done.removed+done.left > 0 {
		fmt.Fprintf(c.out, "Of the edition before, %d files made room; %d files of others stay.\n", done.removed,
			done.left)
	}
	// Said again after the work, where it is read, and not only in the help.
	if len(desks) > 1 && *unsealed {
		c.progress("WARNING: NOT SEALED. show.html and yard.html hold costs, rates, margins and suppliers, which "+
			"anybody who can reach %s can read. Put it only where the yard alone can, or publish without -unsealed.",
			*out)
	}
	return nil
}
