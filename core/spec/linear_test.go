package spec

import (
	"fmt"
	"strings"
	"testing"
)

// flawed is a spec of some size with something wrong near its end: a choice that is no count, a key that is unknown,
// or one that stands twice, all of which are looked for only after the text was read.
func flawed(entries int, fault string) []byte {
	var b strings.Builder
	b.WriteString(`{"format":1,"hull":"reed-65","choices":{`)
	for i := range entries {
		fmt.Fprintf(&b, `"slot-%06d":{"option-%06d":1},`, i, i)
	}
	b.WriteString(`"last":{` + fault + `}}}`)
	return []byte(b.String())
}

// faultsAtTheEnd are found by the reader of types, by the reader of counts, and by the search for keys.
var faultsAtTheEnd = map[string]string{"type": `"a":"1"`, "null": `"a":{}`, "twice": `"a":1,"a":1`}

// brokenLink is a link of which no part can be read, or every part names a slot that is kept and was not chosen.
func brokenLink(bytes int, part string) string {
	return "1/reed-65/" + strings.Repeat(part, bytes/len(part))
}

// Work is counted by what is put into memory, which does not depend on the machine or on its load. Twice the text takes
// twice the work, and a damaged one a few times that of a sound one: looking for the place took forty times as long.
func TestReadingIsLinear(t *testing.T) {
	// once is enough: the same text takes the same memory each time
	work := func(read func()) float64 { return testing.AllocsPerRun(1, read) }
	sound := work(func() { _, _ = Strictly[Spec](flawed(8_000, `"a":1`), maxBytes) })
	for name, fault := range faultsAtTheEnd {
		short, long := flawed(8_000, fault), flawed(16_000, fault)
		if _, err := Decode(long); err == nil || !strings.Contains(err.Error(), "column 5") {
			t.Fatalf("%s: %v", name, err)
		}
		// 2.2 for lists that grow by doubling; 8 for a walk beside the types, each value of which is read by itself
		one, two := work(func() { _, _ = Decode(short) }), work(func() { _, _ = Decode(long) })
		if two > 2.2*one || one > 8*sound {
			t.Errorf("%s: %.0f pieces of memory for %d bytes, %.0f for %d, and %.0f where nothing is wrong", name, one,
				len(short), two, len(long), sound)
		}
	}
	// parts that are kept and were not chosen, of no hull, without a mark, with one that is wrong, counted as nothing
	for _, part := range []string{"a!/", "a=b/", "x/", "a:1e9/", "a=b*0/"} {
		short, long := brokenLink(maxLink/2-100, part), brokenLink(maxLink-100, part)
		one, two := work(func() { FromLink(short) }), work(func() { FromLink(long) })
		if two > 2.2*one+50 {
			t.Errorf("a link of %q: %.0f pieces of memory, and %.0f for twice as much", part, one, two)
		}
		if _, damage := FromLink(long); len(damage) > maxDamage+2 {
			t.Errorf("a link of %q: %d messages", part, len(damage))
		}
	}
	if allocated := work(func() { FromLink(brokenLink(1<<20, "x/")) }); allocated > 50 {
		t.Errorf("a link that is too long is read: %.0f pieces of memory", allocated)
	}
}

// go test ./core/spec -run xxx -bench Damaged: twice the bytes, twice the time.
func BenchmarkDamaged(b *testing.B) {
	for _, entries := range []int{8_000, 16_000} {
		text := flawed(entries, `"a":"1"`)
		b.Run(fmt.Sprintf("spec of %d kB", len(text)>>10), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if _, err := Decode(text); err == nil {
					b.Fatal("it is sound")
				}
			}
		})
	}
	for _, size := range []int{maxLink / 2, maxLink, 1 << 20} {
		link := brokenLink(size-20, "x/")
		b.Run(fmt.Sprintf("link of %d kB", size>>10), func(b *testing.B) {
			b.SetBytes(int64(len(link)))
			for b.Loop() {
				FromLink(link)
			}
		})
	}
}
