package export

import "strings"

// element is one of XML. It has a text or other elements; one that has neither is left out, so that a writer says what
// belongs where and need not ask what there is.
type element struct {
	name     string
	attrs    []string // name and value by turns
	text     string
	children []element
}

// el is an element of others.
func el(name string, children ...element) element { return element{name: name, children: children} }

// leaf is an element of text with its attributes.
func leaf(name, text string, attrs ...string) element {
	return element{name: name, text: text, attrs: attrs}
}

// each makes elements of a list.
func each[T any](list []T, of func(T) element) (out []element) {
	for _, x := range list {
		out = append(out, of(x))
	}
	return out
}

// empty says that nothing would be written.
func (e *element) empty() bool {
	if e.text != "" {
		return false
	}
	for i := range e.children {
		if !e.children[i].empty() {
			return false
		}
	}
	return true
}

// xml writes an element as a document, indented, since people look into such files.
func xml(e element) []byte {
	var b strings.Builder
	b.WriteString("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	e.write(&b, "")
	return []byte(b.String())
}

// write writes what is not empty. Text stands without line breaks about it: they would belong to it.
func (e *element) write(b *strings.Builder, indent string) {
	if e.empty() {
		return
	}
	b.WriteString(indent + "<" + e.name)
	for i := 0; i+1 < len(e.attrs); i += 2 {
		b.WriteString(" " + e.attrs[i] + `="` + escaped(e.attrs[i+1]) + `"`)
	}
	b.WriteString(">")
	if e.text != "" {
		b.WriteString(escaped(e.text))
	} else {
		b.WriteString("\n")
		for i := range e.children {
			e.children[i].write(b, indent+"  ")
		}
		b.WriteString(indent)
	}
	b.WriteString("</" + e.name + ">\n")
}

// escaped is a text in XML, in an attribute too. What XML cannot say at all is written as what stands for the unknown.
//
// Source: XML 1.0, 2.2 (characters) and 2.11 (line ends: a bare carriage return would be read as a line feed).
func escaped(text string) string {
	var b strings.Builder
	for _, c := range text { // what is no UTF-8 comes as U+FFFD
		switch {
		case c == '&':
			b.WriteString("&amp;")
		case c == '<':
			b.WriteString("&lt;")
		case c == '>':
			b.WriteString("&gt;")
		case c == '"':
			b.WriteString("&#34;")
		case c == '\t', c == '\n', c == '\r':
			b.WriteString([]string{"&#9;", "&#10;", "", "", "&#13;"}[c-'\t'])
		case c < ' ', c == 0xfffe, c == 0xffff:
			b.WriteRune('\ufffd')
		default:
			b.WriteRune(c)
		}
	}
	return b.String()
}
