package publish_test

import (
	"testing"
	"time"

	"ribband/core/book/synthetic"
	"ribband/core/brief"
	"ribband/core/pack"
	"ribband/core/publish"
)

func TestTmpBrief(t *testing.T) {
	for _, times := range []int{1, 10, 100} {
		grown, err := synthetic.Grow(readDemo(t), times, 7)
		if err != nil {
			t.Fatal(err)
		}
		yard, _ := publish.Compile(grown)
		publish.Tabulate(yard)
		text, _ := publish.For(yard, pack.Buyer).Encode()
		p, _ := pack.Decode(text)
		e := compiled(t, p)
		t0 := time.Now()
		a, err := brief.Find(e, brief.Brief{Format: brief.Format, Wishes: map[string]brief.Value{"persons": {Number: 6},
			"range": {Number: 25}, "speed": {Number: 5}, "weather": {Yes: true}}})
		if err != nil {
			t.Fatal(err)
		}
		t.Log(times, len(p.Slots), len(p.Rules), len(p.Brief.Slots), len(p.Options), a.Checked, len(a.Boats), a.Proved, time.Since(t0))
	}
}
