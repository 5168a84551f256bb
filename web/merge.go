package main

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"ribband/core/editions"
)

// Parts of a long list that several machines worked off are joined to what one of them would have written: the same
// bytes. What a file is a part of it says by its kind.

// What is joined must be of one book: the digest in each part says which, and a part by another is refused. What a part
// told on standard error of files that it could not read is in its JSON, too, and comes into the whole.

// mergers join the parts of a kind, each given as the text of a file, by the names of the files.
var mergers = map[string]func(c *console, names []string, texts [][]byte) error{requoteKind: mergeRequotes}

// mergeParts joins the parts of a long list.
func mergeParts(_ context.Context, c *console, args []string) error {
	f := newBookless(c, "merge", "merge FILE…")
	f.about = "Joins parts that a command wrote with -part to the whole, byte for byte."
	if err := f.read(args); err != nil {
		return err
	}
	// files stand behind the flags, as a shell fills them in
	names := f.Args()
	if len(names) == 0 {
		return f.wrong("which parts? Give their files")
	}
	var texts [][]byte
	kind := ""
	for _, name := range names {
		text, err := readFile(c, name)
		if err != nil {
			return err
		}
		// only the kind is asked here; whoever joins it knows the rest
		var head struct {
			Kind string `json:"kind"`
		}
		if err := json.Unmarshal(text, &head); err != nil || mergers[head.Kind] == nil {
			return notUnderstood{fmt.Errorf("%s is no part that a command wrote with -part", name)}
		}
		if kind != "" && kind != head.Kind {
			return notUnderstood{fmt.Errorf("%s is a part of a %s, and the others are of a %s", name, head.Kind, kind)}
		}
		kind, texts = head.Kind, append(texts, text)
	}
	return mergers[kind](c, names, texts)
}

// A missing part is mostly a machine that has not finished.

// complete says what is wrong with a set of parts: one that is there twice, or lacks. Each says which of how many it
// is.
func complete(parts []string) error {
	// in any order: a shell lists 10 before 2
	seen := map[part]bool{}
	of := 0
	for _, text := range parts {
		p, err := parsePart(text)
		switch {
		case err != nil:
			return err
		case of > 0 && p.of != of:
			return fmt.Errorf("there are parts of %d and of %d", of, p.of)
		case seen[p]:
			return fmt.Errorf("the part %s is there twice", text)
		}
		seen[p], of = true, p.of
	}
	for n := 1; n <= of; n++ {
		if !seen[part{n, of}] {
			return fmt.Errorf("the part %d/%d is missing", n, of)
		}
	}
	return nil
}

// A part has sums of its own, which nobody adds up: they are made anew of all boats, as one run makes them.

// mergeRequotes joins rounds of quotations.
func mergeRequotes(c *console, names []string, texts [][]byte) error {
	all := &RequoteReport{Kind: requoteKind}
	var parts []string
	var boats []editions.Boat
	for i, text := range texts {
		var r RequoteReport
		if err := json.Unmarshal(text, &r); err != nil || r.Round == nil {
			return notUnderstood{fmt.Errorf("%s: it is damaged; write the part again", names[i])}
		}
		// parts by two books would be a list that no book gives
		if i > 0 && (r.Edition != all.Edition || r.Before != all.Before) {
			return fmt.Errorf("%s is by another book than %s; write it again by the same", names[i], names[0])
		}
		all.Edition, all.Before, all.Code = r.Edition, r.Before, r.Code
		parts, boats, all.Faults = append(parts, r.Part), append(boats, r.Boats...), append(all.Faults, r.Faults...)
	}
	// a whole with a hole in it would look like one
	if err := complete(parts); err != nil {
		return fmt.Errorf("joining: %w", err)
	}
	// by their names, as one run has them; parts hold every so-manieth, and none of them knows its neighbours
	slices.SortFunc(boats, func(x, y editions.Boat) int { return strings.Compare(x.File, y.File) })
	slices.Sort(all.Faults)
	all.Round = editions.RoundOf(boats)
	if err := all.print(c, "json"); err != nil {
		return err
	}
	if len(all.Faults) > 0 {
		return errFaults
	}
	return nil
}
