package msg

import (
	"fmt"
	"strconv"
	"strings"
)

// The texts are a subset of the message syntax of ICU:
//
//	text   = { literal | "{" name "}" | "{" name "," "plural" "," arms "}" |
//	           "{" name "," "select" "," arms "}" | "#" }
//	arms   = { selector "{" text "}" }, with an arm "other"
//
// In the arms of a plural, "#" is the number. A selector of a plural is zero, one, two, few, many, other, or "=" and a
// whole number, which goes before the others. An apostrophe before a brace, and before "#" in a plural, quotes up to
// the next apostrophe; two apostrophes are one; any other apostrophe is itself. Types of arguments come from the
// program (typed arguments), so that "{n, number}" and the like are not part of it.
//
// Source: ICU user guide, Formatting Messages; com.ibm.icu.text.MessageFormat, MessagePattern.ApostropheMode
// DOUBLE_OPTIONAL; from memory.

// node is a part of a text: a literal, or an argument with its arms, if it has some. A text is parsed to a list of them
// once and written many times.
type node struct {
	literal string
	name    string
	plural  bool
	hash    bool // the number of the plural around it
	arms    []arm
}

// arm is what a plural or a select says in one case.
type arm struct {
	key  string
	text []node
}

// deepest is how deep arms may stand in arms: more is a slip, and a reader that recurses wants a limit.
const deepest = 8

// plurals are the categories of CLDR.
const plurals = " zero one two few many other "

type parser struct {
	text string
	at   int // byte
}

// parse reads a text. Errors begin with the byte at which they are.
func parse(text string) ([]node, error) {
	p := parser{text: text}
	nodes, err := p.nodes(0, false)
	if err == nil && p.at < len(text) {
		err = p.wrong("a closing brace without an opening one; write '}' to show it")
	}
	return nodes, err
}

func (p *parser) wrong(format string, args ...any) error {
	return fmt.Errorf("at byte %d: "+format, append([]any{p.at}, args...)...)
}

// nodes reads up to the end or to the brace that closes an arm.
func (p *parser) nodes(depth int, plural bool) ([]node, error) {
	var nodes []node
	var literal strings.Builder
	flush := func() {
		if literal.Len() > 0 {
			nodes = append(nodes, node{literal: literal.String()})
			literal.Reset()
		}
	}
	for p.at < len(p.text) && p.text[p.at] != '}' {
		switch c := p.text[p.at]; {
		case c == '\'':
			p.quoted(&literal, plural)
		case c == '{':
			flush()
			n, err := p.argument(depth, plural)
			if err != nil {
				return nil, err
			}
			nodes = append(nodes, n)
		case c == '#' && plural:
			flush()
			nodes = append(nodes, node{hash: true})
			p.at++
		default:
			literal.WriteByte(c)
			p.at++
		}
	}
	flush()
	return nodes, nil
}

// quoted reads an apostrophe and what it quotes.
func (p *parser) quoted(literal *strings.Builder, plural bool) {
	p.at++
	next := byte(0)
	if p.at < len(p.text) {
		next = p.text[p.at]
	}
	switch {
	case next == '\'':
		literal.WriteByte('\'')
		p.at++
		return
	case next != '{' && next != '}' && (next != '#' || !plural):
		literal.WriteByte('\'')
		return
	}
	for p.at < len(p.text) {
		c := p.text[p.at]
		p.at++
		if c == '\'' {
			if p.at >= len(p.text) || p.text[p.at] != '\'' {
				return
			}
			p.at++
		}
		literal.WriteByte(c)
	}
}

// argument reads from an opening brace past the closing one.
func (p *parser) argument(depth int, plural bool) (node, error) {
	p.at++
	n := node{name: p.word()}
	if n.name == "" {
		return n, p.wrong("want the name of an argument after the brace, as in {name}")
	}
	if p.next('}') {
		return n, nil
	}
	if !p.next(',') {
		return n, p.wrong("want a closing brace or a comma after {%.40s", n.name)
	}
	switch kind := p.word(); kind {
	case "plural":
		n.plural, plural = true, true
	case "select":
	default:
		return n, p.wrong("{%.40s, %.40s is neither plural nor select", n.name, kind)
	}
	if !p.next(',') {
		return n, p.wrong("want a comma and the arms of {%.40s", n.name)
	}
	if depth == deepest {
		return n, p.wrong("more than %d arguments in each other; shorten the text", deepest)
	}
	other := false
	for !p.next('}') {
		a, err := p.arm(depth, n.plural, plural)
		if err != nil {
			return n, err
		}
		for _, before := range n.arms {
			if before.key == a.key {
				return n, p.wrong("{%.40s has two arms %q", n.name, a.key)
			}
		}
		other = other || a.key == "other"
		n.arms = append(n.arms, a)
	}
	if !other {
		return n, p.wrong("{%.40s has no arm \"other\"", n.name)
	}
	return n, nil
}

// arm reads one selector and its text. Counts says that the selectors are those of a plural; plural, that "#" is a
// number in the text, since a plural is around it.
func (p *parser) arm(depth int, counts, plural bool) (arm, error) {
	a := arm{}
	if counts && p.next('=') {
		a.key = p.word()
		if n, err := strconv.ParseUint(a.key, 10, 31); err != nil || strconv.FormatUint(n, 10) != a.key {
			return a, p.wrong("want a whole number after the equals sign, as in =0 {none}")
		}
		a.key = "=" + a.key
	} else if a.key = p.word(); a.key == "" {
		return a, p.wrong("want an arm, as in other {text}, or a closing brace")
	} else if counts && !strings.Contains(plurals, " "+a.key+" ") {
		return a, p.wrong("%.40q is no plural; give zero, one, two, few, many, other or =0", a.key)
	}
	if !p.next('{') {
		return a, p.wrong("want a text in braces after %.40s", a.key)
	}
	var err error
	if a.text, err = p.nodes(depth+1, plural); err != nil {
		return a, err
	}
	if p.at >= len(p.text) {
		return a, p.wrong("the brace after %.40s is not closed", a.key)
	}
	p.at++
	return a, nil
}

// next skips blanks and takes c, if it comes.
func (p *parser) next(c byte) bool {
	p.blanks()
	if p.at < len(p.text) && p.text[p.at] == c {
		p.at++
		return true
	}
	return false
}

func (p *parser) blanks() {
	for p.at < len(p.text) && strings.IndexByte(" \t\r\n", p.text[p.at]) >= 0 {
		p.at++
	}
}

// word skips blanks and reads a name: ASCII letters, digits, hyphens and underscores; "" where there is none. No other
// letters: names and selectors are words of the program.
func (p *parser) word() string {
	p.blanks()
	from := p.at
	for p.at < len(p.text) {
		c := p.text[p.at]
		if c|0x20 >= 'a' && c|0x20 <= 'z' || c >= '0' && c <= '9' || c == '-' || c == '_' {
			p.at++
			continue
		}
		break
	}
	return p.text[from:p.at]
}
