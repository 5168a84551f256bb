package engine_test

import (
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/pack"
)

func TestUnmarkedFindsWhatStandsInTheCode(t *testing.T) {
	markup := `<title>⟦Price ⟪Teasel⟫⟧</title><style>p { color: red }</style><!-- a remark -->
		<p title="⟦Each⟧">⟦12 kg⟧ 12 kg &lt;Total</p><button aria-label="Close" class="wide">×</button>`
	found := enginetest.Unmarked(enginetest.Perceived(markup), "Each")
	if want := `"Close" in "Close"|"Total" in "12 kg <Total"`; strings.Join(found, "|") != want {
		t.Errorf("found %s, want %s", strings.Join(found, "|"), want)
	}
}

func TestInMarksSpeaksTheSameBoat(t *testing.T) {
	for desk, e := range enginetest.Small() {
		marked := enginetest.InMarks(t, e)
		a, err := marked.AnswerStandard(0, "")
		if err != nil {
			t.Fatal(err)
		}
		plain, err := e.AnswerStandard(0, "")
		if err != nil {
			t.Fatal(err)
		}
		if !a.Price.Total.Equal(plain.Price.Total) || marked.Say("engine.none") != "⟦none⟧" {
			t.Errorf("%s: %s in marks, %s without; none is %s", desk, a.Price.Total, plain.Price.Total,
				marked.Say("engine.none"))
		}
		if title := marked.Public().Hulls[0].Title; title != "⟪Teasel 48⟫" {
			t.Errorf("%s: the hull is called %s", desk, title)
		}
	}
	if p := enginetest.Demo()[pack.Buyer].Public(); strings.Contains(p.Hulls[0].Title, "⟪") {
		t.Error("marking changed the engine that it was made of")
	}
}
