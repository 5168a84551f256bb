// Package msg puts into words what the packages below the edge say by codes and arguments: texts, plurals, numbers,
// money, dates and units by language.
//
// A [Message] is a code and typed arguments. It is made where something is found out, and put into words at the edge,
// by the [Language] of whoever reads. A language is one file, such as en.json: code to text in a subset of ICU
// MessageFormat (see parse.go), with its months and lists. English is whole; a language that lacks a text shows the
// English one.
//
// The package knows nothing of boats. Errors for programmers, the command line and the checker of books stay English.
//
// Sources: Unicode Technical Standard 35 (LDML), parts 2 and 3: plural rules, number symbols, list patterns; ICU user
// guide, formatting messages. The tables in tables.go come from golang.org/x/text, which carries the Unicode CLDR; it
// is not linked into the engine.
package msg

import (
	"errors"
	"strings"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/suggest"
)

// Code names a message: the package that says it, a point, and what it says, as in "capacity.persons".
type Code string

// Message is something to say to a person, without words of any language. The zero Message says nothing. Below the edge
// it can be compared, kept and looked at by its code; what it says in which language is known at the end.
type Message struct {
	Code Code
	Args []Arg
}

// New makes a message. The arguments are those of the text in the file, by name; a test compares them.
func New(code Code, args ...Arg) Message { return Message{Code: code, Args: args} }

// Plain is a text that is in words already: a title of the book, or what a person typed. It is the same in every
// language, and a test in a marked language finds words of the program that came this way. No text says nothing.
func Plain(text string) Message {
	if text == "" {
		return Message{}
	}
	return Message{Code: plain, Args: []Arg{Text("text", text)}}
}

// plain is the code of a text that is in words already. It stands in no file.
const plain Code = "plain"

// Sentences are several messages one after the other, such as the sentences of a note; what is empty is left out. Each
// is whole by itself: halves of one sentence are arguments of a message, since the order of words is the language's.
func Sentences(list ...Message) Message {
	m := Message{Code: sentences, Args: []Arg{{kind: listKind}}}
	for _, one := range list {
		if !one.Empty() {
			m.Args[0].list = append(m.Args[0].list, one)
		}
	}
	return m
}

// sentences is the code of several messages, with a space between them. It stands in no file.
const sentences Code = "sentences"

// String is the message in English, for logs and tests. What a person reads is made by [Language.Text].
func (m Message) String() string { return English.Text(m) }

// MarshalText makes a message its English text in JSON, which is for programs and has one language.
func (m Message) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// Empty says that there is nothing to say.
func (m Message) Empty() bool { return m.Code == "" }

// Is says whether a message has this code.
func (m Message) Is(code Code) bool { return m.Code == code }

// Error is an error that a person reads: the message, and the error below it for programs, if any.
type Error struct {
	Message Message
	Cause   error
}

// Fault makes an error of a message. The reader of a link or a file meets it; what only a programmer can meet is an
// error of the standard library.
func Fault(code Code, args ...Arg) error { return &Error{Message: New(code, args...)} }

// Error is the message in English.
func (e *Error) Error() string { return e.Message.String() }

// Of is the message in an error, or the words of another error as they are, on one line. So whoever shows an error need
// not ask what kind it is. An error around a message is dropped: it is a programmer's remark, and a message that
// needs its place has it among its arguments.
func Of(err error) Message {
	var e *Error
	if errors.As(err, &e) {
		return e.Message
	}
	if m := noNumber(err); !m.Empty() {
		return m
	}
	return Plain(strings.ReplaceAll(err.Error(), "\n", " "))
}

// noNumber words what the packages below say of a text that is no number: they cannot make messages themselves. What a
// person typed is repeated no further than fits on a line.
func noNumber(err error) Message {
	var amount *money.ParseError
	var quantity *measure.ParseError
	switch {
	case errors.As(err, &quantity):
		return New("measure.no-number", Text("text", suggest.Clip(quantity.Text, 40)))
	case !errors.As(err, &amount):
		return Message{}
	}
	what, text := Choice("what", "amount"), Text("text", suggest.Clip(amount.Text, 40))
	if amount.Rate {
		what = Choice("what", "rate")
	}
	if amount.Whole > 0 {
		whole, fraction := Count("whole", amount.Whole), Count("fraction", amount.Fraction)
		return New("money.too-many-digits", what, text, whole, fraction)
	}
	return New("money.no-number", what, text)
}

func (e *Error) Unwrap() error { return e.Cause }
