package publish

import (
	"fmt"
	"io/fs"
	"slices"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/engine"
	"ribband/core/pack"
)

// Counts is how large a book is. Rules include those that options state as requires and excludes.
type Counts struct {
	// Boats that the yard moulds.
	Hulls int `json:"hulls"`
	// Places in a boat, on any of its hulls.
	Slots int `json:"slots"`
	// What can stand in them, of all slots together.
	Options int `json:"options"`
	// What must hold of a boat, links of options among it.
	Rules int `json:"rules"`
	// What the yard buys; those of laminates are among them.
	Materials int `json:"materials"`
	// Steps of the build, of all shops together.
	Operations int `json:"operations"`
}

// Packs are the packs of all desks of a book without errors: one for each desk of every book, and for each dealer.
type Packs map[pack.Desk]*pack.Pack

// Desks are those of the packs in one order: [pack.Desks], then those of the dealers in the order of the book.
func (p Packs) Desks() []pack.Desk { return desksOf(p[pack.Yard]) }

// desksOf are the desks of a book by the yard's pack.
func desksOf(yard *pack.Pack) []pack.Desk {
	list := slices.Clone(pack.Desks)
	for _, d := range yard.Costs.Dealers {
		list = append(list, pack.DeskOfDealer(d.ID))
	}
	return list
}

// Load reads, checks and compiles the book in a folder, to the packs of all desks; nil where an error is among the
// diagnostics. The error says that the folder cannot be read; whatever is wrong with the book is a diagnostic, and all
// of it is told at once: what a fault hides is only what follows from it.
func Load(folder fs.FS) (Packs, Counts, []book.Diagnostic, error) {
	return LoadAgain(folder, new(source.Cache), Whole)
}

// Whole goes on whatever was found first: see [LoadAgain].
func Whole([]book.Diagnostic) bool { return true }

// LoadAgain is Load for whoever waits for it at each save: files that have not changed are not parsed again, and what
// is wrong with texts, names and formulas is told before boats are built, which takes longer. Where the first is no
// longer asked for it goes no further, and gives what was found by then without packs.
func LoadAgain(folder fs.FS, files *source.Cache, first func([]book.Diagnostic) bool) (Packs, Counts,
	[]book.Diagnostic, error) {
	b, read, err := files.Read(folder)
	if err != nil {
		return nil, Counts{}, nil, err
	}
	// counts are known all the same, and tell the owner that the right folder was read
	if len(book.Errors(read)) > 0 && b.Unread() {
		return nil, countsOf(b), read, nil
	}
	packs, counts, made := makePacks(b, read, func(made []book.Diagnostic) bool {
		return first(b.Report(slices.Concat(read, made)))
	})
	return packs, counts, b.Report(append(read, made...)), nil
}

// countsOf counts what a book states. Rules are counted anew by the compiler, which makes some of links.
func countsOf(b *book.Book) Counts {
	counts := Counts{Hulls: len(b.Hulls), Slots: len(b.Slots), Rules: len(b.Rules), Materials: len(b.Materials),
		Operations: len(b.Operations)}
	for _, s := range b.Slots {
		counts.Options += len(s.Options)
	}
	return counts
}

// Make checks and compiles a book in which [book.Book.Validate] found no error, to the packs of all desks; nil where an
// error is among the diagnostics, which are those of compiling alone.
func Make(b *book.Book) (Packs, Counts, []book.Diagnostic) {
	return makePacks(b, nil, func([]book.Diagnostic) bool { return true })
}

// makePacks is Make of a book of which reading has told some faults. Formulas and units are checked in all of it, what
// is built of it in the part that is sound, unless first says that nobody waits for that any more.
func makePacks(b *book.Book, read []book.Diagnostic, first func([]book.Diagnostic) bool) (Packs, Counts,
	[]book.Diagnostic) {
	counts := countsOf(b)
	yard, diagnostics := Compile(b)
	diagnostics = withoutFollowing(b, diagnostics, book.Errors(read))
	diagnostics = append(diagnostics, checkUnits(b)...)
	counts.Rules = len(yard.Rules)
	if !first(diagnostics) {
		return nil, counts, diagnostics
	}
	diagnostics = append(diagnostics, tryOut(b, yard, append(book.Errors(read), book.Errors(diagnostics)...))...)
	// nothing is made of a book with errors: a pack that is nearly right is the most dangerous one
	if len(book.Errors(read)) > 0 || len(book.Errors(diagnostics)) > 0 {
		return nil, counts, b.Report(diagnostics)
	}
	speak(yard, b)
	packs := Packs{}
	for _, desk := range desksOf(yard) {
		packs[desk] = For(yard, desk)
	}
	return packs, counts, b.Report(diagnostics)
}

// withoutFollowing leaves out what compiling says of an entry in which something else is wrong, but for its formulas: a
// layout without a stock cannot be laid, which is no second fault.
func withoutFollowing(b *book.Book, list, before []book.Diagnostic) []book.Diagnostic {
	// by the begin of the entry, since a fault and what follows from it seldom stand in one place
	faulty, hulls := map[book.Position]bool{}, false
	for _, d := range before {
		if s, ok := b.SpotOf(d.Position); ok {
			faulty[s.At] = true
			hulls = hulls || slices.Contains([]string{"hulls", "hull_fields", "offsets"}, s.Key)
		}
	}
	return slices.DeleteFunc(list, func(d book.Diagnostic) bool {
		s, ok := b.SpotOf(d.Position)
		// what is cut and laid up goes by the hull
		sized := hulls && slices.Contains([]string{"cuts", "laminates", "figures"}, s.Key)
		formula := d.Width > 0
		return !formula && len(before) > 0 && (!ok || faulty[s.At] || sized)
	})
}

// tryOut builds the boats of a book and lists its prices. Of a book with faults it takes the part that is sound, and
// less of it from step to step: a boat that clashes has no prices that are worth listing.
func tryOut(b *book.Book, yard *pack.Pack, faults []book.Diagnostic) (diagnostics []book.Diagnostic) {
	whole := b.Edition.Name.At
	for _, step := range []func(*pack.Pack, *book.Book) []book.Diagnostic{checkStandards, listPrices} {
		tried, part := b, len(faults) > 0
		if part {
			if tried, yard = soundPart(b, faults); tried == nil {
				return diagnostics
			}
		}
		// each step sees less of the book, so that nothing is told of a boat that clashed in the last one
		found := step(yard, tried)
		for i := range found {
			// what a pack as a whole fails by has no place: the edition stands for the book
			if found[i].File == "" {
				found[i].Position = whole
			}
		}
		// of a part of a book it says nothing
		found = slices.DeleteFunc(found, func(d book.Diagnostic) bool { return part && d.Position == whole })
		diagnostics, faults = append(diagnostics, found...), append(faults, book.Errors(found)...)
	}
	return diagnostics
}

// listPrices lists the sell prices, and says which options have none.
func listPrices(yard *pack.Pack, b *book.Book) []book.Diagnostic {
	found := Tabulate(yard)
	if len(book.Errors(found)) > 0 {
		return found
	}
	return append(found, givenFree(yard, b)...)
}

// speak adds to the yard's pack the words of the book's other languages, each compiled as a book of its own.
func speak(yard *pack.Pack, b *book.Book) {
	if len(b.Languages) == 0 {
		return
	}
	for i, l := range b.Languages {
		yard.Languages = append(yard.Languages, l.Value)
		if i == 0 {
			continue
		}
		other, _ := Compile(b.In(l.Value)) // the same formulas, which have compiled
		other.Edition.Digest, other.Prices = yard.Edition.Digest, yard.Prices
		other.Costs.Digest, other.Work.Digest = yard.Costs.Digest, yard.Work.Digest
		if err := yard.Translate(l.Value, other); err != nil { // a language changes words alone
			panic("publishing a book: " + err.Error())
		}
	}
	takeDigests(yard)
}

// checkStandards reports what clashes in a standard build as the book lists it, for the use that the book assumes, and
// what no filling of the slots could mend for some region; and whatever of them cannot be computed.
func checkStandards(yard *pack.Pack, b *book.Book) []book.Diagnostic {
	engine, err := engine.Compile(yard)
	if err != nil {
		return []book.Diagnostic{{Position: b.Edition.Name.At, Message: err.Error(), Advice: "see the place named"}}
	}
	// what is implausible is told first: a wrong mass is often why a standard build clashes
	diagnostics := append(circuitDiagnostics(engine, b), implausible(engine, b)...)
	diagnostics = append(diagnostics, noRoom(engine, b)...)
	at := places(b)
	for h, hull := range b.Hulls {
		// one try: as it is, without mending
		listed := engine.Fit.Complete(h, engine.StandardUse(), engine.Fit.NewChoices(), 1)
		for _, c := range listed.Clashes {
			diagnostics = append(diagnostics, clashDiagnostic(engine, at,
				fmt.Sprintf("the standard build of %s clashes as it is listed", hull.ID), h, c, listed.State))
		}
		// the clash is the same for every region, and has been said
		if len(listed.Clashes) > 0 {
			continue
		}
		regions := []string{""}
		if yard.RegionField >= 0 {
			regions = nil
			// what a boat must have goes by where it goes: the standard build has to exist for each region
			for _, r := range yard.Regions {
				regions = append(regions, r.ID)
			}
		}
		for _, region := range regions {
			diagnostics = append(diagnostics, standardFaults(engine, at, h, region)...)
		}
	}
	return diagnostics
}

// standardFaults are what clashes in the standard build for a region when its slots are filled as well as can be. A
// slot that the listed build fills wrongly for a region may be filled otherwise there; only what no filling mends is an
// error.
func standardFaults(e *engine.Engine, at positions, hull int, region string) (faults []book.Diagnostic) {
	where := ""
	if region != "" {
		where = " for region " + region
	}
	a, err := e.AnswerStandard(hull, region)
	if err != nil {
		message := fmt.Sprintf("the standard build of %s%s cannot be computed: %v", e.Pack.Hulls[hull].ID, where, err)
		return []book.Diagnostic{{Position: at.hulls[hull], Message: message, Advice: "mend what is named"}}
	}
	for _, c := range a.Build.Clashes {
		faults = append(faults, clashDiagnostic(e, at,
			fmt.Sprintf("the standard build of %s%s clashes", e.Pack.Hulls[hull].ID, where), hull, c, a.Build.State))
	}
	return faults
}
