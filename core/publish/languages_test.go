package publish_test

import (
	"encoding/json"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/publish"
)

// places are lines and columns of a book, which differ between two ways of writing it.
var places = regexp.MustCompile(`"line":\d+,"column":\d+`)

const twoLanguages = "../../testdata/books/two-languages"

func loaded(t *testing.T, folder string) publish.Packs {
	t.Helper()
	packs, _, diagnostics, err := publish.Load(os.DirFS(folder))
	if err != nil || len(diagnostics) > 0 {
		t.Fatal(err, diagnostics)
	}
	return packs
}

// The first language of a book in two languages is the book in one, and the other has the same numbers and rules.
func TestBookInTwoLanguages(t *testing.T) {
	one, two := loaded(t, smallBook), loaded(t, twoLanguages)
	for _, desk := range pack.Desks {
		p := two[desk]
		if got := p.Languages; !slices.Equal(got, []string{"en", "nl"}) {
			t.Fatalf("%s: languages %v", desk, got)
		}
		text, err := p.Encode()
		if err != nil {
			t.Fatal(err)
		}
		read, err := pack.Decode(text)
		if err != nil {
			t.Fatal(err)
		}
		dutch := read.In("nl")
		if got := []string{dutch.Hulls[0].Title, dutch.Options[0].Title, dutch.Rules[0].Because,
			dutch.Regions[0].TaxName}; !slices.Equal(got, []string{"Teasel 48", "Vouwdak",
			"Het zware doek breekt waar het gevouwen wordt.", "btw"}) {
			t.Errorf("%s: in Dutch %q", desk, got)
		}
		if read.Options[0].Title != "Folding top" || read.In("fr") != read || read.In("en") != read {
			t.Errorf("%s: the first language is changed by the other", desk)
		}
		wordless := func(p *pack.Pack) string {
			q := *p
			q.Languages, q.Words, q.Edition = nil, nil, pack.Edition{}
			if q.Costs != nil {
				costs := *q.Costs
				costs.Words, costs.Digest, q.Costs = nil, "", &costs
			}
			if q.Work != nil {
				work := *q.Work
				work.Words, work.Digest, q.Work = nil, "", &work
			}
			text, err := json.Marshal(&q)
			if err != nil {
				t.Fatal(err)
			}
			return places.ReplaceAllString(string(text), "")
		}
		if wordless(read) != wordless(one[desk]) {
			t.Errorf("%s: the first language is not the book in one language", desk)
		}
	}
}

// dutchFile is a language of which hardly anything is translated.
const dutchFile = `{
	"engine.none": "geen",
	"language.months": "jan feb mrt apr mei jun jul aug sep okt nov dec",
	"language.name": "Nederlands",
	"language.tag": "nl"
}`

// An engine in another language gives the same numbers.
func TestEveryLanguageHasTheSameNumbers(t *testing.T) {
	first, err := engine.Compile(loaded(t, twoLanguages)[pack.Yard])
	if err != nil {
		t.Fatal(err)
	}
	dutch, err := msg.Read("nl.json", []byte(dutchFile))
	if err != nil {
		t.Fatal(err)
	}
	totals := map[string]bool{}
	for _, language := range []*msg.Language{msg.English, dutch} {
		e, err := first.In(language)
		if err != nil {
			t.Fatal(err)
		}
		if e.Language() != language {
			t.Errorf("in %s the engine speaks %s", language.Name(), e.Language().Name())
		}
		a, err := e.AnswerStandard(0, "home")
		if err != nil {
			t.Fatal(err)
		}
		if want := map[string]string{"en": "none", "nl": "geen"}[language.Tag()]; e.Say("engine.none") != want {
			t.Errorf("in %s none is %q", language.Name(), e.Say("engine.none"))
		}
		totals[a.Price.Total.String()+" "+a.Cost.Summary.Total.String()] = true
	}
	if len(totals) != 1 {
		t.Errorf("totals %v", totals)
	}
}

// What a desk does not have it does not have in another language either.
func TestWordsKeepToTheirDesk(t *testing.T) {
	packs := loaded(t, twoLanguages)
	for desk, secret := range map[pack.Desk][]string{
		pack.Buyer: {"Zeilmakerij", "Doek snijden en naaien", "Acryldoek", "Buis 25 mm"},
		pack.Yard:  nil,
	} {
		text, err := packs[desk].Encode()
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range secret {
			if strings.Contains(string(text), s) {
				t.Errorf("the %s's pack says %q", desk, s)
			}
		}
	}
	if text, _ := packs[pack.Yard].Encode(); !strings.Contains(string(text), "Zeilmakerij") {
		t.Error("the yard's pack lacks the words of its shops")
	}
}

// Damaged words are refused, whatever they change.
func TestWordsHaveTheirPlace(t *testing.T) {
	p := loaded(t, twoLanguages)[pack.Show]
	for _, place := range []string{"", "no.such", "options.99.title", "options.-1.title", "options", "currency.x",
		"use.0.min"} {
		q := *p
		q.Words = map[string]map[string]string{"nl": {place: "x"}}
		text, err := q.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := pack.Decode(text); err == nil || !strings.Contains(err.Error(), "where there is no text") {
			t.Errorf("%q: %v", place, err)
		}
	}
	other := loaded(t, smallBook)[pack.Yard]
	other.Hulls[0].Fields[0]++
	q := *p
	q.Words = map[string]map[string]string{"nl": {"currency": "gulden"}}
	text, _ := q.Encode()
	if _, err := pack.Decode(text); err == nil || !strings.Contains(err.Error(), `in the language "nl"`) {
		t.Errorf("a currency is changed by words: %v", err)
	}
	if err := loaded(t, twoLanguages)[pack.Yard].Translate("de", other); err == nil {
		t.Error("packs that differ in more than words are taken for languages")
	}
	if !reflect.DeepEqual(p.In("nl").In("nl").Hulls, p.In("nl").Hulls) {
		t.Error("a pack in a language is not itself in it")
	}
}
