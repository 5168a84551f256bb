package book

import (
	"reflect"
	"slices"
)

// Damage. Reading goes on behind what is wrong, so that one round shows every fault. What it could not read is kept
// here, so that the checks that follow do not take what is missing for a fault of its own: a name that stands only
// where a file is damaged is not unknown, and a key that could not be read is not missing.

// damage is what reading a book left out.
type damage struct {
	// where mappings and their identifiers stand in which something could not be read
	half map[Position]bool
	// nothing of some file could be read
	unread bool
	// top-level keys below which something could not be read
	keys map[string]bool
	// identifiers that stand where nothing could be read, with the error that says so
	lost map[string]Position
	// how many faults follow from an error
	follow map[Position]int
	// where the top-level keys and their entries begin, in the order of the files
	spots []Spot
}

// Spot is where a top-level key of a file begins, or an entry of its list.
type Spot struct {
	At Position
	// Where the words begin that it was made of, if that is elsewhere: the row of a table.
	Row Position
	// The key at the top of the file.
	Key string
	// It is an entry of the list below the key; an option of a slot is one, too.
	Entry bool
	// It could not be read.
	Lost bool
}

// Mark notes a place.
func (b *Book) Mark(p Spot) { b.damage.spots = append(b.damage.spots, p) }

// MarkHalf notes that something in a mapping could not be read: what is wrong with the whole of it may follow from
// that.
func (b *Book) MarkHalf(at ...Position) {
	if b.damage.half == nil {
		b.damage.half = map[Position]bool{}
	}
	for _, p := range at {
		b.damage.half[p] = true
	}
}

// MarkDamaged notes that something below a top-level key could not be read.
func (b *Book) MarkDamaged(key string) {
	if b.damage.keys == nil {
		b.damage.keys = map[string]bool{}
	}
	b.damage.keys[key] = true
}

// Lose notes identifiers that stand where nothing could be read, with the error that says so.
func (b *Book) Lose(at Position, ids ...string) {
	if b.damage.lost == nil {
		b.damage.lost = map[string]Position{}
	}
	for _, id := range ids {
		if _, ok := b.damage.lost[id]; !ok {
			b.damage.lost[id] = at
		}
	}
}

// Follows says whether a name that leads nowhere stands where the book could not be read. It is counted then as a
// consequence of the error there, and is no fault of its own.
func (b *Book) Follows(id string) bool {
	at, ok := b.damage.lost[id]
	if ok {
		if b.damage.follow == nil {
			b.damage.follow = map[Position]int{}
		}
		b.damage.follow[at]++
	}
	return ok
}

// Damaged says whether something could not be read, below a top-level key or, without one, anywhere.
func (b *Book) Damaged(key string) bool {
	if key == "" {
		return len(b.damage.keys) > 0
	}
	return b.damage.keys[key]
}

// MarkUnread notes that nothing of a file could be read, so that nothing can be said of what is missing.
func (b *Book) MarkUnread() { b.damage.unread = true }

// Unread says whether nothing of some file could be read.
func (b *Book) Unread() bool { return b.damage.unread }

// SpotOf is the entry or top-level key in which something stands; false where it stands in none.
func (b *Book) SpotOf(at Position) (Spot, bool) {
	best, begin, found := Spot{}, Position{}, false
	for _, p := range b.damage.spots {
		from := p.At
		if p.Row.File != "" {
			from = p.Row
		}
		// of two that begin together the later one was marked deeper
		if from.File == at.File && !from.After(at) && (!found || !begin.After(from)) {
			best, begin, found = p, from, true
		}
	}
	return best, found
}

// After says whether a position stands behind another one of the same file.
func (p Position) After(q Position) bool {
	return p.Line > q.Line || p.Line == q.Line && p.Column > q.Column
}

// Start is where a value of the book begins in the files: the first position that stands in it.
func Start(v reflect.Value) (at Position) {
	switch v.Kind() {
	case reflect.Struct:
		if p, ok := v.Interface().(Position); ok {
			return p
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				at = earlier(at, Start(v.Field(i)))
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			at = earlier(at, Start(v.Index(i)))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			at = Start(v.Elem())
		}
	}
	return at
}

// earlier is the first of two positions; one without a file is none.
func earlier(a, b Position) Position {
	if a.File == "" || b.File == a.File && a.After(b) {
		return b
	}
	return a
}

// own leaves out what follows from a damage: it stands nowhere, or it is said of the whole of a mapping that could be
// read in part alone.
func (b *Book) own(list []Diagnostic) []Diagnostic {
	if !b.Damaged("") {
		return list
	}
	return slices.DeleteFunc(list, func(d Diagnostic) bool { return d.File == "" || b.damage.half[d.Position] })
}
