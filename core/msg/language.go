package msg

import (
	_ "embed"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
)

// Language puts messages into words. It is safe for use by several goroutines. It is read once and not changed, but for
// texts that are parsed when they are first wanted.
type Language struct {
	locale
	name   string
	texts  map[Code]*entry
	under  *Language // where a text is looked up that this language lacks; nil for English
	months []string  // as they stand in a date
	house  string    // the space between thousands where the file gives one, else ""
}

//go:embed en.json
var english string

// English is the language that is whole.
var English = &Language{}

var once sync.Once

// whole reads the English file when a text of it is first wanted. Native tools that never speak to a person, and tests,
// do not pay for it. Every method that needs the file asks first.
func whole() {
	once.Do(func() {
		if err := English.read(english); err != nil {
			panic("core/msg/en.json:" + err.Error()) // it is compiled in, and tests read it
		}
	})
}

// Read reads the file of a language; name is the file's, for errors. A text that is missing is taken from English.
// Every text is parsed, so that a slip of a translator is found here and not by a reader.
func Read(name string, file []byte) (*Language, error) {
	whole()
	l := &Language{under: English}
	if err := l.read(string(file)); err != nil {
		return nil, fmt.Errorf("reading the language %s:%w", name, err)
	}
	if err := parsed(l.texts); err != nil {
		return nil, fmt.Errorf("reading the language %s: %w", name, err)
	}
	return l, nil
}

// With is a language that says more: the texts of a file beside its own, which it goes before. A file of this kind says
// nothing of the language itself. Every text is parsed, as by [Read].
func (l *Language) With(name string, file []byte) (*Language, error) {
	whole()
	more, err := scan(string(file))
	if err == nil {
		err = parsed(more)
	}
	if err != nil {
		return nil, fmt.Errorf("reading more words of the language %s: %s: %w", l.tag, name, err)
	}
	own := *l
	own.texts = maps.Clone(l.texts)
	maps.Copy(own.texts, more)
	return &own, nil
}

// parsed says which of the texts cannot be parsed, if one cannot.
func parsed(texts map[Code]*entry) error {
	for code, e := range texts {
		if _, err := parse(e.text()); err != nil {
			return fmt.Errorf("the text of %q: %w", code, err)
		}
	}
	return nil
}

// read takes in a file. What a language says of itself stands among its texts, so that one file is all that a
// translator has to make; how it writes numbers does not, as CLDR knows that better.
func (l *Language) read(file string) error {
	texts, err := scan(file)
	if err != nil {
		return err
	}
	l.texts = texts
	l.name, l.house = l.own("language.name"), l.own("language.group")
	tag := l.own("language.tag")
	known := false
	if l.locale, known = localeOf(tag); !known {
		return fmt.Errorf("1:1: language.tag is %.40q; give one of %s, or add it to "+
			"core/msg/tables_gen.go", tag, tags())
	}
	if own := l.own("language.percent"); own != "" {
		l.percent = own
	}
	l.months = strings.Fields(l.own("language.months"))
	if len(l.months) != 12 {
		return fmt.Errorf("1:1: language.months has %d names; give twelve, with blanks between", len(l.months))
	}
	return nil
}

// own is a text of the file that says something of the language itself.
func (l *Language) own(code Code) string {
	if e := l.texts[code]; e != nil {
		return e.text()
	}
	return ""
}

// Tag is the language's tag of BCP 47, as HTML wants it.
func (l *Language) Tag() string { whole(); return l.tag }

// Name is what the language calls itself.
func (l *Language) Name() string { whole(); return l.name }

// Compounds says whether the language writes compounds as one word, so that what something is stands within or at the
// end of its name: the Germanic ones do but English, and Finnish. From memory.
func (l *Language) Compounds() bool {
	return slices.Contains([]string{"da", "de", "fi", "nb", "nl", "sv"}, l.Tag())
}

// Has says whether the language has a text of its own for a code.
func (l *Language) Has(code Code) bool { whole(); return l.texts[code] != nil }

// Text puts a message into words. A code without a text in any language is shown in brackets. An argument that the text
// lacks is passed over, and one that is missing stands by its name in braces: a slip shows on the page and ends
// nothing.
func (l *Language) Text(m Message) string {
	switch {
	case m.Empty():
		return ""
	case m.Code == plain:
		return m.Args[0].text
	case m.Code == sentences:
		return strings.Join(l.Texts(m.Args[0].list), " ")
	}
	whole()
	for at := l; at != nil; at = at.under {
		if e := at.texts[m.Code]; e != nil {
			var b strings.Builder
			l.write(&b, e.nodes(), m.Args, nil)
			return b.String()
		}
	}
	return "[" + string(m.Code) + "]"
}

// Texts puts messages into words, each by itself.
func (l *Language) Texts(list []Message) []string {
	if list == nil {
		return nil
	}
	texts := make([]string, len(list))
	for i, m := range list {
		texts[i] = l.Text(m)
	}
	return texts
}

// Say is the text of a message that has no more than a code and arguments.
func (l *Language) Say(code Code, args ...Arg) string { return l.Text(Message{code, args}) }

// write puts nodes into words. Around is the number of the plural that is around them, which "#" stands for.
func (l *Language) write(b *strings.Builder, nodes []node, args []Arg, around *Arg) {
	for i := range nodes {
		n := &nodes[i]
		if n.literal != "" {
			b.WriteString(n.literal)
			continue
		}
		a := around
		if !n.hash {
			a = find(args, n.name)
		}
		switch {
		case a == nil:
			b.WriteString("{" + n.name + "}")
		case n.arms == nil:
			b.WriteString(l.value(a))
		case n.plural:
			l.write(b, l.plural(n.arms, a), args, a)
		default:
			l.write(b, selected(n.arms, a.text), args, around)
		}
	}
}

// find looks an argument up by its name; there are never more than a handful.
func find(args []Arg, name string) *Arg {
	for i := range args {
		if args[i].Name == name {
			return &args[i]
		}
	}
	return nil
}

// selected is the arm of a key, else that of "other", which every file has.
func selected(arms []arm, key string) []node {
	var other []node
	for _, a := range arms {
		switch a.key {
		case key:
			return a.text
		case "other":
			other = a.text
		}
	}
	return other
}

// plural is the arm for a number: the one that names it, else that of its category. "=0" and the like go before the
// categories, so that "no boats" can be said of a number that the rule calls other.
func (l *Language) plural(arms []arm, a *Arg) []node {
	plain := a.decimal()
	for _, arm := range arms {
		if arm.key == "="+plain {
			return arm.text
		}
	}
	return selected(arms, l.category(plain))
}

// value writes an argument.
func (l *Language) value(a *Arg) string {
	switch a.kind {
	case insideKind:
		return l.Inside(a.text)
	case countKind, numberKind:
		return l.localised(a.decimal())
	case groupedKind:
		return l.Decimal(a.decimal())
	case quantityKind:
		return l.joined(l.Decimal(a.decimal()), a.decimal(), a.unit)
	case moneyKind:
		return l.Money(a.text, a.unit, a.region)
	case dateKind:
		return l.Date(a.text)
	case shareKind:
		return l.perCent(a.text)
	case wordsKind:
		return l.Text(a.list[0])
	case listKind:
		return l.List(a.join, l.Texts(a.list))
	}
	return a.text
}

// List puts texts in a row. It is put together from the left by patterns of two texts each, as those of CLDR are.
func (l *Language) List(join Join, parts []string) string {
	last, pair, middle := Code("language.list-and"), Code("language.pair-and"), Code("language.list")
	switch join {
	case Or:
		last, pair = "language.list-or", "language.pair-or"
	case Commas:
		last, pair = "language.list", "language.list"
	case All:
		last, middle = pair, pair
	}
	put := func(code Code, first, second string) string {
		return l.Say(code, Text("first", first), Text("last", second))
	}
	switch n := len(parts); n {
	case 0:
		return ""
	case 1:
		return parts[0]
	case 2:
		return put(pair, parts[0], parts[1])
	default:
		list := parts[0]
		for _, p := range parts[1 : n-1] {
			list = put(middle, list, p)
		}
		return put(last, list, parts[n-1])
	}
}
