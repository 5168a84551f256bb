package main

import (
	"context"
	"fmt"
	"strings"

	"ribband/core/pack"
)

// publishSite writes the site for any static host. The default is the public page alone; whoever asks for all is told
// what that gives away.
func publishSite(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "publish", "publish -out DIR [-book DIR] [-desks buyer|all] [-show-phrase FILE] "+
		"[-yard-phrase FILE] [-dealer-phrase ID=FILE]... [-unsealed] [-orders DIR [-day YYYY-MM-DD]] "+
		"[-report [-since SITE]]")
	// what lies open and what is sealed, before anybody publishes what he cannot take back
	f.about = "Writes the site into a folder that any web host can serve. The buyer's page holds prices and no cost. " +
		"With -desks all the salespeople's, the yard's and the dealers' pages lie beside it, sealed: what the yard " +
		"pays, its margins and hours can be read only with the pass " +
		"phrase. A phrase comes from the terminal or from a file that you " +
		"alone can read, never from the command line. Make it long, and give each desk another: whoever copies " +
		"a sealed file can try phrases at home. go run ./web seal changes a phrase."
	out := f.String("out", "", "folder to write the site to; made if it is not there")
	which := oneOf(f, "desks", "the public page alone, or the show's, the yard's and the dealers' as well, sealed "+
		"with a pass phrase each",
		"buyer", "all")
	files := map[pack.Desk]*string{
		pack.Show: f.String("show-phrase", "", "file with the pass phrase of the show's desk, which you alone can "+
			"read; "+
			"without it you are asked"),
		pack.Yard: f.String("yard-phrase", "", "file with the pass phrase of the yard's desk, likewise")}
	dealers := f.list("dealer-phrase", "dealer and file with the pass phrase of his desk, as ID=FILE, likewise")
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
	// files by desk, whatever flag named them; whether there is such a dealer the book says later
	for _, s := range *dealers {
		id, file, ok := strings.Cut(s, "=")
		if !ok || id == "" || file == "" {
			return f.wrong("-dealer-phrase %q names no dealer and file; write ID=FILE", s)
		}
		files[pack.DeskOfDealer(id)] = &file
	}
	// Asked before the book is loaded and the engine built, so that nobody has to wait beside the terminal. Which
	// dealers there are the book has to say first.
	sealed := phrases{}
	private := *which == "all" && !*unsealed
	if private {
		if err := sealed.ask(c, files, pack.Show, pack.Yard); err != nil {
			return err
		}
	}
	packs, err := load(c, f.book)
	if err != nil {
		return err
	}
	// a phrase for nobody is mostly a slip in the name, and the desk that was meant would be asked for
	for d := range files {
		if packs[d] == nil {
			return f.wrong("the book in %s has no dealer whose desk is %s", f.book, mainPage(d))
		}
	}
	// The buyer alone is the default, because it can be undone: what was once public stays public.
	desks := []pack.Desk{pack.Buyer}
	if *which == "all" {
		desks = packs.Desks()
	}
	if private {
		if err := sealed.ask(c, files, desks[len(pack.Desks):]...); err != nil {
			return err
		}
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

// ask takes the phrases of some desks from their files, or from the terminal where none is given.
func (p phrases) ask(c *console, files map[pack.Desk]*string, desks ...pack.Desk) (err error) {
	for _, d := range desks {
		file := ""
		if files[d] != nil {
			file = *files[d]
		}
		if p[d], err = phraseFor(c, mainPage(d), file, true); err != nil {
			return err
		}
	}
	return nil
}
