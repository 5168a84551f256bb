package paper_test

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
	children []*element
}

// voids are the elements of HTML without an end tag that our papers use.
var voids = map[string]bool{"meta": true, "br": true, "hr": true, "img": true, "input": true, "link": true}

// parse reads markup strictly: every tag is closed in its order, and nothing but tags begins with <.
func parse(t testing.TB, markup string) *element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(readable(markup)))
	d.Strict = false // attributes without a value
	root := &element{name: "#document"}
	open := []*element{root}
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
		top := open[len(open)-1]
		switch token := token.(type) {
		case xml.StartElement:
			e := &element{name: token.Name.Local, attr: map[string]string{}}
			for _, a := range token.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			top.children = append(top.children, e)
			if !voids[e.name] {
				open, begins[e] = append(open, e), text.Len()
			}
		case xml.EndElement:
			if top.name != token.Name.Local {
				t.Fatalf("</%s> closes <%s>", token.Name.Local, top.name)
			}
			top.text = text.String()[begins[top]:]
			open = open[:len(open)-1]
		case xml.CharData:
			text.Write(token)
		}
	}
	if len(open) != 1 {
		t.Fatalf("<%s> is not closed", open[len(open)-1].name)
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

// all lists the elements with a name, in order; every element for "".
func (e *element) all(name string) []*element {
	var list []*element
	for _, c := range e.children {
		if name == "" || c.name == name {
			list = append(list, c)
		}
		list = append(list, c.all(name)...)
	}
	return list
}

// skeleton is the markup without its text: names and attributes.
func (e *element) skeleton() string {
	var b strings.Builder
	for _, c := range e.children {
		b.WriteString("<" + c.name)
		for _, a := range []string{"class", "scope", "title", "lang"} {
			if v, ok := c.attr[a]; ok {
				b.WriteString(" " + a + "=" + v)
			}
		}
		b.WriteString(">" + c.skeleton() + "</>")
	}
	return b.String()
}
