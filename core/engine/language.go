package engine

import (
	"fmt"

	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
)

// In is the engine in a language: what the program says in the words of that language, and what the book says in its
// own words where it has them for the language's tag. Indices and numbers are the same, so that a spec has the same
// boat and the same price in every language.
//
// It compiles the pack anew, which takes some milliseconds: whoever changes between languages keeps both.
func (e *Engine) In(l *msg.Language) (*Engine, error) { return CompileIn(e.Pack, l) }

// CompileIn is [Compile] for an engine that speaks a language from the start.
func CompileIn(p *pack.Pack, l *msg.Language) (*Engine, error) {
	in, err := Compile(p.In(l.Tag()))
	if err != nil {
		return nil, fmt.Errorf("speaking %s: %w", l.Name(), err)
	}
	in.language = l
	return in, nil
}

// Speaking is the engine in the language of a tag; ok is false where the program does not have it.
func (e *Engine) Speaking(tag string) (in *Engine, ok bool, err error) {
	if tag == e.Language().Tag() {
		return e, true, nil
	}
	l, ok := msg.Named(tag)
	if !ok {
		return nil, false, nil
	}
	in, err = e.In(l)
	return in, err == nil, err
}

// Units is the system of units that somebody has chosen; "" for none, and then what is usual in the language and where
// the boat goes.
func (e *Engine) Units(a *Answer, chosen measure.System) measure.System {
	if chosen != "" {
		return chosen
	}
	region := ""
	if r := a.Price.Region; r != nil {
		region = r.ID
	}
	return measure.Usual(e.Language().Tag(), region)
}

// Language puts into words what the engine and the packages below it say by codes; English where nothing else was
// asked for.
func (e *Engine) Language() *msg.Language {
	if e.language == nil {
		return msg.English
	}
	return e.language
}

// Text is a message in the engine's language.
func (e *Engine) Text(m msg.Message) string { return e.Language().Text(m) }

// Say is the text of a message that has no more than a code and arguments, in the engine's language.
func (e *Engine) Say(code msg.Code, args ...msg.Arg) string { return e.Language().Say(code, args...) }
