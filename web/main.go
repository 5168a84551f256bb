// Command web is the yard's tool: it serves the demo page, publishes the static site, checks a book, writes papers and
// finds boats.
//
//	go run ./web                      build the page and serve all three desks on this machine
//	go run ./web publish -out DIR     write the static site
//	go run ./web new DIR              begin a book: a small one that works
//	go run ./web check                validate and prove a book
//	go run ./web merge FILE...        join the parts of a proof
//	go run ./web schema > FILE        write a schema of a book for an editor
//	go run ./web quote -spec FILE     write a paper
//	go run ./web cut -spec FILE -out DIR  write what the cutting table reads
//	go run ./web brief -wish ID=VALUE find boats by what they must do
//	go run ./web boats                list the boats of a folder of specs
//	go run ./web order -orders DIR    make an order of a quotation; booked and paid enter work and payments
//	go run ./web plan -orders DIR     plan the boats of all orders
//	go run ./web cards -orders DIR    write the job cards of the orders
//	go run ./web purchases -orders DIR  list what has to be bought, by day
//	go run ./web change -orders DIR   say what a change of an order comes to
//	go run ./web due -orders DIR      say what is due, and write requests for payment
//	go run ./web file -orders DIR     write the file of a boat; noted enters what is known of it
//	go run ./web prices -csv FILE     read a supplier's price list into the book
//	go run ./web actuals -hours FILE  compare hours booked with the book, and say what to change in it
//	go run ./web seal -dir SITE       change the pass phrase of a desk
//	go run ./web key                  make the key that signs quotations
//	go run ./web confirm -key KEY FILE  sign a quotation
//	go run ./web open FILE            verify a quotation and compute it anew
//
// It exits with 0 when all went well, 1 when a book, spec or file is wrong, 2 when the command or a file was not
// understood.
//
// Each command is a file: it reads its flags, loads the book, asks the packages of core, and writes. What a command
// decides by itself is only how something is read and shown; what is right or wrong with a book, a spec or a boat is
// said by core, with place and remedy, and passed on as it is. Standard output has the answer alone, so that it can go
// into a file or a pipe; everything else, progress, warnings and errors, goes to standard error.
//
//	main.go      commands, flags, exit codes
//	serve.go     the site on this machine, with bookpage.go for the owner
//	publish.go   the site as files; site.go puts it together, schema.go describes what others may read,
//	             and bookschema.go what an editor offers in a book
//	new.go       the first book of a yard, from a few answers
//	check.go     what is wrong with a book; loading one for the other commands; watch.go at each save
//	proving.go   the proofs of check, with memory.go for what is kept of them, since.go for what was
//	             changed meanwhile and parts.go for several machines
//	paper.go     a spec as a paper
//	cut.go       a spec as files for the cutting table
//	brief.go     needs as boats
//	boats.go     many specs as a table
//	orders.go    the folder of orders; order.go a new one, booked.go work and payments
//	plan.go      orders as weeks of launch and load of shops; purchases.go what they take, change.go a change of one,
//	             cards.go what the shops work by
//	due.go       stages that are due, and requests for payment; listing.go lists and papers in all their forms
//	file.go      what is known of a boat, its file, the register of hull numbers
//	compare.go   two quotations or two books; requote.go quotations by another book
//	prices.go    a supplier's list against the book; apply.go writes an edit into the book
//	actuals.go   hours that were booked against those of the book
//	sealed.go    private desks sealed with a pass phrase, which secret.go reads
//	key.go       the yard's key; confirm.go signs with it, open.go verifies
//
// The tool runs on the yard's machine, where Go and the sources are: it builds the engine that the page loads. It is
// the only part of the program that reads files, runs commands and listens on a port.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"
	"syscall"
)

// command is one of the things that the tool does. Its flags and usage line stand where it is carried out, so that help
// cannot differ from what is read.
type command struct {
	name, summary string
	run           func(ctx context.Context, c *console, args []string) error
}

// commands in the order in which help lists them.
var commands = []command{
	{"serve", "build the page and serve all three desks on this machine (the default)", serve},
	{"publish", "write the static site for any host", publishSite},
	{"new", "begin a book: a small one that works, from a few answers", newBook},
	{"check", "validate a book, prove it over all boats, and say how large it is", check},
	{"merge", "join the parts that check or requote wrote on several machines to the whole", merge},
	{"schema", "write a JSON Schema of a book with its own identifiers, for an editor", writeSchema},
	{"quote", "answer a spec and write the paper of a desk", writePaper},
	{"compare", "write two versions of a quotation, or two states of a book, side by side", compareTwo},
	{"requote", "answer the quotations of a folder by a book, and say what has changed", requote},
	{"cut", "write what the cutting table reads of a boat, as DXF and as SVG", cutBoat},
	{"brief", "find the boats that meet given needs, or say what prevents it", findBoats},
	{"boats", "write a table of the boats of a folder of specs", listBoats},
	{"order", "make an order of a quotation that was accepted", takeOrder},
	{"booked", "enter work that was done into the orders", bookWork},
	{"paid", "enter a payment into an order", enterPayment},
	{"plan", "say when the boats of a folder of orders are launched, and what holds them up", planOrders},
	{"cards", "write the job cards of the orders, by shop and boat", makeCards},
	{"purchases", "say what has to be bought for the orders, and by which day", listPurchases},
	{"change", "say what a change of an order comes to", changeOrder},
	{"due", "say what is due and open of the orders, and write requests for payment", listDue},
	{"noted", "enter what is known of a boat: values of cards, hull number, photographs, owner", noteValues},
	{"file", "write the file of a boat, or the register of hull numbers", writeFile},
	{"prices", "read a supplier's price list into the book, and say what moves with it", takePrices},
	{"actuals", "compare the hours that were booked with the book, and say what to change in it", compareHours},
	{"seal", "change the pass phrase of a desk of a published site", changePhrase},
	{"key", "make the key with which the yard signs its quotations", makeKey},
	{"confirm", "sign a quotation that a desk has issued", confirm},
	{"open", "say whether a quotation is signed, unchanged and as the book gives it", openFile},
}

// console is where a command reads and writes. Tests give their own, and run the commands as a person would.
type console struct {
	in       io.Reader
	out, err io.Writer
}

// progress says what takes time, on standard error. Building the engine and proving a book take many seconds; a tool
// that says nothing meanwhile looks broken.
func (c *console) progress(format string, args ...any) { fmt.Fprintf(c.err, format+"\n", args...) }

// faults is an error that has been reported already: only the exit code is left to give.
var errFaults = errors.New("faults were reported")

// usageError is a command that was not understood. It has an exit code of its own, so that a script can tell a slip in
// its own command from a book that is wrong.
type usageError struct{ error }

// main ends what is under way at Ctrl-C: the server, a build, a search for boats.
func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, &console{os.Stdin, os.Stdout, os.Stderr}, os.Args[1:]))
}

// run carries a command out and gives its exit code. A person who asked for help got what was asked for: that is no
// error.
func run(ctx context.Context, c *console, args []string) int {
	err := dispatch(ctx, c, args)
	// In this order: a command that was not understood has said nothing yet, faults have been told already.
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

// dispatch finds the command. None at all is serve, also where flags come at once: whoever starts the tool for the
// first time sees the page.
func dispatch(ctx context.Context, c *console, args []string) error {
	// A first word without a hyphen is the command, whatever it is: a misspelt one must not start a server.
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

// help lists the commands; it goes to standard output, as it was asked for.
func help(w io.Writer) {
	fmt.Fprint(w, "Usage: go run ./web [command] [flags]\n\nCommands:\n")
	for _, cmd := range commands {
		fmt.Fprintf(w, "  %-9s %s\n", cmd.name, cmd.summary)
	}
	fmt.Fprint(w, "\nEvery command has -h. Exit code: 0 all went well, 1 a book, spec or file is wrong, 2 the command "+
		"or a file was not understood.\n")
}

// flags are those of a command. Nearly every command reads a book. What a flag may be is checked while it is read, so
// that commands begin with what is known to be good.
type flags struct {
	*flag.FlagSet
	console *console
	usage   string // the command as it is written, below "go run ./web"
	about   string // what it is for, in an owner's words
	book    string // its folder
}

// newFlags makes the flags of a command; usage is written by hand, in the order in which a person thinks of them.
func newFlags(c *console, name, usage string) *flags {
	f := newBookless(c, name, usage)
	f.StringVar(&f.book, "book", demoBook, "folder of the book")
	return f
}

// newBookless makes the flags of a command that needs no book.
func newBookless(c *console, name, usage string) *flags {
	f := &flags{FlagSet: flag.NewFlagSet(name, flag.ContinueOnError), console: c, usage: usage}
	// package flag would print an error by itself, with the whole usage below: run says it once, with what to do
	f.SetOutput(io.Discard)
	f.Usage = func() {}
	return f
}

// oneOf is a flag that takes one of some words, and is the first where it is not given. What is wrong is told with all
// words that would do, while the flags are read: before a book is loaded, which takes a second.
func oneOf[T ~string](f *flags, name, what string, words ...T) *T {
	chosen, list := words[0], string(words[0])
	for i, w := range words[1:] {
		between := ", "
		if i == len(words)-2 {
			between = " or "
		}
		list += between + string(w)
	}
	f.Func(name, fmt.Sprintf("%s: %s (default %s)", what, list, chosen), func(s string) error {
		if !slices.Contains(words, T(s)) {
			return fmt.Errorf("want %s", list)
		}
		chosen = T(s)
		return nil
	})
	return &chosen
}

// list is a flag that may be given several times.
func (f *flags) list(name, what string) *[]string {
	var all []string
	f.Func(name, what+"; may be given several times", func(s string) error { all = append(all, s); return nil })
	return &all
}

// parse reads the flags; nothing may stand behind them. An argument without a flag is mostly a folder or file whose
// flag was forgotten; it is never silently passed over.
func (f *flags) parse(args []string) error {
	if err := f.read(args); err != nil {
		return err
	}
	if f.NArg() > 0 {
		return f.wrong("what is %q? Every word of a command stands behind a flag, such as -book %[1]s", f.Arg(0))
	}
	return nil
}

// parseFile reads the flags and the one file behind them.
func (f *flags) parseFile(args []string) (string, error) {
	if err := f.read(args); err != nil {
		return "", err
	}
	if f.NArg() != 1 {
		return "", f.wrong("which file? Give one, behind the flags")
	}
	return f.Arg(0), nil
}

// read reads the flags up to the first word that is none.
func (f *flags) read(args []string) error {
	err := f.Parse(args)
	switch {
	case errors.Is(err, flag.ErrHelp):
		if f.about != "" {
			fmt.Fprintf(f.console.err, "%s\n\n", wrapped(f.about))
		}
		fmt.Fprintf(f.console.err, "Usage: go run ./web %s\n\nFlags:\n", f.usage)
		f.SetOutput(f.console.err)
		f.PrintDefaults()
		return err
	case err != nil:
		return f.wrong("%w", err)
	}
	return nil
}

// wrapped breaks a paragraph into lines that fit any terminal.
func wrapped(text string) string {
	const columns = 79
	var b strings.Builder
	at := 0
	for word := range strings.FieldsSeq(text) {
		if at += len(word) + 1; at > columns+1 {
			b.WriteByte('\n')
			at = len(word) + 1
		} else if b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(word)
	}
	return b.String()
}

// wrong is a command that was not understood, by its name. Not for what is wrong with a file: that has exit code 1.
func (f *flags) wrong(format string, args ...any) error {
	return usageError{fmt.Errorf(f.Name()+": "+format, args...)}
}
