package screen_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/screen"
)

// The form of a locked desk has a text for everything that its script may have to say, in the language that it is
// given.
func TestLockedSaysWhatTheScriptAsksFor(t *testing.T) {
	script, err := os.ReadFile("../../web/page/seal.ts")
	if err != nil {
		t.Fatal(err)
	}
	page := screen.Locked(msg.English, "Teasel Bank <Boats>", pack.Show, 1)
	names := regexp.MustCompile(`(?:Closed|or|say|lock)\("([a-z]+)"`).FindAllStringSubmatch(string(script), -1)
	seen := map[string]bool{}
	for _, m := range names {
		seen[m[1]] = true
		if !regexp.MustCompile(` data-` + m[1] + `="[^"]{5,}"`).MatchString(page) {
			t.Errorf("the script says %q, and the form has no words for it", m[1])
		}
	}
	if len(seen) != 10 {
		t.Errorf("the script says %d things: %v", len(seen), seen)
	}
	for _, id := range []string{"unlock", "phrase", "unlock-state", "show-phrase", "lock-bar", "lock", "lock-state",
		"sheet"} {
		if strings.Count(page, `id="`+id+`"`) != 1 {
			t.Errorf("there is no one element %s", id)
		}
	}
	for _, words := range []string{"Teasel Bank &lt;Boats&gt;", "Quotation desk", "1 minute", `<label for="phrase">`} {
		if !strings.Contains(page, words) {
			t.Errorf("it lacks %q: %s", words, page)
		}
	}
}

// Every word of it comes from the file of the language, those that are said later too.
func TestLockedIsWhollyTranslated(t *testing.T) {
	page := screen.Locked(enginetest.Marked(t), "Teasel Bank Boats", pack.Yard, 15)
	for _, found := range enginetest.Unmarked(enginetest.Perceived(page), "Teasel", "Bank", "Boats") {
		t.Errorf("no file of a language has %q", found)
	}
	said := regexp.MustCompile(` data-[a-z]+="([^"]*)"`).FindAllStringSubmatch(page, -1)
	for _, m := range said {
		if !strings.HasPrefix(m[1], "⟦") || !strings.HasSuffix(m[1], "⟧") {
			t.Errorf("the script would say %q in one language alone", m[1])
		}
	}
	if len(said) != 12 {
		t.Errorf("%d texts of the script", len(said))
	}
}
