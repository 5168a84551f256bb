package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"regexp"
	"slices"
)

// An edition of the site is known by digests alone: of each file, of each page with all that it needs, and of the
// whole. The page tells its own, the service worker all of them, so that both can say whether they are of one edition
// without asking the host, which may be stale.

// Where a page tells its edition and the price book's, and names files of the site. Text of a book is escaped in a
// page, so that it cannot look like these.
var (
	editionPlace = regexp.MustCompile(`data-site-edition="[^"]*"`)
	bookPlace    = regexp.MustCompile(`data-price-book="([^"]*)"`)
	assetPlace   = regexp.MustCompile(`="(assets/[^"]+)"`)
)

// needs are the files that a page of the site names: the page, and these, are kept together or not at all. Of a sealed
// desk that is the sealed file, too, so that it can be opened where there is no network.
func (s site) needs(page string) (files []string) {
	for _, m := range assetPlace.FindAllSubmatch(s[page], -1) {
		if file := string(m[1]); !slices.Contains(files, file) {
			files = append(files, file)
		}
	}
	return files
}

// addServiceWorker tells each page its edition, and writes into the service worker what it keeps: a page's edition is
// the digest of the page and of all that it needs. It goes by the pages alone, so that a site that was changed
// afterwards, by another phrase of a desk, is described anew.
func addServiceWorker(s site, script []byte) error {
	// What the script declares as SITE (web/page/sw.ts).
	type entry struct {
		Version string   `json:"version"`
		Files   []string `json:"files"`
		// the same desk in the other languages, kept with it
		Others []string `json:"others,omitempty"`
	}
	entries, digests, edition := map[string]entry{}, map[string]string{}, ""
	for _, page := range s.pages() {
		if name := bookPlace.FindSubmatch(s[page]); name != nil {
			edition = html.UnescapeString(string(name[1]))
		}
		// The page is hashed without its edition, which cannot depend on itself.
		s[page] = editionPlace.ReplaceAll(s[page], []byte(`data-site-edition=""`))
		// By name and content: what a page asks for under another name is another edition, too.
		needs, hash := s.needs(page), sha256.New()
		for _, file := range append(needs, page) {
			fmt.Fprintf(hash, "%s %x\n", file, sha256.Sum256(s[file]))
		}
		version := hex.EncodeToString(hash.Sum(nil)[:8])
		s[page] = editionPlace.ReplaceAll(s[page], []byte(`data-site-edition="`+version+`"`))
		others := slices.DeleteFunc(s.pages(), func(other string) bool {
			return other == page || deskOfPage(other) != deskOfPage(page)
		})
		entries[page] = entry{version, needs, others}
		for _, file := range append(needs, page) {
			// Of what is in it: some hosts inflate what they hand out.
			text, err := inflate(s[file])
			if err != nil {
				return fmt.Errorf("building the site: %s: %w", file, err)
			}
			digests[file] = digest(text)
		}
	}
	whole := map[string]any{"edition": edition, "pages": entries, "digests": digests}
	text, err := json.Marshal(whole)
	if err != nil {
		return fmt.Errorf("building the site: %w", err)
	}
	// The script counts too: a new one has to come to pages that are kept, whatever else stays.
	whole["version"] = digest(append(text, script...))[:16]
	if text, err = json.Marshal(whole); err != nil {
		return fmt.Errorf("building the site: %w", err)
	}
	s["sw.js"] = append([]byte("const SITE = "+string(text)+";\n"), script...)
	return nil
}

// inflate gives the text of a file, out of gzip where it is in it. It is known by its first two bytes (RFC 1952,
// 2.3.1), as the page's worker and the service worker know it.
func inflate(text []byte) ([]byte, error) {
	if !bytes.HasPrefix(text, []byte{0x1f, 0x8b}) {
		return text, nil
	}
	r, err := gzip.NewReader(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}
