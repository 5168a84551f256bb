package paper_test

import (
	"slices"
	"strings"
	"testing"

	"ribband/core/paper"
)

// Papers stand by themselves: balanced, in one language, with one heading, tables that name their rows and columns, and
// nothing from outside.
func TestPapersAreWellFormed(t *testing.T) {
	for _, name := range specNames(t) {
		q, y := papersOf(t, yardEngine(), name, nil)
		// the one address on it is the customer's link, which loads nothing
		page, link := customer(t, q, paper.AsHTML), `<a href="`+q.Link()+`">`+q.Yard.Page+`</a>`
		if strings.Count(page, link) != 1 {
			t.Errorf("%s: no %s", name, link)
		}
		for _, markup := range []string{strings.Replace(page, link, "", 1), yard(t, y, q, paper.AsHTML)} {
			checkPaper(t, name, markup)
		}
	}
}

func checkPaper(t *testing.T, name, markup string) {
	t.Helper()
	if !strings.HasPrefix(markup, "<!doctype html>") {
		t.Errorf("%s: it begins %.40q", name, markup)
	}
	doc := parse(t, markup)
	if n := len(doc.all("h1")); n != 1 {
		t.Errorf("%s: %d first headings", name, n)
	}
	if html := doc.all("html"); len(html) != 1 || html[0].attr["lang"] != "en" {
		t.Errorf("%s: no language", name)
	}
	for _, title := range doc.all("title") {
		if title.text == "" {
			t.Errorf("%s: no title", name)
		}
	}
	tables := doc.all("table")
	if len(tables) == 0 {
		t.Errorf("%s: no table", name)
	}
	for _, table := range tables {
		headers := table.all("th")
		if len(headers) == 0 {
			t.Errorf("%s: a table without headers: %.80s", name, table.text)
		}
		for _, th := range headers {
			if !slices.Contains([]string{"row", "col", "rowgroup"}, th.attr["scope"]) {
				t.Errorf("%s: the header %q has the scope %q", name, th.text, th.attr["scope"])
			}
		}
	}
	checkNothingFromOutside(t, name, markup, doc)
}

func checkNothingFromOutside(t *testing.T, name, markup string, doc *element) {
	t.Helper()
	for _, word := range []string{"http:", "https:", "//", "url(", "@import"} {
		if i := strings.Index(markup, word); i >= 0 {
			t.Errorf("%s: %q in %q", name, word, markup[max(i-20, 0):min(i+40, len(markup))])
		}
	}
	for _, e := range doc.all("") {
		for a := range e.attr {
			if a == "src" || a == "href" || a == "style" || strings.HasPrefix(a, "on") {
				t.Errorf("%s: <%s %s>", name, e.name, a)
			}
		}
		switch e.name {
		case "script", "iframe", "img", "link", "object", "form":
			t.Errorf("%s: there is a <%s>", name, e.name)
		}
	}
}
