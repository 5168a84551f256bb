package main

import (
	"fmt"
	"html/template"
	"regexp"
	"slices"
	"strings"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/screen"
)

// A desk has a page in each language of the book that the program speaks too, so that a visitor reads at once, before
// the engine is there. A page is chosen by a script in its head (page/early.js). English words are in the engine; those
// of the other languages are files that a page names, of which a visitor loads the ones of his language.

// pageName is the file of a desk's page in a language: show.html, show.nl.html. The first language of the book has the
// plain name.
func pageName(d pack.Desk, tag, first string) string {
	if tag == first {
		return mainPage(d)
	}
	return strings.TrimSuffix(mainPage(d), "html") + tag + ".html"
}

// pagePattern is what the pages of a site are named like, in whatever languages.
var pagePattern = regexp.MustCompile(`^(index|show|yard|dealer-[0-9a-z-]+)(\.[a-zA-Z-]+)?\.html$`)

// pages are the pages that a site has.
func (s site) pages() (files []string) {
	for _, file := range s.paths() {
		if pagePattern.MatchString(file) {
			files = append(files, file)
		}
	}
	return files
}

// deskOfPage is the part of a page's name that the pages of its desk share.
func deskOfPage(file string) string {
	name, _, _ := strings.Cut(file, ".")
	return name
}

// spoken is a pack with those of its languages that the program speaks; a book that names none is taken for English.
func spoken(p *pack.Pack) *pack.Pack {
	own := *p
	own.Languages = slices.DeleteFunc(slices.Clone(p.Languages), func(tag string) bool {
		_, ok := msg.Named(tag)
		return !ok
	})
	// without its first language the others would have nothing to fall back on
	if len(own.Languages) == 0 || own.Languages[0] != p.Languages[0] {
		own.Languages = nil
	}
	return &own
}

// languagesOf are the tags of the pages of a pack, the first one first.
func languagesOf(p *pack.Pack) []string {
	if len(p.Languages) == 0 {
		return []string{msg.English.Tag()}
	}
	return p.Languages
}

// engineIn is the engine of a pack in one of its languages; the first one without a tag. A pack that was just published
// compiles.
func engineIn(p *pack.Pack, tag string) (*engine.Engine, error) {
	tags := languagesOf(spoken(p))
	if tag == "" {
		tag = tags[0]
	}
	if !slices.Contains(tags, tag) {
		return nil, fmt.Errorf("the book is in no language %.20q; give one of %s", tag, strings.Join(tags, ", "))
	}
	l, _ := msg.Named(tag)
	return engine.CompileIn(p, l)
}

// viewIn is a desk's first screen, so that it is there before the engine. It is made by the same code as in the
// browser, which then finds nothing to change.
func viewIn(p *pack.Pack, tag string) (*screen.View, error) {
	// A reader sees the boat and its price at once and may read while the engine loads; what needs it waits.
	e, err := engineIn(p, tag)
	if err != nil {
		return nil, fmt.Errorf("rendering the page: %w", err)
	}
	d, err := desk.New(e)
	if err != nil {
		return nil, fmt.Errorf("rendering the page: %w", err)
	}
	return d.View(), nil
}

// addWords adds the files of the languages that the engine does not have in itself, and has the page name them: the
// program's words, and those of the book where they lie apart from its pack.
func (s site) addWords(parts *pageParts, p *pack.Pack, words []pack.Words) error {
	for _, tag := range languagesOf(p) {
		if tag == msg.English.Tag() {
			continue
		}
		file, _ := msg.File(tag)
		parts.named("data-words-"+tag, s.addCompressed("words-"+tag+".json", file))
		for i := range words {
			if words[i].Language != tag {
				continue
			}
			text, err := words[i].Encode()
			if err != nil {
				return err
			}
			parts.named("data-book-"+tag, s.addCompressed(string(parts.Desk)+"-"+tag+".json", text))
		}
	}
	return nil
}

// named has the page name a file in an attribute of the script in its head.
func (p *pageParts) named(attribute, file string) {
	p.Words += template.HTMLAttr(fmt.Sprintf(" %s=%q", attribute, file))
}

// alternate is the page in another language, for search engines.
type alternate struct{ Tag, File string }

// addPages adds the page of a desk in each of its languages, with what stands in the body.
func (s site) addPages(parts pageParts, p *pack.Pack, body func(*screen.View, *pageParts) (string, error)) error {
	tags := languagesOf(p)
	parts.Languages = strings.Join(tags, " ")
	parts.Page = strings.TrimSuffix(mainPage(parts.Desk), ".html")
	for _, tag := range tags[min(1, len(tags)-1):] {
		if len(tags) > 1 && parts.Desk == pack.Buyer {
			parts.Alternates = append(parts.Alternates, alternate{tag, pageName(parts.Desk, tag, tags[0])})
		}
	}
	for _, tag := range tags {
		view, err := viewIn(p, tag)
		if err != nil {
			return err
		}
		own := parts
		own.File = pageName(parts.Desk, tag, tags[0])
		if err := s.installable(&own, view.Title()); err != nil {
			return err
		}
		text, err := body(view, &own)
		if err != nil {
			return err
		}
		if s[own.File], err = renderPage(own, view.Tag(), text); err != nil {
			return err
		}
	}
	return nil
}
