// Command web is the yard's tool: it serves the demo page, publishes the static site, checks a book, writes papers and
// finds boats.
//
//	go run ./web                      build the page and serve all three desks on this machine
//	go run ./web publish -out DIR     write the static site
//	go run ./web check                validate and prove a book
//	go run ./web quote -spec FILE     write a paper
//	go run ./web brief -wish ID=VALUE find boats by what they must do
//	go run ./web boats                list the boats of a folder of specs
//	go run ./web seal -dir SITE       change the pass phrase of a desk
//	go run ./web key                  make the key that signs quotations
//	go run ./web confirm -key KEY FILE  sign a quotation
//	go run ./web open FILE            verify a quotation and compute it anew
//
// It exits with 0 when all went well, 1 when a book, spec or file is wrong, 2 when the command or a file was not
// understood.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

// command is one of the things that the tool does.
type command struct {
	name, summary string
	run           func(ctx context.Context, c *console, args []string) error
}

var commands = []command{
	{"serve", "build the page and serve all three desks on this machine (the default)", serve},
	{"publish", "write the static site for any host", publishSite},
	{"check", "validate a book, prove it over all boats, and say how large it is", check},
	{"quote", "answer a spec and write the paper of a desk", writePaper},
	{"brief", "find the boats that meet given needs, or say what prevents it", findBoats},
	{"boats", "write a table of the boats of a folder of specs", listBoats},
	{"seal", "change the pass phrase of a desk of a published site", changePhrase},
	{"key", "make the key with which the yard signs its quotations", makeKey},
	{"confirm", "sign a quotation that a desk has issued", confirm},
	{"open", "say whether a quotation is signed, unchanged and as the book gives it", openFile},
}

// console is where a command reads and writes.
type console struct {
	in       io.Reader
	out, err io.Writer
}

// progress says what takes time, on standard error.
func (c *console) progress(format string, args ...any) { fmt.Fprintf(c.err, format+"\n", args...) }

// faults is an error that has been reported already: only the exit code is left to give.
var errFaults = errors.New("faults were reported")

// usageError is a command that was not understood.
type usageError struct{ error }

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, &console{os.Stdin, os.Stdout, os.Stderr}, os.Args[1:]))
}

func run(ctx context.Context, c *console, args []string) int {
	err := dispatch(ctx, c, args)
	var usage usageError
	var foreign notUnderstood
	switch {
	case err == nil || errors.Is(err, flag.ErrHelp):
		return 0
	case errors.As(err, &usage):
		fmt.Fprintf(c.err, "web: %v\nTry 'go run ./web help'.\n", err)
		return 2
	case errors.As(err, &foreign):
		fmt.Fprintf(c.err, "web: %v\n", err)
		return 2
	case errors.Is(err, errFaults):
		return 1
	}
	fmt.Fprintf(c.err, "web: %v\n", err)
	return 1
}

func dispatch(ctx context.Context, c *console, args []string) error {
	name := "serve"
	if len(args) > 0 && args[0] != "" && args[0][0] != '-' {
		name, args = args[0], args[1:]
	} else if len(args) > 0 && (args[0] == "-h" || args[0] == "-help" || args[0] == "--help") {
		name = "help"
	}
	if name == "help" {
		help(c.out)
		return nil
	}
	for _, cmd := range commands {
		if cmd.name == name {
			return cmd.run(ctx, c, args)
		}
	}
	return usageError{fmt.Errorf("there is no command %q", name)}
}

func help(w io.Writer) {
	fmt.Fprint(w, "Usage: go run ./web [command] [flags]\n\nCommands:\n")
	for _, cmd := range commands {
		fmt.Fprintf(w, "  %-9s %s\n", cmd.name, cmd.summary)
	}
	fmt.Fprint(w, "\nEvery command has -h. Exit code: 0 all went well, 1 a book, spec or file is wrong, 2 the command "+
		"or a file was not understood.\n")
}

// flags makes the flags of a command, with its usage line.
func flags(c *console, name, usage string) *flag.FlagSet {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(c.err)
	f.Usage = func() {
		fmt.Fprintf(c.err, "Usage: go run ./web %s\n\nFlags:\n", usage)
		f.PrintDefaults()
	}
	return f
}

// about puts what a command is for, in an owner's words, between its usage line and its flags.
func about(f *flag.FlagSet, text string) {
	usage := f.Usage
	f.Usage = func() {
		column := 0
		for word := range strings.FieldsSeq(text) {
			if column += len(word) + 1; column > usageColumns {
				fmt.Fprintln(f.Output())
				column = len(word) + 1
			}
			fmt.Fprint(f.Output(), word, " ")
		}
		fmt.Fprint(f.Output(), "\n\n")
		usage()
	}
}

// usageColumns is how wide a terminal is at least.
const usageColumns = 79

// parseFile reads the flags and the one file behind them.
func parseFile(f *flag.FlagSet, args []string) (string, error) {
	if err := f.Parse(args); errors.Is(err, flag.ErrHelp) {
		return "", err
	} else if err != nil {
		return "", usageError{err}
	}
	if f.NArg() != 1 {
		return "", usageError{fmt.Errorf("%s: which file? Give one, behind the flags", f.Name())}
	}
	return f.Arg(0), nil
}

// parse reads the flags; nothing may stand behind them.
func parse(f *flag.FlagSet, args []string) error {
	if err := f.Parse(args); errors.Is(err, flag.ErrHelp) {
		return err
	} else if err != nil {
		return usageError{err}
	}
	if f.NArg() > 0 {
		return usageError{fmt.Errorf("%s: what is %q?", f.Name(), f.Arg(0))}
	}
	return nil
}
