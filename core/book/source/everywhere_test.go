package source_test

import (
	"regexp"
	"testing"

	"ribband/core/book"
	"ribband/core/book/source"
)

var value = regexp.MustCompile(`(: |\[|, )("[^"\n]*"|[A-Za-z0-9][^:,\]}\n"]*)([,\]}\n])`)

// TestAnyValueAnywhere puts values of many kinds in the place of each value of the small book. Whatever follows has a
// place and a remedy, or the book is published and its packs are read again and answer.
func TestAnyValueAnywhere(t *testing.T) {
	put := []string{"", `""`, "0", "-3", "2.5", "1e300", ".nan", "[]", "{}", "[x, [y]]", "*a", "!!str 5", "teasel-48",
		`"999999999999999"`, `"1 / use.persons"`, "NaN"}
	good := 0
	for _, name := range []string{"yard.yaml", "boat.yaml"} {
		text := string(overlay(t, smallBook)[name].Data)
		places := value.FindAllStringSubmatchIndex(text, -1)
		if len(places) < 60 {
			t.Fatalf("%d values in %s, want more", len(places), name)
		}
		for i, place := range places {
			for j, v := range put {
				if (i+j)%2 == 1 { // every second one: neighbours are mostly alike
					continue
				}
				folder := with(overlay(t, smallBook), name, text[:place[4]]+v+text[place[5]:])
				_, list, err := source.Read(folder)
				if err != nil {
					t.Fatal(err)
				}
				for _, p := range list {
					if p.File != name && p.File != "boat.yaml" && p.Grade == book.Error || p.Line < 1 || p.Column < 1 ||
						p.Message == "" || p.Advice == "" {
						t.Errorf("%s in place of %s: no place or remedy: %q", v, text[place[4]:place[5]], p.Error())
					}
				}
				if len(book.Errors(list)) == 0 {
					good++
					t.Run("", func(t *testing.T) {
						publishAndAnswer(t, folder)
						if t.Failed() {
							t.Logf("%s in place of %s, offset %d of %s", v, text[place[4]:place[5]], place[4], name)
						}
					})
				}
			}
		}
	}
	if good < 200 {
		t.Errorf("%d changed books were good, want more", good)
	}
}
