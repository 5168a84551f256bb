package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

// partFile is one of several files in which machines that know nothing of each other share a work. Kind says which
// work; what of it a part has stands beside these, and is read by its kind.
type partFile struct {
	Kind string `json:"kind"`
	Part int    `json:"part"` // from 1
	Of   int    `json:"of"`
	Book string `json:"book"` // digest of the whole book

	// where it was read, for what is told of it, and the whole of it for whoever joins parts of this kind
	file string
	text []byte
}

// proofPart is what a part of a check has.
type proofPart struct {
	partFile
	Findings map[string]*proof.Finding `json:"findings"`
}

// kinds are the works that come in parts: what merges each. All parts are there, once, and of one book; their order is
// that of their numbers.
var kinds = map[string]func(c *console, folder string, parts []partFile) error{
	"check":     mergeProof,
	requoteKind: mergeRequotes,
}

// A part of a yesterday's book would join well enough where nothing that it proves has changed; it is refused all the
// same, so that nobody has to know what a proof follows from.

// wholeBook is the digest of all of a book, prices and words too: a report has everything of it.
func wholeBook(packs publish.Packs) string { return packs[pack.Yard].Work.Digest }

// Its questions are asked as those of the whole would be, on all cores of this machine, and answered from its memory
// where it has one.

// proveShare prints one part of the proof of a book.
func proveShare(c *console, folder string, packs publish.Packs, which, cache string) error {
	mine, err := parsePart(which)
	if err != nil {
		return usageError{fmt.Errorf("-part: %w", err)}
	}
	e, err := engine.Compile(packs[pack.Yard])
	if err != nil {
		return fmt.Errorf("proving a part of the book: %w", err)
	}
	own := proofPart{partFile: partFile{Kind: "check", Part: mine.number, Of: mine.of, Book: wholeBook(packs)}}
	err = remembering(c, folder, cache, func(m *memory) (asked int, err error) {
		own.Findings, asked, err = proof.Part(e, m.how(), mine.number, mine.of)
		return asked, err
	})
	if err != nil {
		return err
	}
	return printJSON(c.out, own)
}

// The kind of the first part says what is to be joined, and that of each other has to be the same: who mixes up two
// folders of parts hears of it before anything is read further.

// merge joins parts to what the whole would have printed.
func merge(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "merge", "merge [-book DIR] FILE...")
	if err := f.read(args); err != nil {
		return err
	}
	parts, err := readParts(c, f.Args())
	if err != nil {
		return err
	}
	join, known := kinds[parts[0].Kind]
	if !known {
		return fmt.Errorf("merging %s: nobody joins parts of the kind %q", parts[0].file, parts[0].Kind)
	}
	return join(c, f.book, parts)
}

// readParts reads parts and sees that they are one whole: of one kind and book, none missing, none twice.
func readParts(c *console, files []string) ([]partFile, error) {
	if len(files) == 0 {
		return nil, usageError{errors.New("name the files of the parts")}
	}
	var list []partFile
	for _, name := range files {
		text, err := readFile(c, name)
		if err != nil {
			return nil, err
		}
		p := partFile{file: filepath.Base(name), text: text}
		if err := json.Unmarshal(text, &p); err != nil {
			return nil, fmt.Errorf("reading the part %s: %w", name, err)
		}
		if p.Part < 1 || p.Of < p.Part || p.Of > 10_000 { // as parsePart has it
			return nil, fmt.Errorf("reading the part %s: it says that it is part %d of %d", name, p.Part, p.Of)
		}
		list = append(list, p)
	}
	// The order of the files is that of a shell, in which part-10 comes before part-2.
	slices.SortStableFunc(list, func(a, b partFile) int { return a.Part - b.Part })
	first := &list[0]
	for i := range list {
		switch p := &list[i]; {
		case p.Kind != first.Kind || p.Of != first.Of:
			return nil, fmt.Errorf("merging parts: %s is one of %d of the kind %q, %s one of %d of the kind %q",
				first.file, first.Of, first.Kind, p.file, p.Of, p.Kind)
		case p.Book != first.Book:
			return nil, fmt.Errorf("merging parts: %s and %s are of different books", first.file, p.file)
		case i > 0 && p.Part == list[i-1].Part:
			return nil, fmt.Errorf("merging parts: %s and %s are both part %d", list[i-1].file, p.file, p.Part)
		}
	}
	var missing []string
	for n, i := 1, 0; n <= first.Of; n++ {
		if i < len(list) && list[i].Part == n {
			i++
		} else {
			missing = append(missing, fmt.Sprint(n))
		}
	}
	if len(missing) > 0 {
		return nil, fmt.Errorf("merging parts: of %d, missing %s", first.Of, strings.Join(missing, ", "))
	}
	return list, nil
}

// mergeProof puts the report of a check together from the answers of its parts. The book is read again, since places
// and words stand there and nowhere else; it has to be the one that was proved.
func mergeProof(c *console, folder string, parts []partFile) error {
	files := new(source.Cache)
	packs, counts, diagnostics, err := publish.LoadAgain(os.DirFS(folder), files, publish.Whole)
	if err != nil {
		return fmt.Errorf("merging the proof of %s: %w", folder, err)
	}
	r := reportOf(folder, counts, diagnostics)
	if r.of(book.Error) > 0 || wholeBook(packs) != parts[0].Book {
		return fmt.Errorf("merging the proof of %s: %s is of another book", folder, parts[0].file)
	}
	found := map[string]*proof.Finding{}
	for i := range parts {
		var p proofPart
		if err := json.Unmarshal(parts[i].text, &p); err != nil {
			return fmt.Errorf("reading the part %s: %w", parts[i].file, err)
		}
		for key, f := range p.Findings {
			found[key] = f
		}
	}
	// No question is left to this machine but those that follow from all boats together.
	how := proof.How{Given: true, Recall: func(key string) *proof.Finding { return found[key] }}
	if _, err := r.proved(folder, files, packs[pack.Yard], how); err != nil {
		return fmt.Errorf("merging the proof of %s: %w", folder, err)
	}
	return r.end(c, true, false)
}
