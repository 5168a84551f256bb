package quote_test

import (
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
)

// FuzzDecode: no text makes reading a quote panic, and what is read can be written and read again.
func FuzzDecode(f *testing.F) {
	e := enginetest.Small()[pack.Show]
	f.Add(enginetest.Frozen(f, e, discounted(enginetest.Teasel(f, "top=top-fixed", "stowage=pocket*2"),
		"0.03")).Encode())
	f.Add(quote.Draft(e, enginetest.Answer(f, e, enginetest.Abroad(enginetest.Teasel(f, "cloth=cloth-heavy",
		"top=top-folding")))).Encode())
	f.Add([]byte(`{"format":1,"kind":"quote of a launch","spec":{"format":1,"hull":"teasel-48","use":{"persons":null}}}`))
	f.Add([]byte(`{"format":1,"kind":"quote of a launch","spec":{"format":1,"hull":"\ud800","extras":[{"id":"a","title":"A","price":"1e9","hours":{"x":"-1"}}]}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		q, err := quote.Decode(text)
		if err != nil {
			return
		}
		again, err := quote.Decode(q.Encode())
		if err != nil {
			t.Fatalf("what was written is not read: %v", err)
		}
		if string(again.Encode()) != string(q.Encode()) {
			t.Fatal("it is written in another way the second time")
		}
		if fresh, _, _, err := quote.Reopen(e, q); err == nil && fresh == nil {
			t.Fatal("reopened to nothing")
		}
		quote.Compare(q, again)
	})
}

// FuzzAnswer: no spec that can be read makes the engine panic, on any desk; what is answered can be drafted, and
// changed further.
func FuzzAnswer(f *testing.F) {
	for _, s := range enginetest.DemoSpecs(f) {
		f.Add(s.Encode())
	}
	f.Add([]byte(`{"format":1,"hull":"reed-65","choices":{"fenders":{"nothing":1000},"bank":{}},"use":{"persons":1e300,"region":"us","speed_kn":-0.0,"water":"salt"}}`))
	f.Add([]byte(`{"format":1,"hull":"sedge-46","extras":[{"id":"a","title":"A","price":"-999999999999999","cost":"1","hours":{"assembly":"1"}}],"discounts":[{"title":"D","on":"a","share":"1"}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := spec.Decode(text)
		if err != nil {
			return
		}
		for _, desk := range pack.Desks {
			e := enginetest.Demo()[desk]
			a, err := e.Answer(s)
			if err != nil {
				continue
			}
			q := quote.Draft(e, a)
			if _, err := quote.Decode(q.Encode()); err != nil {
				t.Fatalf("the draft is not read: %v", err)
			}
			sheet.ForYard(e, a, quote.Details{})
			usable := e.Usable(a)
			if _, err := e.Answer(usable); err != nil {
				t.Fatalf("what is usable is not answered: %v", err)
			}
			if _, _, err := e.Apply(a, engine.Empty{Slot: e.Pack.Slots[len(text)%len(e.Pack.Slots)].ID}); err != nil {
				t.Fatal(err)
			}
		}
	})
}
