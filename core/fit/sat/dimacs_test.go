package sat_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/iotest"

	"ribband/core/fit/sat"
)

func TestReadDIMACS(t *testing.T) {
	const text = "c a comment\np cnf 3 3\n1 -2 0 2\n3 0\ncomments go anywhere\r\n0\n"
	f, err := sat.ReadDIMACS(strings.NewReader(text))
	if got := fmt.Sprint(f.Variables, f.Clauses); err != nil || got != "3 [[1 -2] [2 3] []]" {
		t.Errorf("%s, %v", got, err)
	}
}

func TestReadDIMACSErrors(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"empty", "", `line 1, the end: there is no header; begin with "p cnf <variables> <clauses>"`},
		{"no header", "c\n1 0\n", `line 2: "1" comes before the header; begin with "p cnf <variables> <clauses>"`},
		{"two headers", "p cnf 1 0\np cnf 1 0\n", "line 2: a second header; keep one formula to a file"},
		{"other kind", "p wcnf 1 1 1\n", `line 1: "p wcnf 1 1 1" is no header of clauses; write "p cnf <variables> <clauses>"`},
		{"variables", "p cnf 10000001 0", `line 1: "10000001" is no number of variables from 0 to 10000000`},
		{"clauses", "p cnf 1 many", `line 1: "many" is no number of clauses`},
		{"word", "p cnf 1 1\n1 x 0", `line 2: "x" is no literal; the header allows -1 to 1, and 0 after each clause`},
		{"too far", "p cnf 2 1\n1 -3 0", `line 2: "-3" is no literal; the header allows -2 to 2, and 0 after each clause`},
		{"smallest", "p cnf 2 1\n-2147483648 0",
			`line 2: "-2147483648" is no literal; the header allows -2 to 2, and 0 after each clause`},
		{"open", "p cnf 2 1\n1 2", "line 2, the end: the clause [1 2] has no end; write 0 after it"},
		{"too few", "p cnf 2 2\n1 2 0\n", "line 3, the end: there are 1 clauses, and the header says 2; correct the " +
			"header, or look for what is missing"},
	}
	for _, x := range tests {
		t.Run(x.name, func(t *testing.T) {
			if _, err := sat.ReadDIMACS(strings.NewReader(x.text)); err == nil ||
				err.Error() != "reading DIMACS: "+x.want {
				t.Errorf("got  %v\nwant reading DIMACS: %s", err, x.want)
			}
		})
	}
	broken := errors.New("the disk is full")
	if _, err := sat.ReadDIMACS(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Errorf("%v hides the reader's error", err)
	}
}

// What is read, written again and read once more is the same; nothing panics, and small formulas get an answer that is
// right.
func FuzzReadDIMACS(f *testing.F) {
	for _, text := range []string{"", "p cnf 2 2\n1 -2 0\n2 0\n", "c x\np cnf 0 1\n0\n", "p cnf 3 1\n1 1 -1 3 0",
		"p cnf 1 2\n1 0 -1 0"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		read, err := sat.ReadDIMACS(bytes.NewReader(text))
		if err != nil {
			return
		}
		again, err := sat.ReadDIMACS(bytes.NewReader(dimacs(read)))
		if err != nil || fmt.Sprint(again) != fmt.Sprint(read) {
			t.Fatalf("%v becomes %v, %v", read, again, err)
		}
		if read.Variables > 8 || len(read.Clauses) > 50 {
			return
		}
		if got := confirmed(t, read); got != want(models(read, nil)) {
			t.Errorf("%v", got)
		}
	})
}
