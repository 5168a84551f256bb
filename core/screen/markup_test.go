package screen_test

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
	"unicode"
)

// element is an element of parsed markup. Text is all the text in it.
type element struct {
	name     string
	attr     map[string]string
	text     string
	parent   *element
	children []*element
	ids      map[string]*element // of the document
}

// voids are the elements of HTML without an end tag that the page uses.
var voids = map[string]bool{"input": true, "br": true, "img": true, "meta": true, "link": true}

// parse reads markup strictly: every tag is closed in its order, and nothing but tags begins with <.
func parse(t testing.TB, markup string) *element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(readable(markup)))
	d.Strict = false // attributes without a value
	root := &element{name: "#document", ids: map[string]*element{}}
	top := root
	var text strings.Builder
	begins := map[*element]int{} // where in the text
	for {
		token, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("parsing: %v in %.2000s", err, markup)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := &element{name: token.Name.Local, attr: map[string]string{}, parent: top}
			for _, a := range token.Attr {
				if _, twice := e.attr[a.Name.Local]; twice {
					t.Errorf("<%s> has %s twice", e.name, a.Name.Local)
				}
				e.attr[a.Name.Local] = a.Value
			}
			top.children = append(top.children, e)
			root.ids[e.attr["id"]] = e
			if !voids[e.name] {
				top, begins[e] = e, text.Len()
			}
		case xml.EndElement:
			if top.name != token.Name.Local {
				t.Fatalf("</%s> closes <%s>", token.Name.Local, top.name)
			}
			top.text = text.String()[begins[top]:]
			top = top.parent
		case xml.CharData:
			text.Write(token)
		}
	}
	if top != root {
		t.Fatalf("<%s> is not closed", top.name)
	}
	root.text = text.String()
	return root
}

// readable is a text as the parser gives it back: line ends are one, and what markup cannot hold is a mark.
func readable(s string) string {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(s)
	return strings.Map(func(c rune) rune {
		if unicode.IsControl(c) && c != '\n' && c != '\t' || c == 0xFFFE || c == 0xFFFF {
			return unicode.ReplacementChar
		}
		return c
	}, s)
}

// all lists the elements with one of some names, in order; every element where there is no name.
func (e *element) all(names ...string) []*element {
	var list []*element
	for _, c := range e.children {
		wanted := len(names) == 0
		for _, n := range names {
			wanted = wanted || c.name == n
		}
		if wanted {
			list = append(list, c)
		}
		list = append(list, c.all(names...)...)
	}
	return list
}

// byID finds an element in the whole document.
func (e *element) byID(id string) *element {
	for e.parent != nil {
		e = e.parent
	}
	return e.ids[id]
}

// within says whether an element stands in one with a name.
func (e *element) within(name string) bool {
	for p := e.parent; p != nil; p = p.parent {
		if p.name == name {
			return true
		}
	}
	return false
}
