package pack_test

import (
	"bytes"
	"testing"

	"ribband/core/pack"
)

// FuzzDecode reads damaged packs. What is read is written back the same, and answers without a panic. Run it with
// -fuzzminimizetime 10x: the seeds are long.
func FuzzDecode(f *testing.F) {
	for _, p := range published(f, smallBook) {
		f.Add(encode(f, p))
	}
	f.Add([]byte(`{"format":1,"desk":"buyer","currency":"EUR","rounding":"half-up","region":-1,"prices":{"base":[],"options":[]}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := pack.Decode(text)
		if err != nil {
			return
		}
		again := encode(t, p)
		q, err := pack.Decode(again)
		if err != nil {
			t.Fatalf("what was read is written as %s, which is not read: %v", again, err)
		}
		if third := encode(t, q); !bytes.Equal(third, again) {
			t.Fatalf("written twice: %s and %s", again, third)
		}
		answerStandards(t, p, text)
	})
}
