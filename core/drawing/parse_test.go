package drawing_test

import (
	"encoding/xml"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ribband/core/drawing"
)

// element is an element of a drawing, with what its ancestors are.
type element struct {
	name    string
	attrs   map[string]string
	text    string
	clipped bool // within a clip path or a clipped or turned group
}

// parse reads a drawing as XML.
func parse(t fataler, svg string) []*element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	d.Strict = true
	var all, open []*element
	for {
		token, err := d.Token()
		if err == io.EOF {
			return all
		}
		if err != nil {
			t.Fatalf("not well-formed: %v\n%.2000s", err, svg)
		}
		switch k := token.(type) {
		case xml.StartElement:
			e := &element{name: k.Name.Local, attrs: map[string]string{}}
			for _, a := range k.Attr {
				if _, twice := e.attrs[a.Name.Local]; twice {
					t.Fatalf("<%s> has %s twice", e.name, a.Name.Local)
				}
				e.attrs[a.Name.Local] = a.Value
			}
			e.clipped = e.name == "clipPath" || e.attrs["clip-path"] != "" || e.attrs["transform"] != "" ||
				len(open) > 0 && open[len(open)-1].clipped
			all, open = append(all, e), append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				open[len(open)-1].text += string(k)
			}
		}
	}
}

type fataler interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
	Errorf(format string, args ...any)
}

func number(t fataler, e *element, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attrs[name], 64)
	if err != nil {
		t.Fatalf("<%s %s=%q> is no number", e.name, name, e.attrs[name])
	}
	return v
}

var numeral = regexp.MustCompile(`-?[0-9.]+`)

// points are the points of path data, whose commands here are all absolute.
func points(t fataler, d string) [][2]float64 {
	t.Helper()
	var out [][2]float64
	list := numeral.FindAllString(d, -1)
	if len(list)%2 != 0 {
		t.Fatalf("path data %q has an odd count of numbers", d)
	}
	for i := 0; i+1 < len(list); i += 2 {
		x, err := strconv.ParseFloat(list[i], 64)
		if err != nil {
			t.Fatal(err)
		}
		y, err := strconv.ParseFloat(list[i+1], 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, [2]float64{x, y})
	}
	return out
}

// viewBox gives the width and height of a drawing.
func viewBox(t fataler, all []*element) (w, h float64) {
	t.Helper()
	f := strings.Fields(all[0].attrs["viewBox"])
	if len(f) != 4 || f[0] != "0" || f[1] != "0" {
		t.Fatalf("viewBox %q", all[0].attrs["viewBox"])
	}
	w, _ = strconv.ParseFloat(f[2], 64)
	h, _ = strconv.ParseFloat(f[3], 64)
	return w, h
}

// box is where text lies, by the estimate of its width.
type box struct {
	text           string
	x1, y1, x2, y2 float64
}

func textBox(t fataler, e *element) box {
	t.Helper()
	size := 12.0
	if e.attrs["font-size"] != "" {
		size = number(t, e, "font-size")
	}
	x, y, w := number(t, e, "x"), number(t, e, "y"), drawing.TextWidth(e.text, size)
	from := map[string]float64{"start": 0, "middle": w / 2, "end": w}[e.attrs["text-anchor"]]
	if strings.HasPrefix(e.attrs["transform"], "rotate(-90 ") { // about the text's own place
		return box{e.text, x - 0.75*size, y - w + from, x + 0.2*size, y + from}
	}
	return box{e.text, x - from, y - 0.75*size, x - from + w, y + 0.2*size}
}

func (a box) overlaps(b box) bool {
	const least = 0.5
	return a.x1 < b.x2-least && b.x1 < a.x2-least && a.y1 < b.y2-least && b.y1 < a.y2-least
}

// sound checks what holds for every drawing.
func sound(t fataler, svg string) []*element {
	t.Helper()
	all := parse(t, svg)
	for _, word := range []string{"NaN", "Inf", "href", "<script", "url(http", "-0 ", `"-0"`} {
		if strings.Contains(svg, word) {
			t.Errorf("%q in the drawing", word)
		}
	}
	root := all[0]
	if root.name != "svg" || root.attrs["role"] != "img" {
		t.Errorf("the root is <%s role=%q>", root.name, root.attrs["role"])
	}
	ids := map[string]*element{}
	for _, e := range all {
		if id, ok := e.attrs["id"]; ok {
			if ids[id] != nil {
				t.Errorf("id %q is there twice", id)
			}
			ids[id] = e
		}
	}
	for i, id := range strings.Fields(root.attrs["aria-labelledby"]) {
		e := ids[id]
		if e == nil || e.name != []string{"title", "desc"}[i] || strings.TrimSpace(e.text) == "" {
			t.Errorf("aria-labelledby names %q, which is %v", id, e)
		}
	}
	for _, e := range all {
		if ref, ok := strings.CutPrefix(e.attrs["clip-path"], "url(#"); ok && ids[strings.TrimSuffix(ref, ")")] == nil {
			t.Errorf("clip path %q is not there", ref)
		}
	}
	inside(t, all)
	return all
}

// inside checks that everything that is not clipped lies in the view box.
func inside(t fataler, all []*element) {
	t.Helper()
	w, h := viewBox(t, all)
	check := func(e *element, x, y float64) {
		if !(x >= -0.01 && x <= w+0.01 && y >= -0.01 && y <= h+0.01) {
			t.Errorf("<%s %v> %q: %v %v lies outside the view box of %v × %v", e.name, e.attrs, e.text, x, y, w, h)
		}
	}
	for _, e := range all {
		if e.name == "text" {
			b := textBox(t, e)
			check(e, b.x1, b.y1)
			check(e, b.x2, b.y2)
		}
		if e.clipped {
			continue
		}
		switch e.name {
		case "path":
			for _, p := range points(t, e.attrs["d"]) {
				check(e, p[0], p[1])
			}
		case "rect":
			x, y := number(t, e, "x"), number(t, e, "y")
			check(e, x, y)
			check(e, x+number(t, e, "width"), y+number(t, e, "height"))
		case "line":
			check(e, number(t, e, "x1"), number(t, e, "y1"))
			check(e, number(t, e, "x2"), number(t, e, "y2"))
		case "ellipse":
			x, y, rx, ry := number(t, e, "cx"), number(t, e, "cy"), number(t, e, "rx"), number(t, e, "ry")
			check(e, x-rx, y-ry)
			check(e, x+rx, y+ry)
		}
	}
}

func apart(t *testing.T, all []*element) {
	t.Helper()
	var boxes []box
	for _, e := range all {
		if e.name == "text" {
			b := textBox(t, e)
			for _, other := range boxes {
				if b.overlaps(other) {
					t.Errorf("%q overlaps %q", b.text, other.text)
				}
			}
			boxes = append(boxes, b)
		}
	}
}
