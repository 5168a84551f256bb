package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"

	"ribband/core/pack"
)

// An edition of the site is known by digests alone: of each file, of each page with all that it needs, and of the
// whole. The page tells its own, the service worker all of them, so that both can say whether they are of one edition
// without asking the host, which may be stale.

// builtPage is a desk's page in the site: its file, and the files that it needs.
type builtPage struct {
	file  string
	needs []string
}

// buildPage adds a desk's page to the site, with its pack, manifest and icons. Scripts and style are the same for all
// desks: added again, they come out as the same file.
func buildPage(s site, p *pack.Pack, d pack.Desk, engine string,
	assets map[string][]byte) (b builtPage, err error) {
	text, err := p.Encode()
	if err != nil {
		return b, fmt.Errorf("building the site: %w", err)
	}
	view, err := firstView(p)
	if err != nil {
		return b, err
	}
	parts := pageParts{Desk: d, File: pageNames[d], Book: p.Edition.Digest, Engine: engine,
		Pack:   s.addCompressed(string(d)+".json", text),
		Worker: s.add("worker.js", assets["worker.js"]), Script: s.add("app.js", assets["app.js"]),
		Style: s.add("style.css", assets["style.css"])}
	// An installed desk bears the name of its page, by which a person tells it from the yard's other desks.
	var icons []string
	if parts.Manifest, icons, err = addInstallable(s, d, view.Title()); err != nil {
		return b, err
	}
	parts.Icon = icons[0]
	s[parts.File], err = renderPage(view, parts)
	needs := append(icons, parts.Manifest, parts.Style, parts.Script, parts.Worker, parts.Pack, parts.Engine)
	return builtPage{parts.File, needs}, err
}

// editionMark stands in a page for its edition, which is known once the page is there. It is none of the words of any
// book: nobody writes sixteen random digits behind "edition".
const editionMark = "edition-7c1e0f8a5b2d4c69"

// addServiceWorker tells each page its edition, and writes into the service worker what it keeps: a page's edition is
// the digest of the page and of all that it needs.
func addServiceWorker(s site, pages []builtPage, edition string, script []byte) error {
	// What the script declares as SITE (web/page/sw.ts).
	type entry struct {
		Version string   `json:"version"`
		Files   []string `json:"files"`
	}
	entries, digests := map[string]entry{}, map[string]string{}
	for _, p := range pages {
		// The page is hashed with the mark in it, since its edition cannot depend on itself.
		hash := sha256.New()
		for _, file := range append(p.needs, p.file) {
			fmt.Fprintf(hash, "%s %x\n", file, sha256.Sum256(s[file]))
		}
		version := hex.EncodeToString(hash.Sum(nil)[:8])
		s[p.file] = bytes.ReplaceAll(s[p.file], []byte(editionMark), []byte(version))
		entries[p.file] = entry{version, p.needs}
		for _, file := range append(p.needs, p.file) {
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
