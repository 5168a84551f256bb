package paper_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/paper"
	"ribband/core/sheet"
)

const width = 78

// checkWidth finds lines that are too wide although their words would allow a break.
func checkWidth(t testing.TB, name, text string) {
	t.Helper()
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		if strings.HasSuffix(line, " ") {
			t.Errorf("%s: blanks at the end of %q", name, line)
		}
		if utf8.RuneCountInString(line) > width && len(strings.Split(strings.TrimSpace(line), " ")) > 1 {
			t.Errorf("%s: %d columns: %q", name, utf8.RuneCountInString(line), line)
		}
	}
}

func TestTextKeepsToItsWidth(t *testing.T) {
	for _, name := range specNames(t) {
		q, y := papersOf(t, yardEngine(), name, nil)
		checkWidth(t, name, customer(t, q, paper.AsText))
		checkWidth(t, name, yard(t, y, q, paper.AsText))
	}
}

// Letterhead, headings, labels and colophon were once not broken at all.
func TestTextKeepsToItsWidthWithLongTexts(t *testing.T) {
	words := func(r *rapid.T, n int) string {
		return strings.Join(rapid.SliceOfN(rapid.StringMatching(`[a-zäö]{1,9}`), 1, n).Draw(r, "words"), " ")
	}
	original, yardSheet := shortPapers()
	rapid.Check(t, func(r *rapid.T) {
		q, y := copied(t, original), *yardSheet
		written(q, [4]string{words(r, 20), words(r, 20), words(r, 20), words(r, 30)})
		q.Yard.Name, q.Yard.Address = words(r, 20), []string{words(r, 20)}
		q.Edition.Name = words(r, 20)
		q.Hull, q.Contents[0].Title, q.Contents[0].Slots[0].Title = words(r, 20), words(r, 20), words(r, 12)
		q.Figures[0].Title = words(r, 12)
		q.Price.Lines[0].Amount = money.MustParse("-123456789012345.678")
		y.Hull, y.Contents, y.Figures = q.Hull, q.Contents, q.Figures
		y.Shops = append([]sheet.ShopHours(nil), y.Shops...)
		y.Shops[0].Shop = words(r, 6)
		checkWidth(t, "customer", customer(t, q, paper.AsText))
		checkWidth(t, "yard", yard(t, &y, q, paper.AsText))
	})
}

// Amounts were once broken at the narrow space between their digits.
func TestTextKeepsNumbersTogether(t *testing.T) {
	q, _ := papersOf(t, yardEngine(), frozenSpec, nil)
	for n := range width {
		q.Terms = []string{strings.Repeat("x", n+1) + " EUR\u00a079\u202f468.20 and 17.5\u202f%"}
		text := customer(t, q, paper.AsText)
		for _, together := range []string{"EUR\u00a079\u202f468.20", "17.5\u202f%"} {
			if !strings.Contains(text, together) {
				t.Fatalf("%q is broken behind %d columns", together, n+1)
			}
		}
	}
}

// The words of a choice were once grouped like digits: Fr esh wa ter.
func TestWordsAreNotGrouped(t *testing.T) {
	q, y := papersOf(t, yardEngine(), "export", nil)
	number := 123456.5
	q.Figures[0].State, q.Figures[0].Number = engine.NotKnown, nil
	q.Figures[1].Number, q.Figures[1].Digits, q.Figures[1].Unit = &number, 1, "kg"
	y.Figures = q.Figures
	for _, markup := range []string{customer(t, q, paper.AsHTML), yard(t, y, q, paper.AsHTML)} {
		values := map[string]bool{}
		for _, dd := range parse(t, markup).all("dd") {
			values[dd.text] = true
		}
		if !values["not known"] || !values["123\u202f456.5\u00a0kg"] {
			t.Errorf("the values are %v", values)
		}
	}
	values := map[string]bool{}
	for _, dd := range parse(t, customer(t, q, paper.AsHTML)).all("dd") {
		values[dd.text] = true
	}
	for _, u := range q.Use {
		if !values[u.Message().String()] {
			t.Errorf("the use %s is not shown as %q", u.ID, u.Text)
		}
	}
}
