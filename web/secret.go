package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"
	"golang.org/x/text/unicode/norm"
)

// Secrets come from a file that its owner alone can read, or from a prompt. They never come from an argument or the
// environment, which every program of the machine can look at, and which a shell writes into its history.

// maxSecret bounds a file with a phrase or a key, bytes.
const maxSecret = 4 << 10

// The phrase is the whole of the protection, since the file lies where anybody can fetch it: so its length is asked
// for, and nothing of what it is made of. Five words are easier to keep than twelve signs, and harder to guess.

// readSecret reads a file with a phrase or a key, and refuses one that others on this machine can read.
func readSecret(name string) ([]byte, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	about, err := file.Stat() // of what was opened, which cannot be exchanged any more
	if err != nil {
		return nil, err
	}
	// A pipe would wait for a writer, and a folder has nothing to read: neither is what a person meant.
	mode := about.Mode()
	switch {
	case !mode.IsRegular():
		return nil, fmt.Errorf("%s is no file", name)
	case runtime.GOOS != "windows" && mode.Perm()&0o077 != 0: // there, modes say nothing of who may read
		return nil, fmt.Errorf("%s can be read by others on this machine (mode %03o); make it yours alone: chmod "+
			"600 %s", name, mode.Perm(), name)
	case about.Size() > maxSecret:
		return nil, fmt.Errorf("%s has %d bytes; a pass phrase or a key has at most %d", name, about.Size(), maxSecret)
	}
	return io.ReadAll(io.LimitReader(file, maxSecret))
}

// leastPhrase is how many characters a new phrase has at least. Whoever has the sealed file can try phrases at home for
// as long as he likes.
//
// Source: NIST SP 800-63B-4, 3.1.1.2 (from memory): 15 where a phrase stands alone.
const leastPhrase = 15

// phraseFor gives the pass phrase of something, from a file or by asking on the terminal. A new one is asked for twice,
// and must be long enough. A file is for who publishes by a script; it belongs to who publishes, and its rights are
// looked at; on Windows those of its folder decide.
func phraseFor(c *console, what, file string, fresh bool) (string, error) {
	phrase, err := "", error(nil)
	if file != "" {
		var text []byte
		if text, err = readSecret(file); err == nil {
			phrase, err = normal(string(text))
		}
	} else {
		phrase, err = c.ask("Pass phrase of " + what + ": ")
		if err == nil && fresh {
			var again string
			if again, err = c.ask("The same once more: "); err == nil && again != phrase {
				err = errors.New("the two are not the same")
			}
		}
	}
	// only a new one: the phrase of a site that is there already is as long as it is
	if n := utf8.RuneCountInString(phrase); err == nil && fresh && n < leastPhrase {
		err = fmt.Errorf("%d characters are too few; take at least %d, such as five words that have nothing to do "+
			"with each other", n, leastPhrase)
	}
	if err != nil {
		return "", fmt.Errorf("reading the pass phrase of %s: %w", what, err)
	}
	return phrase, nil
}

// Tests and scripts have no terminal: for them there are files. A phrase that came from standard input would stand in a
// pipe, and so in the command before it.

// ask asks for a secret on the terminal, without showing what is typed.
func (c *console) ask(prompt string) (string, error) {
	file, ok := c.in.(*os.File)
	if !ok || !term.IsTerminal(int(file.Fd())) {
		return "", errors.New("there is no terminal to ask on; give a file that you alone can read, with " +
			"-show-phrase FILE, -yard-phrase FILE, -dealer-phrase ID=FILE")
	}
	fmt.Fprint(c.err, prompt)
	// the line end that was typed is not shown either
	text, err := term.ReadPassword(int(file.Fd()))
	fmt.Fprintln(c.err)
	if err != nil {
		return "", err
	}
	return normal(string(text))
}

// normal is a phrase as page and command line take it: one line, its characters composed, so that an é is the same
// whichever keyboard it came from.
//
// Source: RFC 8265, 4.2.2 (OpaqueString: normalization form C).
func normal(text string) (string, error) {
	text = strings.TrimSuffix(strings.TrimSuffix(text, "\n"), "\r")
	switch {
	case text == "":
		return "", errors.New("it is empty")
	case !utf8.ValidString(text):
		return "", errors.New("it is not UTF-8")
	case strings.ContainsAny(text, "\r\n"):
		return "", errors.New("it has several lines; a pass phrase has one")
	}
	return norm.NFC.String(text), nil
}
