package source_test

import (
	"testing"

	"ribband/core/book"
	"ribband/core/book/source"
)

// What is no text of a book is named as what it is, where it stands.
func TestReadStrangeBytes(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"terms: [\"a\xffb\"]\n", "more.yaml:1:11: the byte 0xff is not UTF-8; save the file as UTF-8; it may be " +
			"Latin-1 or Windows-1252 now"},
		{"# für\nterms: [f\xfcr]\n", "more.yaml:2:10: the byte 0xfc is not UTF-8; save the file as UTF-8; it may be " +
			"Latin-1 or Windows-1252 now"},
		{"\xff\xfe#\x00e\x00", "more.yaml:1:1: the file is UTF-16: it begins with its byte-order mark; save it as " +
			"UTF-8"},
		{"\xfe\xff\x00#\x00e", "more.yaml:1:1: the file is UTF-16: it begins with its byte-order mark; save it as " +
			"UTF-8"},
		{"terms: [a\x00]\n", "more.yaml:1:10: the control character 0x00 stands in the file; delete this invisible " +
			"character"},
		{"# a\n\ufeffterms: [a]\n", "more.yaml:2:1: a byte-order mark stands within the file; delete this invisible " +
			"character"},
		{"cautions: [a]\n\tterms: [a]\n", "more.yaml:2:1: the line is indented with a tab; indent with spaces: YAML " +
			"forbids tabs there"},
	} {
		list := diagnostics(t, with(overlay(t, smallBook), "more.yaml", c.text))
		if len(list) != 1 || list[0].Error() != c.want {
			t.Errorf("%q gives %v, want %s", c.text, list, c.want)
		}
	}
}

// A replacement character that stands in the file as such is text like other.
func TestReadReplacementCharacter(t *testing.T) {
	if list := diagnostics(t, with(overlay(t, smallBook), "more.yaml", "cautions: [\"\ufffd\"]\n")); len(list) > 0 {
		t.Error(list)
	}
}

// Some editors begin each file with a byte-order mark: the book is read as if it were not there, with a warning.
func TestReadByteOrderMark(t *testing.T) {
	folder := overlay(t, smallBook)
	want := digest(t, folder)
	with(folder, "boat.yaml", "\ufeff"+string(folder["boat.yaml"].Data))
	b, list, err := source.Read(folder)
	if err != nil || len(list) != 1 || list[0].Grade != book.Warning ||
		list[0].Message != "the file begins with a byte-order mark" || list[0].Position.String() != "boat.yaml:1:1" {
		t.Fatal(err, list)
	}
	if b.Digest() != want {
		t.Error("it is another book")
	}
}

// Lines may end as they do on any machine.
func TestReadLineEnds(t *testing.T) {
	folder := overlay(t, smallBook)
	want := digest(t, folder)
	for _, name := range yamlNames(folder) {
		var text []byte
		for _, c := range folder[name].Data {
			if c == '\n' {
				text = append(text, '\r')
			}
			text = append(text, c)
		}
		with(folder, name, string(text))
	}
	if got := digest(t, folder); got != want {
		t.Error("with \\r\\n it is another book")
	}
}
