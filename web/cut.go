package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"ribband/core/cutfiles"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// cutBoat writes what the cutting table reads of a boat into a folder: of each roll and each sheet a DXF and an SVG. A
// file of the same name is written over, so that a changed boat leaves no piece of the old one; one that the boat no
// longer has is left for a person to take away, since nothing says that this command wrote it.
func cutBoat(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "cut", "cut -spec FILE -out DIR [-book DIR] [-language TAG] [-details FILE]")
	specFile := f.String("spec", "", "spec of the boat, as JSON; - reads standard input")
	out := f.String("out", "", "folder for the files, made if it is not there")
	language := f.String("language", "", "of what is written on the pieces, one of the book's; none: its first")
	detailsFile := f.String("details", "", "number of the quotation and so on, as JSON; the number is written on the "+
		"pieces")
	// flags first: a book takes seconds to load
	if err := f.parse(args); err != nil {
		return err
	}
	// no folder of its own choice: the files would lie where nobody looks for them
	if *specFile == "" || *out == "" {
		return f.wrong("which boat, and where to? Give -spec FILE, or -spec - for standard input, and -out DIR")
	}
	s, err := readSpec(c, *specFile)
	if err != nil {
		return err
	}
	packs, err := load(c, f.book)
	if err != nil {
		return err
	}
	// the yard's desk alone has lines; the show desk knows sizes, for their price
	e, err := engineIn(packs[pack.Yard], *language)
	if err != nil {
		return fmt.Errorf("writing the files of a cutting table: %w", err)
	}
	a, err := boatOf(e, s, *specFile)
	if err != nil {
		return err
	}
	// the number alone gets onto the pieces; nothing is sold by these files
	q := quote.Draft(e, a)
	if *detailsFile != "" {
		if q, err = frozen(e, a, *detailsFile); err != nil {
			return err
		}
	}
	// by the sheet, so that what is written is what it shows
	y := sheet.ForYard(e, a, q.Details)
	// what could not be laid is no file, and somebody would miss it at the table
	faults := false
	for _, cut := range y.Cuts {
		if faults = faults || !cut.Fault.Empty(); !cut.Fault.Empty() {
			c.progress("%s is not laid: %s", cut.Title, e.Language().Text(cut.Fault))
		}
	}
	// an empty folder would be taken for a boat that is done
	boat := y.Hull
	if q.Number != "" {
		boat = q.Number + ", " + boat
	}
	files, err := cutfiles.Files(e.Language(), y.Cuts, boat)
	if err != nil {
		return fmt.Errorf("writing the files of a cutting table: %w", err)
	}
	// made at last, so that a command that fails leaves no empty folder
	if err := os.MkdirAll(*out, 0o777); err != nil {
		return err
	}
	// named on standard output, so that a script can take them on
	for _, file := range files {
		if err := os.WriteFile(filepath.Join(*out, file.Name), file.Content, 0o666); err != nil {
			return err
		}
		fmt.Fprintln(c.out, filepath.Join(*out, file.Name))
	}
	// the others are written all the same: the table need not wait for them
	if faults {
		return errFaults
	}
	return nil
}
