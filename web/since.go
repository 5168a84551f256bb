package main

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"path"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/proof"
	"ribband/core/publish"
	"ribband/core/spec"
)

// lastProved is the last book that was proved without errors: what it said, and boats by what could be had.
type lastProved struct {
	Items map[string]string               `json:"items"` // digests by name
	Had   map[string]map[string]spec.Spec `json:"had"`   // by hull and option
}

// What is told rests on what the book says and not on when its files were saved: an edit that was taken back is none.

// since is what has changed since that book, and what broke by it. It is told beside the report and not in it, which
// stays that of a book alone.
type since struct {
	changed []publish.Item
	gone    []string
	items   []publish.Item
	last    *lastProved
}

// sinceLast compares the book in a folder with the one that was last proved without errors.
func sinceLast(folder string, files *source.Cache, last *lastProved) (*since, error) {
	items, err := publish.Items(os.DirFS(folder), files)
	if err != nil {
		return nil, err
	}
	s := &since{items: items, last: last}
	if last == nil {
		return s, nil
	}
	there := map[string]bool{}
	for _, i := range items {
		// what is new has no digest to compare with, and counts as changed
		there[i.Name()] = true
		if last.Items[i.Name()] != i.Digest {
			s.changed = append(s.changed, i)
		}
	}
	// what was taken out has no place left; its name has to do
	for _, name := range slices.Sorted(maps.Keys(last.Items)) {
		if !there[name] {
			s.gone = append(s.gone, name)
		}
	}
	return s, nil
}

// Operations, materials and figures have no questions of their own, but for the formulas in which they stand: what else
// follows from them is asked anew where that makes a difference.

// first says whether a subject of questions was changed: a rule, an option or what it costs, a field of the use, or a
// formula of something that was.
func (s *since) first(subject string) bool {
	return slices.ContainsFunc(s.changed, func(i publish.Item) bool { return concerns(subject, i.ID) })
}

// concerns says whether a subject of questions is about something of the book. Its name says so; see package proof.
func concerns(subject, id string) bool {
	formula, is := strings.CutPrefix(subject, "formula ")
	if !is {
		return subject == "rule "+id || subject == "option "+id || subject == "boats of "+id ||
			strings.HasPrefix(subject, "use "+id+" ")
	}
	// the last word is whose, and the last before it of what: "hours of sew-canvas of option bimini"
	formula, _, _ = strings.Cut(formula, ", ") // the second of two that are called alike
	at := max(0, strings.LastIndex(formula, " of "))
	return strings.HasSuffix(formula, " "+id) || strings.HasSuffix(" "+formula[:at], " "+id)
}

// An option that the owner took out is gone, and no longer an option that cannot be had; a new one never was to be had.

// tell writes what was changed, with its place, and which options can no longer be had, each with a boat that had it.
func (s *since) tell(w io.Writer, folder string, p *proof.Proof) {
	if s.last == nil {
		return
	}
	for _, i := range s.changed {
		fmt.Fprintf(w, "%s:%d:%d: changed since the last book without errors: %s\n", path.Join(folder, i.Position.File),
			i.Position.Line, i.Position.Column, i.Name())
	}
	for _, name := range s.gone {
		fmt.Fprintf(w, "gone since the last book without errors: %s\n", name)
	}
	for h := range p.Hulls {
		for _, n := range p.Hulls[h].Never {
			if boat, had := s.last.Had[p.Hulls[h].ID][n.Option]; had {
				text, _ := json.Marshal(boat) // a spec always marshals
				fmt.Fprintf(w, "no longer to be had on %s: %s, by %s\n    a boat that had it: %s\n", p.Hulls[h].ID,
					n.Option, n.Why, text)
			}
		}
	}
}

// A book with errors is compared and not noted: until it is mended the list stays as long as what was changed.

// proved notes the book as the last one, where nothing is wrong with it.
func (s *since) proved(r *CheckReport) *lastProved {
	if r.of(book.Error) > 0 {
		return s.last
	}
	last := &lastProved{map[string]string{}, map[string]map[string]spec.Spec{}}
	for _, i := range s.items {
		last.Items[i.Name()] = i.Digest
	}
	for _, h := range r.Proof.Hulls {
		last.Had[h.ID] = map[string]spec.Spec{}
		for _, w := range h.Options {
			last.Had[h.ID][w.Option] = w.Spec
		}
	}
	return last
}
