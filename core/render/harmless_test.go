package render

import (
	"regexp"
	"testing"

	"pgregory.net/rapid"
)

// The rule as expressions, which the engine does without for their size: \s, \pZ, \p{Cc} and \p{Cf} may be dropped.
var (
	signClass    = "[=+@＝＋－＠﹦﹢﹣﹫-]"
	droppedClass = "[\"“”＂\\s\\pZ\\p{Cc}\\p{Cf}]*"
	atStart      = regexp.MustCompile("^(?:[\t\r\n\\x00]|" + droppedClass + signClass + ")")
	endClass     = "[;|\t\r\n\v\f\u0085\u2028\u2029；｜﹔]"
	within       = regexp.MustCompile("(" + endClass + droppedClass + ")(" + signClass + ")")
)

// Words are guarded exactly as the expressions say.
func TestHarmlessIsAsItsExpressions(t *testing.T) {
	runes := []rune("=+@＝＋－＠﹦﹢﹣﹫-\"“”＂ \t\r\n\v\f\x00\x1f\u0085\u00a0" +
		"\u2028\u2029\u200b\ufeff；｜﹔;|a1,'é\ufffd")
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.SampledFrom(runes)).Draw(t, "s") +
			string(rapid.SliceOfN(rapid.Byte(), 0, 2).Draw(t, "b"))
		want := within.ReplaceAllString(s, "$1'$2")
		if atStart.MatchString(want) {
			want = "'" + want
		}
		if got := harmless(s); got != want {
			t.Fatalf("%q becomes %q, want %q", s, got, want)
		}
	})
}
