package sat

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// mostVariables bounds what a file may ask for, since every variable takes memory even where no clause has it.
const mostVariables = 10_000_000

// ReadDIMACS reads clauses in the DIMACS format: lines that begin with c are comments; a line "p cnf <variables>
// <clauses>" comes before the clauses; a clause is its literals, then 0, over as many lines as it likes. An error names
// the line.
//
// Source: DIMACS Challenge, Satisfiability: Suggested Format (1993), from memory.
func ReadDIMACS(r io.Reader) (Formula, error) {
	d := dimacs{promised: -1}
	lines := bufio.NewReader(r)
	for {
		text, err := lines.ReadString('\n')
		d.line++
		if err != nil && !errors.Is(err, io.EOF) {
			return Formula{}, fmt.Errorf("reading DIMACS: line %d: %w", d.line, err)
		}
		if wrong := d.read(text); wrong != nil {
			return Formula{}, fmt.Errorf("reading DIMACS: line %d: %w", d.line, wrong)
		}
		if err != nil {
			break
		}
	}
	if err := d.complete(); err != nil {
		return Formula{}, fmt.Errorf("reading DIMACS: line %d, the end: %w", d.line, err)
	}
	return d.formula, nil
}

// dimacs is a file on the way: a clause may go on over lines, so that one may be open.
type dimacs struct {
	formula  Formula
	line     int
	promised int // how many clauses the header announced; -1 before it
	open     []Lit
}

func (d *dimacs) read(line string) error {
	words := strings.Fields(line)
	switch {
	case len(words) == 0 || strings.HasPrefix(words[0], "c"):
		return nil
	case words[0] == "p":
		return d.header(words)
	case d.promised < 0:
		return fmt.Errorf(`%q comes before the header; begin with "p cnf <variables> <clauses>"`, words[0])
	}
	for _, w := range words {
		n, err := strconv.ParseInt(w, 10, 32)
		l := Lit(n)
		if err != nil || l.Var() > d.formula.Variables {
			return fmt.Errorf("%q is no literal; the header allows -%d to %[2]d, and 0 after each clause", w,
				d.formula.Variables)
		}
		if l != 0 {
			d.open = append(d.open, l)
			continue
		}
		d.formula.Clauses = append(d.formula.Clauses, d.open)
		d.open = nil
	}
	return nil
}

func (d *dimacs) header(words []string) error {
	if d.promised >= 0 {
		return errors.New("a second header; keep one formula to a file")
	}
	if len(words) != 4 || words[1] != "cnf" {
		return fmt.Errorf(`%q is no header of clauses; write "p cnf <variables> <clauses>"`, strings.Join(words, " "))
	}
	variables, err := strconv.Atoi(words[2])
	if err != nil || variables < 0 || variables > mostVariables {
		return fmt.Errorf("%q is no number of variables from 0 to %d", words[2], mostVariables)
	}
	clauses, err := strconv.Atoi(words[3])
	if err != nil || clauses < 0 {
		return fmt.Errorf("%q is no number of clauses", words[3])
	}
	d.formula.Variables, d.promised = variables, clauses
	return nil
}

// complete checks what can be known at the end alone: a file that was cut off is told, and not taken for a smaller
// formula.
func (d *dimacs) complete() error {
	switch {
	case d.promised < 0:
		return errors.New(`there is no header; begin with "p cnf <variables> <clauses>"`)
	case d.open != nil:
		return fmt.Errorf("the clause %v has no end; write 0 after it", d.open)
	case len(d.formula.Clauses) != d.promised:
		return fmt.Errorf("there are %d clauses, and the header says %d; correct the header, or look for what is "+
			"missing",
			len(d.formula.Clauses), d.promised)
	}
	return nil
}
