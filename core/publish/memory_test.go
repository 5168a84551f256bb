package publish_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/book"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

// noted is a memory whose answers are kept as a file keeps them.
type noted map[string]string

func (n noted) how() proof.How {
	return proof.How{
		Recall: func(key string) *proof.Finding {
			text, known := n[key]
			if !known {
				return nil
			}
			f := &proof.Finding{}
			if err := json.Unmarshal([]byte(text), f); err != nil {
				panic(err)
			}
			return f
		},
		Keep: func(key string, f *proof.Finding) {
			text, err := json.Marshal(f)
			if err != nil {
				panic(err)
			}
			n[key] = string(text)
		},
	}
}

// provedBy is a whole report as text, and how many questions were asked for it; "" where the book has errors to begin
// with.
func provedBy(t *testing.T, folder fstest.MapFS, how proof.How) (report string, asked int) {
	t.Helper()
	packs, _, diagnostics, err := publish.Load(folder)
	if err != nil {
		t.Fatal(err)
	}
	if len(book.Errors(diagnostics)) > 0 {
		return "", 0
	}
	p, found, err := publish.Prove(folder, packs[pack.Yard], how)
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.MarshalIndent([]any{p, found}, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text), p.Asked
}

// edited is a random book with one thing changed: a rule, an option, a price, a title.
func (b randomBook) edited(r *rand.Rand, folder fstest.MapFS, t *testing.T) (randomBook, fstest.MapFS) {
	text := func(old, new string) fstest.MapFS {
		out := fstest.MapFS{}
		for name, f := range folder {
			out[name] = f
		}
		out["boat.yaml"] = &fstest.MapFile{Data: []byte(strings.Replace(string(folder["boat.yaml"].Data), old, new, 1))}
		return out
	}
	switch r.IntN(5) {
	case 0:
		return b, text(`price: "10"`, fmt.Sprintf(`price: "%d"`, 11+r.IntN(90)))
	case 1:
		return b, text("title: Option 0", fmt.Sprintf("title: Choice %d", r.IntN(9)))
	case 2: // an option more, in the last slot
		last := &b.slots[len(b.slots)-1]
		last.options = append(append([]int(nil), last.options...), b.options())
	case 3: // a rule less
		if len(b.rules) > 1 {
			b.rules = b.rules[1:]
		}
	default: // a rule changed
		b.rules = append([]randomRule(nil), b.rules...)
		b.rules[r.IntN(len(b.rules))].need = clause{1 + r.IntN(b.options())}
	}
	return b, b.folder(t)
}

// TestKeptAnswersAreThoseOfANewProof edits small books at random, ten times each, and has each edit proved with what
// was kept and without: to the byte the same. A price or a title asks next to nothing anew.
func TestKeptAnswersAreThoseOfANewProof(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 14))
	proofs, anew, all := 0, 0, 0
	for range 30 {
		b := anyBook(r)
		b.slots = append([]randomSlot(nil), b.slots...)
		folder, memory := b.folder(t), noted{}
		for range 10 {
			kept, asked := provedBy(t, folder, memory.how())
			fresh, whole := provedBy(t, folder, proof.How{})
			if kept != fresh {
				t.Fatalf("%s\nproved with what was kept:\n%s\nproved anew:\n%s", folder["boat.yaml"].Data, kept, fresh)
			}
			if _, again := provedBy(t, folder, memory.how()); again > 0 {
				t.Fatalf("%d questions of an unchanged book are asked anew", again)
			}
			if fresh != "" {
				proofs, anew, all = proofs+1, anew+asked, all+whole
			}
			b, folder = b.edited(r, folder, t)
		}
	}
	t.Logf("%d proofs, %d of %d questions asked", proofs, anew, all)
	if proofs < 120 || anew > all*3/4 {
		t.Errorf("%d proofs that asked %d of %d questions make no test", proofs, anew, all)
	}
}
