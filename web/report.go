package main

import (
	"fmt"
	"io"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"ribband/core/pack"
)

// What the public page tells a competitor is decided by the owner, who has to know it first. The report reads what
// anybody can load, the buyer's pack, and nothing else; what it says of two editions, anybody who kept the older one
// can work out.

// Why offsets are as fine as the book has them: hydrostatics, stability and the lines plan are computed in the page
// from these alone, and a buyer's figures must be those of the yard. Coarser ones would draw another boat than is sold.
// An owner who will not show a hull's lines leaves its offsets out of the book, and states its figures instead.
//
// Of a laminate the public pack has what the book has a figure of, such as the mass of the shell, from which the weight
// of the boat follows on every desk; nothing else.

// packPlace is where a page names its pack.
var packPlace = regexp.MustCompile(` data-pack="([^"]+)"`)

// publicPack reads the buyer's pack of a published site, as a competitor would: from the page to the file that it
// names. A folder that holds no site is an error that says so.
func publicPack(dir string) (*pack.Pack, error) {
	page, err := os.ReadFile(filepath.Join(dir, mainPage(pack.Buyer)))
	if err != nil {
		return nil, fmt.Errorf("reading the site of before: %w", err)
	}
	name := packPlace.FindSubmatch(page)
	if name == nil {
		return nil, fmt.Errorf("reading the site of before: %s names no pack; give the folder of a published site", dir)
	}
	stored, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(string(name[1]))))
	if err != nil {
		return nil, fmt.Errorf("reading the site of before: %w", err)
	}
	text, err := inflate(stored)
	if err != nil {
		return nil, fmt.Errorf("reading the site of before: %w", err)
	}
	return pack.Decode(text)
}

// priced are the prices of an option in the order of hulls and tables, as fractions: no rounding of ours may look like
// a movement of the yard's.
func priced(tables []pack.Table) (list []*big.Rat) {
	for _, t := range tables {
		for _, p := range t.Prices {
			if r, ok := new(big.Rat).SetString(p.String()); ok {
				list = append(list, r)
			}
		}
	}
	return list
}

// tellPublic says in plain words what can be learnt from the public page, and with the page of before from both.
func tellPublic(w io.Writer, now, before *pack.Pack) {
	// A table without axes is one price; with them it lists how the price follows other choices.
	listed, varying := 0, 0
	for _, tables := range now.Prices.Options {
		listed += len(priced(tables))
		if slices.ContainsFunc(tables, func(t pack.Table) bool { return len(t.Axes) > 0 }) {
			varying++
		}
	}
	fmt.Fprintf(w, "What anybody can learn from this site, price book %s:\n", now.Edition.Name)
	fmt.Fprintf(w, "- The price of each of %d options, %d prices in all, and of %d base "+
		"boats.\n", len(now.Options), listed,
		len(now.Hulls))
	fmt.Fprintf(w, "- %d options cost more or less with other choices. Those differences tell how their cost grows "+
		"with "+
		"what they depend on.\n", varying)
	for _, h := range now.Hulls {
		points := 0
		for _, s := range h.Offsets {
			points += len(s.Z)
		}
		fmt.Fprintf(w, "- The lines of the %s: %d stations, %d points, as fine as the book has them. Floating, "+
			"stability "+
			"and drawing are computed from them in the page; whoever wants the hull can build from them.\n", h.Title,
			len(h.Offsets), points)
		if l := h.Layup; l != nil {
			fmt.Fprintf(w, "- Of its laminate %s. Glass, resin and the schedule are not there.\n", laminateKnown(l))
		}
	}
	if l := now.LaunchWeeks; l != nil {
		tellLaunches(w, now, l)
	}
	if before != nil {
		reportSince(w, now, before)
	}
}

// tellLaunches says what whole weeks of launches tell: how full the yard is, and which options hold it up.
func tellLaunches(w io.Writer, now *pack.Pack, l *pack.LaunchWeeks) {
	later := 0
	for _, weeks := range l.Options {
		if weeks > 0 {
			later++
		}
	}
	for i, h := range now.Hulls {
		// whoever keeps these sees the order book fill and empty
		fmt.Fprintf(w, "- A %s ordered on %s would be launched in about %s. Published every month, such weeks tell "+
			"how many boats the yard has in hand.\n", h.Title, l.Day, plural(l.Hulls[i], "week"))
	}
	// none of the weeks says in which shop
	fmt.Fprintf(w, "- %d of %d options make a launch a week or more later, each by itself. Hours are not there.\n",
		later, len(l.Options))
}

// laminateKnown says what anybody can read of a lay-up. An owner reads it as a sentence, since a list of values would
// leave him to find out what a competitor makes of them: mass over thickness is about the area, and the schedule of a
// bottom can be guessed from its thickness.
func laminateKnown(l *pack.Layup) string {
	var known []string
	for _, v := range []struct {
		what, unit string
		value      float64
		digits     int
	}{
		{"the shell weighs", "kg", l.ShellKg, 0},
		{"the deck", "kg", l.DeckKg, 0},
		{"the bottom is", "mm thick", l.BottomMm, 1},
		{"along the keel", "mm", l.KeelMm, 1},
	} {
		// zero: the book has no figure of it, so the pack has not its value either
		if v.value > 0 {
			known = append(known, fmt.Sprintf("%s %.*f %s", v.what, v.digits, v.value, v.unit))
		}
	}
	return strings.Join(known, ", ")
}

// Options are known by their identifiers, which an owner keeps from edition to edition, as links and quotations need.

// movement is by what share an option's price went up or down between two editions.
type movement struct {
	title string
	share *big.Rat
	by    *big.Rat // the amount
}

// movements compares the prices of options that both editions have, in the order of the new one.
func movements(now, before *pack.Pack) (moved []movement, still int) {
	for i, o := range now.Options {
		j := slices.IndexFunc(before.Options, func(b pack.Option) bool { return b.ID == o.ID })
		if j < 0 {
			continue
		}
		a, b := priced(before.Prices.Options[j]), priced(now.Prices.Options[i])
		if len(a) != len(b) { // it depends on other things: no pairs to compare
			continue
		}
		// The first price that moved stands for the option: on other hulls it moves by what it has there.
		k := 0
		for k < len(a) && (a[k].Sign() <= 0 || a[k].Cmp(b[k]) == 0) {
			k++
		}
		if k == len(a) {
			still++
			continue
		}
		by := new(big.Rat).Sub(b[k], a[k])
		moved = append(moved, movement{o.Title, new(big.Rat).Quo(by, a[k]), by})
	}
	return moved, still
}

// reportSince says what two editions tell beside each other. It does not say which rate or supplier moved: that nobody
// outside can know for sure, but whoever knows the trade can guess.
func reportSince(w io.Writer, now, before *pack.Pack) {
	moved, still := movements(now, before)
	fmt.Fprintf(w, "Beside the site of before, price book %s:\n", before.Edition.Name)
	fmt.Fprintf(w, "- %d options moved in price, %d did not.\n", len(moved), still)
	if len(moved) == 0 {
		return
	}
	fmt.Fprintln(w, "- If the rate of one shop moved alone, the amounts below stand to each other as the hours of "+
		"that "+
		"shop in them. If a supplier's list moved by a share that is known, the amount over that share is what the "+
		"supplier gets, and the rest of the price is the yard's mark-up.")
	slices.SortStableFunc(moved, func(a, b movement) int { return new(big.Rat).Abs(b.by).Cmp(new(big.Rat).Abs(a.by)) })
	// The largest alone: who wants all of them has both packs.
	for _, m := range moved[:min(10, len(moved))] {
		share, _ := new(big.Rat).Mul(m.share, big.NewRat(100, 1)).Float64()
		fmt.Fprintf(w, "  %s: %s, %+.1f %%\n", m.title, m.by.FloatString(2), share)
	}
	// A step hides a change of less than half of it, most times.
	for _, step := range []int64{10, 50, 100} {
		hidden := 0
		for _, m := range moved {
			if new(big.Rat).Abs(m.by).Cmp(big.NewRat(step, 2)) < 0 {
				hidden++
			}
		}
		fmt.Fprintf(w, "- A price step of %d would hide about %d of the %d.\n", step, hidden, len(moved))
	}
}
