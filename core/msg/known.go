package msg

import "sync"

// learnt are the languages beside English that this program has read, by tag.
var (
	learnt  = map[string]*Language{}
	reading sync.Mutex
)

// Learn lets [Named] find a language from now on. The page has the file of a language from its worker, when a person
// reads that language; native programs carry all of them.
func Learn(l *Language) {
	reading.Lock()
	defer reading.Unlock()
	learnt[l.Tag()] = l
}

// Named is a language by its tag, if this program has it.
func Named(tag string) (*Language, bool) {
	if tag == English.Tag() {
		return English, true
	}
	reading.Lock()
	l := learnt[tag]
	reading.Unlock()
	if l != nil {
		return l, true
	}
	file, ok := File(tag)
	if !ok {
		return nil, false
	}
	l, err := Read(tag+".json", file)
	if err != nil {
		panic(err) // it is compiled in, and tests read it
	}
	Learn(l)
	return l, true
}

// NameOf is what a language calls itself, known of every locale without its file: a list of languages has each in its
// own words. Source: Unicode CLDR, by golang.org/x/text.
func NameOf(tag string) string {
	if l, ok := localeOf(tag); ok {
		return l.self
	}
	return tag
}
