package msg_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ribband/core/msg"
)

// ownAffair are texts in which a language says how it writes numbers; each may lack what it does not want to set.
var ownAffair = []string{"language.group", "language.percent"}

// behind is how many messages a file may lack: whoever writes a new message need not speak every language. Until they
// are translated they are shown in English.
const behind = 0

// TestLanguagesSayWhatEnglishSays compares the files of languages with the English one: the same codes, and in each
// text the same arguments and the same keys to choose by. A reader would meet an English sentence, or a name in braces.
func TestLanguagesSayWhatEnglishSays(t *testing.T) {
	files, err := filepath.Glob("*.json")
	if err != nil {
		t.Fatal(err)
	}
	others := 0
	for _, name := range files {
		if name == "en.json" {
			continue
		}
		others++
		l, err := msg.Read(name, readFile(t, name))
		if err != nil {
			t.Error(err)
			continue
		}
		if want := strings.TrimSuffix(name, ".json"); l.Tag() != want {
			t.Errorf("%s says that it is %q", name, l.Tag())
		}
		sameAsEnglish(t, name, "en.json")
		// papers of orders are for the same readers
		more := "office/" + name
		if _, err := l.With(more, readFile(t, more)); err != nil {
			t.Error(err)
		}
		sameAsEnglish(t, more, "office/en.json")
	}
	if others == 0 {
		t.Error("there is no language beside English")
	}
}

func readFile(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// sameAsEnglish compares the texts of a file with those of its English one.
func sameAsEnglish(t *testing.T, name, englishName string) {
	t.Helper()
	texts, english := textsOf(t, name), textsOf(t, englishName)
	var lacking []string
	for code, said := range english {
		text, ok := texts[code]
		switch {
		case !ok && !slices.Contains(ownAffair, code):
			lacking = append(lacking, code)
		case ok && !slices.Equal(msg.Names(text), msg.Names(said)):
			t.Errorf("%s: %s has the arguments %v, and English %v", name, code, msg.Names(text), msg.Names(said))
		case ok && !slices.Equal(msg.Choices(text), msg.Choices(said)):
			t.Errorf("%s: %s chooses by %v, and English by %v", name, code, msg.Choices(text), msg.Choices(said))
		}
	}
	if slices.Sort(lacking); len(lacking) > behind {
		t.Errorf("%s lacks %d messages: %v", name, len(lacking), lacking)
	} else if len(lacking) > 0 {
		t.Logf("%s lacks %v", name, lacking)
	}
	for code := range texts {
		if _, ok := english[code]; !ok {
			t.Errorf("%s has %s, which English does not say", name, code)
		}
	}
}
