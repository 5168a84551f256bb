package msg

import (
	"encoding/json"
	"fmt"
	"strings"
	"sync/atomic"
)

// entry is a text of a file, parsed when it is first wanted: most messages of a language are never shown. Two
// goroutines may parse it at the same time; they come to the same, and either is kept.
type entry struct {
	raw    string // as it stands in the file between the quotes
	parsed atomic.Pointer[[]node]
}

// nodes is the parsed text. A text that cannot be parsed is shown as it is; [Read] has refused such a file.
func (e *entry) nodes() []node {
	if p := e.parsed.Load(); p != nil {
		return *p
	}
	text := e.text()
	nodes, err := parse(text)
	if err != nil {
		nodes = []node{{literal: text}}
	}
	e.parsed.Store(&nodes)
	return nodes
}

// text undoes the escapes of JSON.
func (e *entry) text() string {
	if !strings.Contains(e.raw, `\`) {
		return e.raw
	}
	var s string
	if err := json.Unmarshal([]byte(`"`+e.raw+`"`), &s); err != nil {
		return e.raw
	}
	return s
}

// scan reads a file of texts: one flat object of JSON whose values are strings. It looks at each byte once and copies
// none, since the whole English file passes through it when the page opens. Codes and texts are slices of the file.
// encoding/json would copy each, and undo escapes of texts that nobody reads.
func scan(file string) (map[Code]*entry, error) {
	texts := make(map[Code]*entry, strings.Count(file, "\n"))
	s := scanner{file: file}
	if !s.take('{') {
		return nil, s.wrong("want an opening brace")
	}
	for first := true; !s.take('}'); first = false {
		if !first && !s.take(',') {
			return nil, s.wrong("want a comma or a closing brace")
		}
		code, ok := s.quoted()
		if !ok || !s.take(':') {
			return nil, s.wrong("want a code and a colon, as in \"capacity.persons\": \"…\"")
		}
		raw, ok := s.quoted()
		if !ok {
			return nil, s.wrong("want the text of %.60q in quotes on one line", code)
		}
		if texts[Code(code)] != nil {
			return nil, s.wrong("the code %.60q is there twice", code)
		}
		texts[Code(code)] = &entry{raw: raw}
	}
	if s.blanks(); s.at < len(file) {
		return nil, s.wrong("something comes after the closing brace")
	}
	return texts, nil
}

// scanner reads the few forms of JSON that such a file has.
type scanner struct {
	file string
	at   int
}

// wrong is an error at the place that was reached, by line and column as editors count them.
func (s *scanner) wrong(format string, args ...any) error {
	before := s.file[:min(s.at, len(s.file))]
	line := strings.Count(before, "\n") + 1
	column := len(before) - strings.LastIndexByte(before, '\n')
	return fmt.Errorf("%d:%d: "+format, append([]any{line, column}, args...)...)
}

func (s *scanner) blanks() {
	for s.at < len(s.file) && strings.IndexByte(" \t\r\n", s.file[s.at]) >= 0 {
		s.at++
	}
}

func (s *scanner) take(c byte) bool {
	s.blanks()
	if s.at < len(s.file) && s.file[s.at] == c {
		s.at++
		return true
	}
	return false
}

// quoted reads a string of JSON without undoing its escapes.
func (s *scanner) quoted() (string, bool) {
	if !s.take('"') {
		return "", false
	}
	from := s.at
	for ; s.at < len(s.file); s.at++ {
		switch c := s.file[s.at]; {
		case c == '"':
			s.at++
			return s.file[from : s.at-1], true
		case c == '\\':
			s.at++
		case c < ' ':
			return "", false
		}
	}
	return "", false
}
