package publish_test

import (
	"maps"
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

// edits are what an owner does to the demo book between two checks, from what changes no boat to what may change all.
var edits = []struct {
	name, file, old, now string
	lasting              bool
}{
	{name: "nothing"},
	{name: "a price", file: "deck/options.yaml", old: `price: "145"`, now: `price: "150"`},
	{name: "a word", file: "deck/rules.yaml", old: "A boat above 1700 kg", now: "A boat beyond 1700 kg"},
	{name: "a rule", file: "deck/rules.yaml", old: "when: figures.mass_kg > 1700", now: "when: figures.mass_kg > 1690"},
	{name: "a rule, by what lasts", file: "deck/rules.yaml", old: "when: figures.mass_kg > 1700",
		now: "when: figures.mass_kg > 1690", lasting: true},
}

// BenchmarkProof is the proof of the demo book, and of an edition of it with the answers of the one before.
func BenchmarkProof(b *testing.B) {
	before, kept := overlay(b, demoBook), noted{}
	b.Run("anew", func(b *testing.B) { benchmarkProof(b, before, func() proof.How { return proof.How{} }) })
	remember(b, before, kept.how())
	for _, e := range edits {
		after := maps.Clone(before)
		if e.file != "" {
			text := string(before[e.file].Data)
			if strings.Count(text, e.old) == 0 {
				b.Fatalf("%s has no %q", e.file, e.old)
			}
			after[e.file] = &fstest.MapFile{Data: []byte(strings.Replace(text, e.old, e.now, 1))}
		}
		b.Run("after "+e.name, func(b *testing.B) {
			benchmarkProof(b, after, func() proof.How {
				how := maps.Clone(kept).how()
				how.Lasting = e.lasting
				return how
			})
		})
	}
}

// benchmarkProof proves a book that was read and checked before, as a check does.
func benchmarkProof(b *testing.B, folder fstest.MapFS, how func() proof.How) {
	asked := 0
	for b.Loop() {
		b.StopTimer()
		yard, files, memory := loadedYard(b, folder), new(source.Cache), how()
		if _, _, err := files.Read(folder); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		p, _, err := publish.Prove(folder, files, yard, memory)
		if err != nil {
			b.Fatal(err)
		}
		asked = p.Asked
	}
	b.ReportMetric(float64(asked), "questions")
}

// remember fills a memory.
func remember(b *testing.B, folder fstest.MapFS, how proof.How) {
	if _, _, err := publish.Prove(folder, new(source.Cache), loadedYard(b, folder), how); err != nil {
		b.Fatal(err)
	}
}

// loadedYard is the yard's pack of a book without errors.
func loadedYard(b *testing.B, folder fstest.MapFS) *pack.Pack {
	packs, _, diagnostics, err := publish.Load(folder)
	if err != nil || len(book.Errors(diagnostics)) > 0 {
		b.Fatal(err, diagnostics)
	}
	return packs[pack.Yard]
}
