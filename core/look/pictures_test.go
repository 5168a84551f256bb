package look_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/pack"
)

// said is a number in a picture behind some words of it; NaN where the words are not there.
func said(t *testing.T, p look.Picture, words string) float64 {
	t.Helper()
	text := strings.ReplaceAll(p.SVG, "\u00a0", " ")
	m := regexp.MustCompile(regexp.QuoteMeta(words) + ` (-?[0-9]+(\.[0-9]+)?)`).FindStringSubmatch(text)
	if m == nil {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// What stands on the pictures is what the answer says: the same figures, rounded.
func TestPicturesSayWhatTheAnswerSays(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	for name, s := range enginetest.DemoSpecs(t) {
		b := enginetest.Answer(t, e, s).Build
		draw := func(d func(*engine.Engine, *fit.Build, drawing.Format) (look.Picture, error)) look.Picture {
			p, err := d(e, b, drawing.Format{})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			return p
		}
		for _, c := range []struct {
			p      look.Picture
			words  string
			figure figures.ID
			to     float64 // half a step of what is written
		}{
			{draw(look.Profile), "Draught", figures.FloatingDraft, 0.005},
			{draw(look.Profile), "least freeboard", figures.FloatingFreeboard, 0.005},
			{draw(look.Profile), "height above the water", figures.FloatingAirDraft, 0.005},
			{draw(look.YardProfile), "to the base line", figures.FloatingDraftAft, 0.005},
			{draw(look.LeversPicture), "Metacentric height", figures.FloatingGM, 0.005},
			{draw(look.LeversPicture), "From", figures.StabilityFloodingHeel, 0.05},
			{draw(look.MassesPicture), "Total", figures.FloatingDisplacement, 0.5}, // it floats at what it weighs
		} {
			if got, want := said(t, c.p, c.words), e.Computed(b, c.figure); !(math.Abs(got-want) <= c.to+1e-9) {
				t.Errorf("%s: the %s says %q %v, and %s is %v", name, c.p.ID, c.words, got, c.figure, want)
			}
		}
	}
}

// A folding hood is shown folded too, with the height under which it then passes; no other top is.
func TestFoldedHoods(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	hoods := 0
	for name, s := range enginetest.DemoSpecs(t) {
		b := enginetest.Answer(t, e, s).Build
		p, err := look.Profile(e, b, drawing.Format{})
		if err != nil {
			t.Fatal(err)
		}
		got := said(t, p, "with the hood folded")
		if !strings.Contains(p.SVG, "folding hood") {
			if !math.IsNaN(got) {
				t.Errorf("%s: folded to %v m, without a folding hood", name, got)
			}
			continue
		}
		hoods++
		if want := e.Computed(b, figures.FloatingAirDraftDown); !(math.Abs(got-want) <= 0.005+1e-9) {
			t.Errorf("%s: folded to %v m, want %v", name, got, want)
		}
	}
	if hoods == 0 {
		t.Error("no demo boat has a folding hood")
	}
}

// The plan shows motor and bank where and as large as the book says. The numbers are those of rules/power/options.yaml
// and rules/words.yaml for the Reed 65: a motor of 0.40 m by 0.28 m, its middle at a fifth of the length of 6.5 m; a
// bank of 1.35 m by 0.40 m at 0.46 of the length.
func TestPlanShowsMotorAndBank(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	s := enginetest.DemoSpecs(t)["reed-65-plainest"]
	s.Choices = nil // the standard build
	p, err := look.Plan(e, enginetest.Answer(t, e, s).Build, drawing.Format{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(p.SVG, "1 motor. 2 battery bank") {
		t.Error("the legend does not name motor and bank")
	}
	const scale, aft = (720 - 64 - 14) / 6.5, 64.0 // user units a metre, and where the aft end lies
	var found []string
	for _, m := range regexp.MustCompile(`<rect x="([0-9.]+)" y="[0-9.]+" width="([0-9.]+)" height="([0-9.]+)" `+
		`rx="[0-9.]+" fill="none" stroke="#1b2a30" stroke-width="1.1" stroke-dasharray="4 2.5"`).FindAllStringSubmatch(
		p.SVG, -1) {
		var v [3]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(m[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		found = append(found, fmt.Sprintf("%.2f x %.2f at %.2f", v[1]/scale, v[2]/scale, (v[0]+v[1]/2-aft)/scale))
	}
	want := []string{"0.40 x 0.28 at 1.30", "1.35 x 0.40 at 2.99"}
	if fmt.Sprint(found) != fmt.Sprint(want) {
		t.Errorf("below decks there is %v, want %v", found, want)
	}
}

// A book without offsets has no lines to draw: the pictures are empty, and nothing fails.
func TestWithoutOffsetsNothingIsDrawn(t *testing.T) {
	e := enginetest.Small()[pack.Yard]
	b := enginetest.Answer(t, e, enginetest.Teasel(t)).Build
	list, err := look.Drawn(e, b, measure.Sea, false, look.Profile, look.YardProfile, look.Plan, look.SectionsPicture,
		look.LeversPicture, look.RangePicture, look.SolarPicture)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range list {
		if p.SVG != "" {
			t.Errorf("picture %d, %q, is drawn", i, p.ID)
		}
	}
}

// What does not fit together is an error that names it, and no drawing.
func TestEnclosureWithoutATopIsRefused(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	p, err := look.Profile(e, bare(t, e, optionDrawn(t, e, "enclosure-full")), drawing.Format{})
	if err == nil || !strings.Contains(err.Error(), "hangs from a top, and none is up") || p.SVG != "" {
		t.Errorf("error %v", err)
	}
}
