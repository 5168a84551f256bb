package main

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/pack"
	"ribband/core/publish"
)

// looking is who looks at a book from the command line: a desk, and of a dealer's which one.
type looking struct {
	flags  *flags
	desk   *string
	dealer *string
}

// who adds the flag of the dealer to that of the desk.
func (f *flags) who(desk *string) *looking {
	return &looking{f, desk, f.String("dealer", "", "with -desk dealer: which one, by its id in the book; none: the "+
		"only one")}
}

// anyDesk is the flag of the desk where each kind will do.
func (f *flags) anyDesk() *string {
	return oneOf(f, "desk", "who is looking", "buyer", "dealer", "show", "yard")
}

// A dealer's desk is one of its own, since he must not open the terms of another: the id stands in its name, and in the
// names of its files.

// of is the desk among those of a book or a site.
func (l *looking) of(desks []pack.Desk) (pack.Desk, error) {
	// in the order of the book, which is also that in which they are named to choose from
	var dealers []string
	for _, d := range desks {
		if d.Kind() == pack.Dealer {
			dealers = append(dealers, strings.TrimPrefix(string(d), string(pack.DeskOfDealer(""))))
		}
	}
	desk := pack.Desk(*l.desk)
	switch {
	case desk != pack.Dealer && *l.dealer != "":
		return "", l.flags.wrong("-dealer %q is of the desk of a dealer; give -desk dealer with it", *l.dealer)
	case desk != pack.Dealer:
		return desk, nil
	// not a slip of the flags: the book or the site has none
	case len(dealers) == 0:
		return "", fmt.Errorf("finding the dealer's desk: no dealer is there; name one under dealers: in the book, " +
			"or give another -desk")
	// to guess would show one dealer the terms of another
	case *l.dealer == "" && len(dealers) > 1, *l.dealer != "" && !slices.Contains(dealers, *l.dealer):
		return "", l.flags.wrong("which dealer? Give -dealer %s", strings.Join(dealers, " or "))
	case *l.dealer == "":
		return pack.DeskOfDealer(dealers[0]), nil
	}
	return pack.DeskOfDealer(*l.dealer), nil
}

// pack is the pack of the desk.
func (l *looking) pack(packs publish.Packs) (*pack.Pack, error) {
	d, err := l.of(packs.Desks())
	return packs[d], err
}
