package publish_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/engine"
	"ribband/core/fit"
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
	p, found, err := publish.Prove(folder, new(source.Cache), packs[pack.Yard], how)
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

// verdicts are what a report says is so, without the boats that show it, the reasons and the words.
func verdicts(p *proof.Proof, found []publish.Diagnostic) string {
	var out strings.Builder
	for _, h := range p.Hulls {
		fmt.Fprintln(&out, h.ID, h.Boats, h.Always, h.Without)
		for _, o := range h.Options {
			fmt.Fprintln(&out, "had", o.Option)
		}
		for _, o := range h.Never {
			fmt.Fprintln(&out, "never", o.Option)
		}
	}
	for _, r := range p.Rules.Effective {
		fmt.Fprintln(&out, "effective", r.Rule)
	}
	fmt.Fprintln(&out, p.Rules.Guards, p.Formulas, p.Open)
	for _, d := range found {
		what, _, _ := strings.Cut(d.Message, " has no effect")
		what, _, _ = strings.Cut(what, " says the same")
		what, _, _ = strings.Cut(what, " can be built")
		what, _, _ = strings.Cut(what, ": ")
		fmt.Fprintln(&out, d.Position, d.Grade, what)
	}
	return out.String()
}

// TestLastingAnswersAreTrue edits small books at random, each many times, and proves them by taking over what lasts:
// what is said is what a new proof says, every boat that is shown is valid in the book as it is, and most questions are
// not asked.
func TestLastingAnswersAreTrue(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 18))
	anew, all := 0, 0
	for range 40 {
		b := anyBook(r)
		folder, memory := b.folder(t), noted{}
		for range 10 {
			packs, _, diagnostics, err := publish.Load(folder)
			if err != nil {
				t.Fatal(err)
			}
			if len(book.Errors(diagnostics)) == 0 {
				how := memory.how()
				how.Lasting = true
				p, found, err := publish.Prove(folder, new(source.Cache), packs[pack.Yard], how)
				if err != nil {
					t.Fatal(err)
				}
				fresh, want, err := publish.Prove(folder, new(source.Cache), packs[pack.Yard], proof.How{})
				if err != nil {
					t.Fatal(err)
				}
				if got, want := verdicts(p, found), verdicts(fresh, want); got != want {
					t.Fatalf("%s\nby what lasts:\n%s\nanew:\n%s", folder["boat.yaml"].Data, got, want)
				}
				witnessesHold(t, packs[pack.Yard], p)
				anew, all = anew+p.Asked, all+fresh.Asked
			}
			b.rules = append([]randomRule(nil), b.rules...)
			switch i := r.IntN(len(b.rules)); {
			case r.IntN(3) == 0 && len(b.rules) > 1: // the last rule less, so that the others keep their names
				b.rules = b.rules[:len(b.rules)-1]
			case r.IntN(2) == 0: // a rule more
				b.rules = append(b.rules, randomRule{need: clause{1 + r.IntN(b.options()), -1 - r.IntN(b.options())}})
			default: // a rule changed
				b.rules[i].need = clause{1 + r.IntN(b.options())}
			}
			folder = b.folder(t)
		}
	}
	t.Logf("%d of %d questions asked", anew, all)
	if all < 2000 || anew > all*3/4 {
		t.Errorf("%d of %d questions asked make no test", anew, all)
	}
}

// witnessesHold builds every boat that a proof shows: those of options are valid, those of rules break no other.
func witnessesHold(t *testing.T, yard *pack.Pack, p *proof.Proof) {
	t.Helper()
	e, err := engine.Compile(yard)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range p.Hulls {
		for _, w := range h.Options {
			if a, err := e.Answer(w.Spec); err != nil || len(a.Build.Clashes) > 0 {
				t.Errorf("the boat of %s clashes: %v", w.Option, err)
			}
		}
	}
	for _, w := range p.Rules.Effective {
		a, err := e.Answer(w.Spec)
		if err != nil {
			t.Fatal(err)
		}
		if c := a.Build.Clashes; len(c) != 1 || c[0].Kind != fit.Broken || yard.Rules[c[0].Index].ID != w.Rule {
			t.Errorf("the boat that breaks %s alone clashes in %v", w.Rule, c)
		}
	}
}
