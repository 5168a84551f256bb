package pack

import (
	"encoding"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Words are the texts of a pack in the other languages of its book. The pack itself has those of the first one, so that
// the engine, which runs on indices and numbers, serves all of them.
type Words struct {
	First  string             `json:"first"` // tag of BCP 47
	Others map[string]Wording `json:"others,omitempty"`
}

// Wording is what a pack says otherwise in a language, by the place of the text: "options.12.title".
type Wording map[string]string

// Languages are those that a pack can speak, the first one first; none where its book has one that it does not name.
func (p *Pack) Languages() []string {
	if p.Words == nil {
		return nil
	}
	return append([]string{p.Words.First}, slices.Sorted(maps.Keys(p.Words.Others))...)
}

// In is the pack in one of its languages: the same indices and numbers, other words. A language that the book does not
// have gives the pack as it is.
func (p *Pack) In(language string) *Pack {
	if p.Words == nil || p.Words.Others[language] == nil {
		return p
	}
	out := *p
	s := setter{own: map[string]bool{}}
	for _, place := range slices.Sorted(maps.Keys(p.Words.Others[language])) {
		s.set(reflect.ValueOf(&out).Elem(), strings.Split(place, "."), "", p.Words.Others[language][place])
	}
	return &out
}

// setter puts words into a pack; what it changes it makes the pack's own first, each slice and pointer once.
type setter struct{ own map[string]bool }

// set puts a text at a place below v, and says whether there is one.
func (s setter) set(v reflect.Value, steps []string, above, text string) bool {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return false
		}
		if !s.own[above+"*"] {
			own := reflect.New(v.Type().Elem())
			own.Elem().Set(v.Elem())
			v.Set(own)
			s.own[above+"*"] = true
		}
		return s.set(v.Elem(), steps, above+"*", text)
	}
	if len(steps) == 0 {
		if v.Kind() == reflect.String {
			v.SetString(text)
		}
		return v.Kind() == reflect.String
	}
	below := above + "." + steps[0]
	switch v.Kind() {
	case reflect.Struct:
		if f, ok := named(v, steps[0]); ok {
			return s.set(f, steps[1:], below, text)
		}
	case reflect.Slice:
		i, err := strconv.Atoi(steps[0])
		if err != nil || i < 0 || i >= v.Len() {
			return false
		}
		if !s.own[above] {
			own := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(own, v)
			v.Set(own)
			s.own[above] = true
		}
		return s.set(v.Index(i), steps[1:], below, text)
	}
	return false
}

// named finds a field by its name in JSON; fields of embedded structs stand beside the others.
func named(v reflect.Value, name string) (reflect.Value, bool) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Anonymous {
			if found, ok := named(v.Field(i), name); ok {
				return found, true
			}
		} else if nameOf(f) == name {
			return v.Field(i), true
		}
	}
	return reflect.Value{}, false
}

// nameOf is the name of a field in JSON; "" where it is not encoded.
func nameOf(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	if name == "-" || !f.IsExported() {
		return ""
	}
	return name
}

// Differences are the texts that a pack has otherwise than another one of the same book, by their place. It fails where
// they differ in more than texts.
func Differences(p, in *Pack) (Wording, error) {
	words := Wording{}
	return words, differences(reflect.ValueOf(p).Elem(), reflect.ValueOf(in).Elem(), "", words)
}

var textual = reflect.TypeFor[encoding.TextMarshaler]()

func differences(a, b reflect.Value, place string, words Wording) error {
	at := func(step string) string { return strings.TrimPrefix(place+"."+step, ".") }
	switch {
	case a.Kind() == reflect.String:
		if a.String() != b.String() {
			words[place] = b.String()
		}
		return nil
	case a.Kind() == reflect.Pointer && !a.IsNil() && !b.IsNil():
		return differences(a.Elem(), b.Elem(), place, words)
	case a.Kind() == reflect.Struct && !a.Type().Implements(textual):
		for i := range a.NumField() {
			f := a.Type().Field(i)
			name := nameOf(f)
			below := place
			switch {
			case f.Type == reflect.TypeFor[*Words](), name == "" && !f.Anonymous:
				continue
			case !f.Anonymous:
				below = at(name)
			}
			if err := differences(a.Field(i), b.Field(i), below, words); err != nil {
				return err
			}
		}
		return nil
	case a.Kind() == reflect.Slice && a.Len() == b.Len():
		for i := range a.Len() {
			if err := differences(a.Index(i), b.Index(i), at(strconv.Itoa(i)), words); err != nil {
				return err
			}
		}
		return nil
	case !reflect.DeepEqual(a.Interface(), b.Interface()):
		return fmt.Errorf("%s differs in more than words", place)
	}
	return nil
}

// words checks that every text of another language has its place.
func (c *checker) words() {
	if c.pack.Words == nil {
		return
	}
	for language, wording := range c.pack.Words.Others {
		out := *c.pack
		s := setter{own: map[string]bool{}}
		for place := range wording {
			if !s.set(reflect.ValueOf(&out).Elem(), strings.Split(place, "."), "", "") {
				c.fail("the words of the language %.20q stand at %.60q, where there is no text", language, place)
				return
			}
		}
		spoken := c.pack.In(language)
		spoken.Words = nil
		if err := spoken.check(); err != nil {
			c.fail("in the language %.20q: %w", language, err)
		}
	}
}
