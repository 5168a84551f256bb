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

// A pack has the words of its book's first language in place, and each part of it those of the other languages beside
// them, by language and by the place of the text in the part: "options.12.title". So the engine, which runs on indices
// and numbers, serves all languages, and no part has words of what it does not have.

// In is the pack in one of its languages: the same indices and numbers, other words. A language that the book does not
// have gives the pack as it is.
//
// It begins with the first language each time: what one language lacks is never seen in another.
func (p *Pack) In(language string) *Pack {
	if p.first != nil {
		p = p.first
	}
	if at := slices.Index(p.Languages, language); at < 1 {
		return p
	}
	out := *p
	out.first = p
	speak(&out.Public, p.Words[language])
	if p.Costs != nil {
		costs := *p.Costs
		out.Costs = &costs
		speak(out.Costs, costs.Words[language])
	}
	if p.Work != nil {
		work := *p.Work
		out.Work = &work
		speak(out.Work, work.Words[language])
	}
	if p.Planning != nil {
		planning := *p.Planning
		out.Planning = &planning
		speak(out.Planning, planning.Words[language])
	}
	out.Assemble()
	return &out
}

// speak puts the words of a language into a part, and says where one has no place; ok is true where all have theirs.
func speak(part any, words map[string]string) (missing string, ok bool) {
	s := setter{own: map[string]bool{}}
	for _, place := range slices.Sorted(maps.Keys(words)) {
		if !s.set(reflect.ValueOf(part).Elem(), strings.Split(place, "."), "", words[place]) {
			return place, false
		}
	}
	return "", true
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

// Translate adds to the parts of a pack the words of another language, of which it is given the pack. It fails where
// the two differ in more than words.
func (p *Pack) Translate(language string, in *Pack) error {
	for _, part := range []struct {
		of, in any
		words  *map[string]map[string]string
	}{{&p.Public, &in.Public, &p.Words}, {p.Costs, in.Costs, &p.Costs.Words}, {p.Work, in.Work, &p.Work.Words}} {
		words := map[string]string{}
		if err := differences(reflect.ValueOf(part.of).Elem(), reflect.ValueOf(part.in).Elem(), "", words); err != nil {
			return fmt.Errorf("translating a pack to %s: %w", language, err)
		}
		if *part.words == nil {
			*part.words = map[string]map[string]string{}
		}
		(*part.words)[language] = words
	}
	return nil
}

var textual = reflect.TypeFor[encoding.TextMarshaler]()

func differences(a, b reflect.Value, place string, words map[string]string) error {
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
			case name == "words" || name == "languages", name == "" && !f.Anonymous:
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

// words checks that every text of another language has its place, and that the pack is sound in it.
func (c *checker) words() {
	for _, language := range c.pack.Languages {
		if c.pack.Words[language] == nil {
			continue // the first one, or one that comes apart, see [Pack.Learn]
		}
		q := *c.pack
		parts := []any{&q.Public}
		words := []map[string]string{q.Words[language]}
		if q.Costs != nil {
			costs := *q.Costs
			parts, words = append(parts, &costs), append(words, costs.Words[language])
		}
		if q.Work != nil {
			work := *q.Work
			parts, words = append(parts, &work), append(words, work.Words[language])
		}
		if q.Planning != nil {
			planning := *q.Planning
			parts, words = append(parts, &planning), append(words, planning.Words[language])
		}
		for i := range parts {
			if missing, ok := speak(parts[i], words[i]); !ok {
				c.fail("the words of the language %.20q stand at %.60q, where there is no text", language, missing)
				return
			}
		}
		spoken := c.pack.In(language)
		spoken.Languages = nil
		if err := spoken.check(); err != nil {
			c.fail("in the language %.20q: %w", language, err)
		}
	}
}
