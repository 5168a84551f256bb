package spec

import (
	"encoding"
	"encoding/json"
	"reflect"
	"strings"

	"ribband/core/msg"
)

// firstFault says where a well-formed text first has something that does not belong there, and what. The JSON reader,
// which failed with an error, does not tell: so the text is gone through once more beside the types that it fills, and
// each key and each value is tried by itself. That takes as long as reading; to try longer and longer beginnings of
// the text is shorter to write, and took seconds for a text of half a megabyte.
func firstFault[T any](text []byte, failed error) error {
	f := &faults{text: text, fields: map[reflect.Type]map[string]reflect.Type{}}
	walk(text, func(w *walker) bool {
		f.visit(w, reflect.TypeFor[T]())
		return f.err == nil
	})
	if f.err == nil { // each part is sound by itself
		return located(text, 0, plain(failed))
	}
	return f.err
}

// faults goes through a text with the types that its values fill. It finds what the JSON reader finds, in the order of
// the text; what only the whole can tell, two equal keys or half of a character, is looked for elsewhere.
type faults struct {
	text []byte
	open []reflect.Type // by object or list that is open; nil where whatever stands there is read by the type around it
	// by type, the types of its keys, which are folded
	fields map[reflect.Type]map[string]reflect.Type
	err    error
}

// visit tries one value, and the key that it stands under. The outermost one fills a root. A value is read into a new
// variable of its type, so that what refuses it is the same reader, with the same words, that refused the text.
func (f *faults) visit(w *walker, root reflect.Type) {
	// the types that are open stand beside the frames of the walker: one for each, but for the frame that the value
	// opens itself
	around := len(w.frames)
	opens := around > 0 && w.frames[around-1].open // an object or list begins here
	if opens {
		around--
	}
	kind := root
	if around > 0 {
		var known bool
		if kind, known = f.inside(f.open[around-1], &w.frames[around-1]); !known {
			f.err = located(f.text, w.key, atKey(w.path(), msg.New("spec.unknown-key")))
			return
		}
	}
	// of an object or list only its kind is tried here; what is in it comes by itself
	token := f.text[w.value:w.end]
	if opens {
		f.open = append(f.open[:around], bare(kind))
		token = []byte("{}")
		if w.frames[around].closer == ']' {
			token = []byte("[]")
		}
	}
	if kind == nil { // what is around it read all of it, and found nothing
		return
	}
	if err := json.Unmarshal(token, reflect.New(kind).Interface()); err != nil {
		f.err = located(f.text, w.value, atKey(w.path(), plain(err)))
	}
}

// inside is the type of a value in an object or list that fills a type; known is false for a key that it does not have.
// Maps are read with any key: which names there are is for the engine to say.
func (f *faults) inside(around reflect.Type, in *frame) (kind reflect.Type, known bool) {
	if around == nil {
		return nil, true
	}
	switch around.Kind() {
	case reflect.Map, reflect.Slice, reflect.Array:
		return around.Elem(), true
	case reflect.Struct:
		kind, known = f.keys(around)[folded(in.key)]
		return kind, known
	}
	return nil, true
}

// keys are the types of the keys of a struct, of those it embeds too. They are gathered once a type: a list may hold
// thousands of it.
func (f *faults) keys(t reflect.Type) map[string]reflect.Type {
	if f.fields[t] == nil {
		f.fields[t] = map[string]reflect.Type{}
		for _, field := range reflect.VisibleFields(t) {
			name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
			if name == "" { // as the JSON reader calls a field without a tag
				name = field.Name
			}
			if field.IsExported() && !field.Anonymous && name != "-" {
				f.fields[t][folded(name)] = field.Type
			}
		}
	}
	return f.fields[t]
}

// bare is a type without its pointers; nil for one that reads what stands in it by itself, as an amount does: whether
// its text is one was tried where it stands.
func bare(t reflect.Type) reflect.Type {
	for t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t == nil || reflect.PointerTo(t).Implements(reflect.TypeFor[json.Unmarshaler]()) ||
		reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) {
		return nil
	}
	return t
}

// folded is a key as the JSON reader compares it, which takes Hull for hull.
func folded(key string) string { return strings.ToLower(strings.ToUpper(key)) }
