// Package office has the words of papers that only the command line makes: those of orders, which a yard's office
// writes. They are apart from the other words (package msg), so that the engine in the page does not carry them.
package office

import (
	"embed"
	"sync"

	"ribband/core/msg"
)

//go:embed *.json
var files embed.FS

// kept are the languages that were asked for, by tag: a file is read once.
var kept sync.Map

// Words is a language with the words of the office beside its own. A language that has no such file gets the English
// ones.
func Words(l *msg.Language) *msg.Language {
	if known, ok := kept.Load(l.Tag()); ok {
		return known.(*msg.Language)
	}
	own := l
	// first English, so that a text that a translator has not come to yet is there
	for _, name := range []string{"en.json", l.Tag() + ".json"} {
		file, err := files.ReadFile(name)
		if err != nil {
			continue
		}
		if own, err = own.With(name, file); err != nil {
			panic("core/msg/office/" + err.Error()) // it is compiled in, and tests read it
		}
	}
	kept.Store(l.Tag(), own)
	return own
}
