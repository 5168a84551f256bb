package begin_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"ribband/core/book/begin"
	"ribband/core/book/source"
	"ribband/core/publish"
)

// answered puts texts to the questions, by flag; what is not given is as suggested.
func answered(t interface{ Fatal(...any) }, given map[string]string) (a begin.Answers) {
	for _, q := range begin.Questions {
		text, ok := given[q.Flag]
		if !ok {
			text = q.Suggest(&a)
		}
		if err := q.Take(&a, text); err != nil {
			t.Fatal(q.Flag, err)
		}
	}
	return a
}

// folder is the book of answers.
func folder(t interface{ Fatal(...any) }, a begin.Answers) fstest.MapFS {
	files, err := begin.Files(a)
	if err != nil {
		t.Fatal(err)
	}
	made := fstest.MapFS{}
	for name, text := range files {
		made[name] = &fstest.MapFile{Data: text}
	}
	return made
}

// faults are what is wrong with the book of answers, without its proofs.
func faults(t interface{ Fatal(...any) }, a begin.Answers) (list []string) {
	_, counts, found, err := publish.Load(folder(t, a))
	if err != nil {
		t.Fatal(err)
	}
	if counts.Hulls != 1 || counts.Slots < 12 || counts.Options < 24 || counts.Rules < 6 {
		list = append(list, fmt.Sprintf("the book is small: %+v", counts))
	}
	for _, d := range found {
		list = append(list, d.String())
	}
	return list
}

// Every country and language, with tax and without.
func TestEveryCountryAndLanguage(t *testing.T) {
	codes := strings.Fields("NL DE BE FR AT IE IT ES PT FI EE DK SE PL CZ HU NO IS CH GB US CA AU NZ JP XX ZA")
	for i, code := range codes {
		given := map[string]string{"country": code, "language": begin.Languages[i%len(begin.Languages)]}
		if i%5 == 4 {
			given["tax"] = "0"
		}
		if list := faults(t, answered(t, given)); len(list) > 0 {
			t.Errorf("%v: %s", given, strings.Join(list, "\n"))
		}
	}
}

// The words of the templates are whole in every language and have nothing that no template says.
func TestWordsAreWhole(t *testing.T) {
	first, err := begin.Words("nl")
	if err != nil {
		t.Fatal(err)
	}
	for _, language := range begin.Languages[1:] {
		words, err := begin.Words(language)
		if err != nil || len(words) < 150 {
			t.Errorf("%s has %d words, %v", language, len(words), err)
		}
		for text, said := range words {
			if _, ok := first[text]; !ok || said == "" {
				t.Errorf("%s says %q of %q, which the others lack or which is empty", language, said, text)
			}
		}
	}
	if _, err := begin.Words("xx"); err == nil {
		t.Error("there are words in a language that nobody wrote")
	}
}

// Whatever the questions let through is a book without an error or a warning. Every eighth is compiled, which takes
// most of the time; the others are read and checked without their formulas.
func TestPropertyAnswersAreABook(t *testing.T) {
	runs := 0
	currencies := []string{"EUR", "GBP", "USD", "NOK", "SEK", "JPY", "KWD", "HUF", "CHF"}
	rapid.Check(t, func(t *rapid.T) {
		given := map[string]string{}
		for _, q := range []string{"currency", "country", "language", "yard", "hull"} {
			switch q {
			case "currency":
				given[q] = rapid.SampledFrom(currencies).Draw(t, q)
			case "country":
				given[q] = rapid.SampledFrom([]string{"NL", "uk", "US", "NO", "XX"}).Draw(t, q)
			case "language":
				given[q] = rapid.SampledFrom(begin.Languages).Draw(t, q)
			default:
				given[q] = "A" + rapid.StringMatching(`[ -~äß]{0,20}[a-z]`).Draw(t, q)
			}
		}
		given["length"] = decimal(rapid.Float64Range(4.5, 10).Draw(t, "length"))
		var a begin.Answers
		for _, q := range begin.Questions {
			text, ok := given[q.Flag]
			if !ok {
				text = q.Suggest(&a)
			}
			// beams and depths anywhere within their bounds, found from what the refusal says
			if q.Flag == "beam" || q.Flag == "depth" {
				least, most := bounds(t, q, a)
				text = decimal(rapid.Float64Range(least, most).Draw(t, q.Flag))
			}
			if err := q.Take(&a, text); err != nil {
				t.Fatal(err)
			}
		}
		if runs++; runs%8 != 1 {
			if b, found, err := source.Read(folder(t, a)); err != nil || len(found) > 0 || len(b.Validate()) > 0 {
				t.Fatalf("%+v: %v %v %v", a, err, found, b.Validate())
			}
		} else if list := faults(t, a); len(list) > 0 {
			t.Fatalf("%+v: %s", a, strings.Join(list, "\n"))
		}
	})
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }

// bounds are the numbers that a question takes, as its refusal names them, and to the centimetre inside.
func bounds(t *rapid.T, q begin.Question, a begin.Answers) (least, most float64) {
	message := fmt.Sprint(q.Take(&a, "no number"))
	if _, err := fmt.Sscanf(message[strings.LastIndex(message, "from"):], "from %f to %f", &least, &most); err != nil {
		t.Fatal(message, err)
	}
	return math.Ceil(100*least+1) / 100, math.Floor(100*most-1) / 100
}

func TestAnswersThatAreRefused(t *testing.T) {
	for _, x := range []struct{ flag, text, says string }{
		{"yard", "", "cannot be the name of the yard"},
		{"yard", "A\u202eB", "cannot be the name"},
		{"currency", "euro", "three letters of ISO 4217"},
		{"country", "Norway", "two letters of ISO 3166-1"},
		{"tax", "-4", "write percent"},
		{"tax", "1e3", "write percent"},
		{"hull", "№ é", "a letter or digit of a to z"},
		{"length", "30", "from 4.50 to 10.00"},
		{"length", "NaN", "from 4.50 to 10.00"},
		{"beam", "6", "from 1.75 to 2.52"},
		{"depth", "0.2", "from 0.65 to 0.98"},
		{"motor", "400", "write a number"},
		{"language", "fr", "en, nl or de"},
	} {
		var a begin.Answers
		for _, q := range begin.Questions {
			if q.Flag != x.flag {
				if err := q.Take(&a, q.Suggest(&a)); err != nil {
					t.Fatal(err)
				}
				continue
			}
			if err := q.Take(&a, x.text); err == nil || !strings.Contains(err.Error(), x.says) {
				t.Errorf("%s %q: %v, want %q", x.flag, x.text, err, x.says)
			}
			break
		}
	}
}

// Answers as people write them.
func TestAnswersAsPeopleWriteThem(t *testing.T) {
	a := answered(t, map[string]string{"currency": "gbp", "country": "uk", "tax": "17,5 %", "length": "6,5 m",
		"motor": "4 kW"})
	if a.Currency != "GBP" || a.Country != "GB" || a.Tax != "17.5" || a.Length != 6.5 || a.MotorKW != 4 {
		t.Errorf("%+v", a)
	}
}

// No bytes make a question panic, nor an answer that it takes a book that cannot be written.
func FuzzAnswers(f *testing.F) {
	f.Add("yard", "Alder & Sons: [boats] #1")
	f.Add("length", "6,5 m")
	f.Add("tax", "25.5%")
	f.Fuzz(func(t *testing.T, flag, text string) {
		i := slices.IndexFunc(begin.Questions, func(q begin.Question) bool { return q.Flag == flag })
		if i < 0 {
			return
		}
		var a begin.Answers
		for j, q := range begin.Questions {
			if j == i && q.Take(&a, text) == nil {
				continue
			}
			if err := q.Take(&a, q.Suggest(&a)); err != nil {
				return // what was answered leaves no boat for the rest
			}
		}
		if list := faults(t, a); len(list) > 0 {
			t.Errorf("%+v: %s", a, strings.Join(list, "\n"))
		}
	})
}

func ExampleFiles() {
	var a begin.Answers
	for _, q := range begin.Questions {
		if err := q.Take(&a, q.Suggest(&a)); err != nil {
			fmt.Println(err)
		}
	}
	files, err := begin.Files(a)
	fmt.Println(len(files), err)
	fmt.Println(a.Hull, a.Length, a.Beam, a.Depth, a.MotorKW)
	// Output:
	// 7 <nil>
	// Launch 60 6 2.04 0.8 2.5
}
