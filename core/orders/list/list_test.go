package list_test

import (
	"fmt"
	"strings"
	"testing"

	"ribband/core/orders/list"
)

// read writes down what a list says, the faults last.
func read(text string) string {
	l, err := list.Read([]byte(text), "material", "quantity")
	if err != nil {
		return err.Error()
	}
	var out []string
	for i := range l.Rows {
		r := &l.Rows[i]
		n, err := r.Decimal("quantity")
		if err != nil {
			n = err.Error()
		}
		out = append(out, r.Text("material")+" "+n)
	}
	for _, f := range l.Faults {
		out = append(out, f.Error())
	}
	return fmt.Sprintf("%d: %s", l.All, strings.Join(out, " | "))
}

func TestLists(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"commas":     {"material,quantity\nresin,2.5\n", "1: resin 2.5"},
		"semicolons": {"Quantity;Material\n2,5;resin\n\n;;\n-1;foam\n", "2: resin 2.5 | foam -1"},
		"of a sheet": {"\ufeffmaterial\tquantity\r\n\"resin, \"\"clear\"\"\"\t3\r\n", `1: resin, "clear" 3`},
		"both signs": {"material;quantity\na;1,5\nb;2.5\nc;3\n", `3: a 1.5 | b line 3: quantity: "2.5" has a ` +
			`decimal point, line 2 has the other sign; use one throughout | c 3`},
		"thousands": {"material,quantity\na,\"1,234.5\"\nb,1\n", `2: a line 2: quantity: "1,234.5" is no number; ` +
			`write it with one decimal sign and nothing between thousands | b 1`},
		"words": {"material,quantity\na,many\nb,\nc,1e3\n", ""},
		"too few": {"material,quantity\na\nb,2\n",
			"2: b 2 | line 2: it has 1 values and the first line 2; " +
				"a value with the sign between values in it stands in quotes"},
		"a quote open": {"material,quantity\nb,2\n\"a,1\n", `2: b 2 | line 3: extraneous or missing " in ` +
			`quoted-field; a quote inside a quoted text is written twice`},
		"no column": {"material,amount\na,1\n", `line 1: there is no column "quantity"; the first line names ` +
			`the columns material, quantity`},
		"a column twice": {"material,quantity,quantity\n", `line 1: the column "quantity" stands there 2 times; ` +
			`keep one`},
		"empty":           {"", "it is empty; its first line names the columns material, quantity"},
		"another charset": {"material,quantity\nBl\xfctenwei\xdf,1\n", "line 2: it is no UTF-8; save it as CSV UTF-8"},
	} {
		got := read(c.text)
		if c.want == "" && strings.Count(got, "is no number") != 3 || c.want != "" && got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", name, got, c.want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("material;quantity\na;1,5\nb;2.5\n"))
	f.Add([]byte("material,quantity\n\"a"))
	f.Fuzz(func(t *testing.T, text []byte) {
		l, err := list.Read(text, "material", "quantity")
		if err != nil {
			return
		}
		if l.All != len(l.Rows)+len(l.Faults) {
			t.Fatalf("%d rows are %d good ones and %d faults", l.All, len(l.Rows), len(l.Faults))
		}
		for i := range l.Rows {
			if n, err := l.Rows[i].Decimal("quantity"); err == nil && strings.ContainsAny(n, ",eE ") {
				t.Fatalf("%q is a number", n)
			}
		}
	})
}
