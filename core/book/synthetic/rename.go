package synthetic

import (
	"regexp"
	"strconv"

	"ribband/core/book"
)

// names are old names with the new ones.
type names map[string]string

// quoted finds what formulas name: they do it in quotes.
var quoted = regexp.MustCompile(`"[^"]*"|'[^']*'`)

// among says whether a formula names any of them. Such a formula asks something of the copy's own options.
func (n names) among(formula string) bool {
	for _, q := range quoted.FindAllString(formula, -1) {
		if _, ok := n[q[1:len(q)-1]]; ok {
			return true
		}
	}
	return false
}

// text is a name as the copy has it.
func (c *copying) text(t book.Text) book.Text {
	// what is not renamed is shared by all copies
	if renamed, ok := c.names[t.Value]; ok {
		t.Value = renamed
	}
	return t
}

// formula is one that reads the copy. Where the characters of a changed one stand is not known.
func (c *copying) formula(f book.Formula) book.Formula {
	if c.number == 0 {
		return f
	}
	// only what is in quotes is renamed: the words hull.length_m and figures.mass_kg are shared by all copies
	f.Value = quoted.ReplaceAllStringFunc(f.Value, func(q string) string {
		if renamed, ok := c.names[q[1:len(q)-1]]; ok {
			return q[:1] + renamed + q[len(q)-1:]
		}
		return q
	})
	f.Marks = nil
	return f
}

// scaled is a share of what a formula gives; a plain number stays one.
func scaled(f book.Formula, share float64) book.Formula {
	if f.Empty() || share == 1 {
		return f
	}
	// so that the check of the book reads a number as one
	if v, err := strconv.ParseFloat(f.Value, 64); err == nil {
		f.Value = strconv.FormatFloat(v*share, 'f', -1, 64)
	} else {
		f.Value = "(" + f.Value + ") * " + strconv.FormatFloat(share, 'f', -1, 64)
	}
	f.Marks = nil
	return f
}
