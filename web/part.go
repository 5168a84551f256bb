package main

import (
	"fmt"
	"strconv"
	"strings"
)

// A long list can be worked off by several machines, or by one after the other: each takes a part and writes it, and
// merge joins what they wrote.

// part is one of several parts of a long list, counted from 1: every so-manieth of it, so that parts take about as
// long.
type part struct{ number, of int }

// whole is all of a list: what a command does where nobody asks for a part.
var whole = part{1, 1}

// has says whether a place of the list, from 0, is in the part.
func (p part) has(i int) bool { return i%p.of == p.number-1 }

// parsePart reads 3/16.
func parsePart(text string) (part, error) {
	// more parts than files of a folder are allowed: the last ones are empty
	a, b, _ := strings.Cut(text, "/")
	n, err := strconv.Atoi(a)
	of, err2 := strconv.Atoi(b)
	if err != nil || err2 != nil || n < 1 || of < n || of > 10_000 {
		return part{}, fmt.Errorf("%q is no part; write 3/16 for the third of sixteen", text)
	}
	return part{n, of}, nil
}
