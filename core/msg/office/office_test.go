package office_test

import (
	"testing"

	"ribband/core/msg"
	"ribband/core/msg/office"
)

// Words of the office stand beside those of the language, which stays as it was.
func TestWordsStandBesideThoseOfTheLanguage(t *testing.T) {
	de, ok := msg.Named("de")
	if !ok {
		t.Fatal("no German")
	}
	for _, l := range []*msg.Language{msg.English, de} {
		if l.Has("office.diary-planned") {
			t.Error("the engine's words have those of the office")
		}
		own := office.Words(l)
		if got, bare := own.Say("office.diary-planned", msg.Date("day", "2027-03-01")), "["; got[:1] == bare {
			t.Errorf("%s says %s", l.Tag(), got)
		}
		if own.Say("paper.total") != l.Say("paper.total") || own.Tag() != l.Tag() {
			t.Errorf("%s lost its own words", l.Tag())
		}
		if office.Words(l) != own {
			t.Errorf("%s is read twice", l.Tag())
		}
	}
}
