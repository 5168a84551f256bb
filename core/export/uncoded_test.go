package export

import (
	"regexp"
	"testing"

	"pgregory.net/rapid"
)

// What looks like a character by its code is kept from being one exactly where the expression finds it.
func TestUncodedIsAsItsExpression(t *testing.T) {
	coded := regexp.MustCompile(`_(x[0-9A-Fa-f]{4}_)`)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.SampledFrom([]rune("_x0Af9gé"))).Draw(t, "s") +
			rapid.SampledFrom([]string{"", "_x0041_", "_x00e9_x0041_", "__x12Ab_"}).Draw(t, "more")
		if got, want := uncoded(s), coded.ReplaceAllString(s, "_x005F_$1"); got != want {
			t.Fatalf("%q becomes %q, want %q", s, got, want)
		}
	})
}
