package formula

import (
	"testing"

	"pgregory.net/rapid"
)

// Whatever boat of the box is looked at, formulas keep within the bounds, truth values are among those said possible,
// and a number that is not finite comes only where a division was said not to be sound.
func TestPropertyBoundsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, err := Parse(programText(t, rapid.SampledFrom([]Kind{Number, Truth}).Draw(t, "kind"), 4))
		if err != nil {
			t.Fatal(err)
		}
		box := &Box{HullID: rapid.IntRange(0, 2).Draw(t, "hull")}
		st := &State{HullID: box.HullID}
		whole := func(label string) (Interval, int) {
			lo := rapid.IntRange(0, 2).Draw(t, label)
			hi := rapid.IntRange(lo, 3).Draw(t, label)
			return Interval{float64(lo), float64(hi)}, rapid.IntRange(lo, hi).Draw(t, label)
		}
		for range space.Options {
			b, n := whole("count")
			box.Counts, st.Counts = append(box.Counts, b), append(st.Counts, n)
		}
		for range space.Slots {
			b, n := whole("slot")
			box.Slots, st.Slots = append(box.Slots, b), append(st.Slots, n)
		}
		number := rapid.Float64Range(-20, 20)
		for range space.Hull {
			st.Hull = append(st.Hull, number.Draw(t, "field"))
		}
		for range space.Use {
			lo := number.Draw(t, "lo")
			hi := rapid.Float64Range(lo, 21).Draw(t, "hi")
			box.Use = append(box.Use, Interval{lo, hi})
			st.Use = append(st.Use, rapid.Float64Range(lo, hi).Draw(t, "use"))
		}
		box.Hull = st.Hull
		for range space.Figures {
			lo := number.Draw(t, "lo")
			hi := rapid.Float64Range(lo, 21).Draw(t, "hi")
			box.Figures, st.Figures = append(box.Figures, Interval{lo, hi}),
				append(st.Figures, rapid.Float64Range(lo, hi).Draw(t, "figure"))
		}
		if p.Kind() == Truth {
			v, sound := p.Judge(box)
			if got := p.Truth()(st); sound && (got && !v.MayHold || !got && !v.MayFail) {
				t.Fatalf("%s gives %v, which was said impossible: %+v", p, got, v)
			}
			return
		}
		b, sound := p.Bounds(box)
		got := p.Number()(st)
		if sound && !(got >= b.Lo && got <= b.Hi) {
			t.Fatalf("%s gives %v outside of %v", p, got, b)
		}
	})
}
