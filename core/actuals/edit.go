package actuals

import (
	"fmt"
	"io/fs"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"

	"ribband/core/measure"
	"ribband/core/pack"
)

// Edit is what to change in the book, for the owner to look at and apply.
type Edit struct {
	Changes []Change `json:"changes"`
	// what to change by hand, since it stands in a way that this program does not rewrite
	ByHand []string `json:"by_hand,omitempty"`

	// A line that stays and gets others behind it is kept as itself, a line feed, and those; so a spread is inserted
	// without a second list.
	was map[string][]string       // lines of files that are changed
	now map[string]map[int]string // lines in their place, by number from 0; may be several
}

// Change is a figure of the book and what it becomes.
type Change struct {
	Place string `json:"place"` // file:line:column
	What  string `json:"what"`
	Was   string `json:"was"`
	Now   string `json:"now"`
}

// plainly is by how much the spread of the book must be off to be changed, as a ratio: less hardly moves a launch. No
// source.
const plainly = 1.5

// fewBoats do not tell the spread of an operation: it is drawn to that of all others, whatever the book says of it.
const fewBoats = 12

// Edit is the edit of the book in a folder that the result asks for: the hours of operations, options and hulls that
// are off ([Bias.Off]), and the spreads of operations that are plainly off. A number is multiplied, a formula gets a
// factor behind it; comments and layout stay. Hours of a hull's own list are changed by its operation and hull, those
// of an option by its operation and option. The error says which file cannot be read, or is another than that of the
// pack.
func (r *Result) Edit(folder fs.FS) (*Edit, error) {
	e := &Edit{was: map[string][]string{}, now: map[string]map[int]string{}}
	costs := r.engine.Pack.Costs
	for i := range costs.Hulls {
		if err := r.item(e, folder, &costs.Hulls[i], OfHull, i); err != nil {
			return nil, fmt.Errorf("editing the book: %w", err)
		}
	}
	for i := range costs.Options {
		if err := r.item(e, folder, &costs.Options[i], OfOption, i); err != nil {
			return nil, fmt.Errorf("editing the book: %w", err)
		}
	}
	if err := r.spreads(e, folder); err != nil {
		return nil, fmt.Errorf("editing the book: %w", err)
	}
	return e, nil
}

// factor is by how much to multiply hours for what is off in one thing; 1 for nothing.
func (r *Result) factor(kind Kind, index int) float64 {
	for i := range r.Biases {
		if b := &r.Biases[i]; b.Kind == kind && b.index == index && b.Off() {
			return b.Ratio
		}
	}
	return 1
}

// item edits the hours of a hull or an option.
func (r *Result) item(e *Edit, folder fs.FS, item *pack.BillOfMaterials, kind Kind, index int) error {
	// a hull's factor is for its own list alone: an option has one formula for all hulls that it is made for
	own := r.factor(kind, index)
	for i := range item.Operations {
		line := &item.Operations[i]
		factor := float64(own * r.factor(OfOperation, line.Index))
		if math.Abs(factor-1) < 0.005 { // as it is written, it would be 1
			continue
		}
		// no two lines of the book stand in one place, so that none is multiplied twice
		at := r.engine.Pack.Work.Sources[line.At]
		id, _ := nameOf(r.engine, kind, index)
		what := fmt.Sprintf("%s, hours of %s", id, r.engine.Work.Operations[line.Index].ID)
		lines, err := e.read(folder, at.File)
		if err != nil {
			return err
		}
		if at.Line > len(lines) {
			return moved(at)
		}
		before, raw, behind, ok := scalar(e.line(at.File, at.Line-1), at)
		if !ok {
			e.ByHand = append(e.ByHand, fmt.Sprintf("%s: %s: multiply by %s", at, what, decimal(factor, 2)))
			continue
		}
		now := times(raw, factor)
		e.set(at.File, at.Line-1, before+now+behind)
		e.Changes = append(e.Changes, Change{at.String(), what, raw, now})
	}
	return nil
}

// moved is the error of a file that is not that of the pack.
func moved(at pack.Source) error {
	return fmt.Errorf("%s: the book has changed since it was read; begin anew", at)
}

// read reads a file of the book, as lines.
func (e *Edit) read(folder fs.FS, name string) ([]string, error) {
	if lines, ok := e.was[name]; ok {
		return lines, nil
	}
	text, err := fs.ReadFile(folder, name)
	if err != nil {
		return nil, err
	}
	e.was[name], e.now[name] = strings.Split(string(text), "\n"), map[int]string{}
	return e.was[name], nil
}

// line is a line as it is now.
func (e *Edit) line(name string, i int) string {
	if s, ok := e.now[name][i]; ok {
		return s
	}
	return e.was[name][i]
}

func (e *Edit) set(name string, i int, s string) { e.now[name][i] = s }

// scalar finds a formula in its line, as it is written there, between what stands before and behind it. It is not
// found where it goes on in other lines.
func scalar(line string, at pack.Source) (before, raw, behind string, ok bool) {
	runes := []rune(line)
	if at.Text == "" || at.Column < 1 || at.Column > len(runes) {
		return "", "", "", false
	}
	before, rest := string(runes[:at.Column-1]), string(runes[at.Column-1:])
	// positions are of the first character of the text or of the quote before it, as the reader of YAML gives them
	quote := rest[0]
	if n := len(before); quote != '"' && quote != '\'' && n > 0 && (before[n-1] == '"' || before[n-1] == '\'') {
		quote = before[n-1]
	} else if quote == '"' || quote == '\'' {
		before, rest = before+rest[:1], rest[1:]
	} else {
		// without quotes it stands as it reads
		if !strings.HasPrefix(rest, at.Text) {
			return "", "", "", false
		}
		return before, at.Text, rest[len(at.Text):], true
	}
	// in double quotes a backslash escapes, in single ones a quote is written twice: YAML 1.2.2, 7.3.1 and 7.3.2
	for i := 0; i < len(rest); i++ {
		switch {
		case quote == '"' && rest[i] == '\\', rest[i] == quote && quote == '\'' && strings.HasPrefix(rest[i:], "''"):
			i++
		case rest[i] == quote:
			return before, rest[:i], rest[i:], i > 0
		}
	}
	return "", "", "", false
}

// times is a number or a formula, as the book writes it, times a factor. A factor that it has got before is taken into
// the new one.
func times(text string, factor float64) string {
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		digits := 2
		if v < 1 {
			digits = 3 // of few minutes a hundredth of an hour is a lot
		}
		return decimal(float64(v*factor), digits)
	}
	// so a book that is corrected every winter keeps one factor, and loses it where it has become 1
	if inner, before, ok := multiplied(text); ok {
		text, factor = inner, float64(factor*before)
	}
	by := decimal(factor, 2)
	if by == "1" {
		return text
	}
	return "(" + text + ") * " + by
}

// decimal writes a number as the book does, without zeros at its end.
func decimal(v float64, digits int) string {
	return strconv.FormatFloat(measure.Round(v, digits), 'f', -1, 64)
}

// multiplied takes apart what times has made.
func multiplied(text string) (inner string, factor float64, ok bool) {
	const sign = ") * "
	end := strings.LastIndex(text, sign)
	if end < 1 || text[0] != '(' {
		return "", 0, false
	}
	factor, err := strconv.ParseFloat(text[end+len(sign):], 64)
	depth := 0
	for i, c := range text[:end] {
		switch c {
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 && i < end {
				return "", 0, false // the first bracket closes before the last one
			}
		}
	}
	return text[1:end], factor, err == nil && depth == 1
}

// spreads edits the spreads of operations.
func (r *Result) spreads(e *Edit, folder fs.FS) error {
	var files []string
	for i := range r.Biases {
		b := &r.Biases[i]
		if b.Kind != OfOperation || b.Boats < fewBoats {
			continue
		}
		// an interval that holds the book's spread says nothing against it
		was := spreadOf(r.engine.Work.Operations[b.index].Spread)
		if b.SpreadIn80.Has(was) || max(was, b.Spread) < plainly*min(was, b.Spread) {
			continue
		}
		// packs do not say where an operation stands; the files are looked through only when one is wanted
		if files == nil {
			var err error
			if files, err = filesOf(folder); err != nil {
				return err
			}
		}
		if err := e.spread(folder, files, b.ID, pertOf(b.Spread)); err != nil {
			return err
		}
	}
	return nil
}

// pertOf is the spread of PERT about the likely hours that has a standard deviation of the log, as far from them by
// ratio on both sides.
//
// Formula: (high - low) / 6 = s with low = 1 / high, so that high = sqrt(1 + 9 s²) + 3 s.
// Source: as of spreadOf, with algebra.
func pertOf(s float64) pack.Spread {
	root := math.Sqrt(1 + float64(9*float64(s*s)))
	three := float64(3 * s)
	return pack.Spread{Low: measure.Round(root-three, 2), High: measure.Round(root+three, 2)}
}

// filesOf are the files of a book that may have operations.
func filesOf(folder fs.FS) (names []string, err error) {
	err = fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && path.Ext(name) == ".yaml" {
			names = append(names, name)
		}
		return err
	})
	return names, err
}

// spread writes the spread of an operation, in the place of the one that it has, or behind its shop.
func (e *Edit) spread(folder fs.FS, files []string, id string, s pack.Spread) error {
	text := fmt.Sprintf("spread: {low: %s, high: %s}", decimal(s.Low, 2), decimal(s.High, 2))
	for _, name := range files {
		lines, err := e.read(folder, name)
		if err != nil {
			return err
		}
		at := slices.IndexFunc(lines, func(l string) bool { return strings.TrimSpace(l) == "- id: "+id })
		if at < 0 {
			continue
		}
		// what belongs to the operation stands as far in as its first key; its list of steps stands further in
		inner := strings.Index(lines[at], "-") + len("- ")
		shop, spread := -1, -1
		for i := at + 1; i < len(lines); i++ {
			rest := strings.TrimLeft(lines[i], " ")
			indent := len(lines[i]) - len(rest)
			if rest != "" && indent < inner {
				break
			}
			if indent != inner {
				continue
			}
			if strings.HasPrefix(rest, "shop:") {
				shop = i
			} else if strings.HasPrefix(rest, "spread:") {
				spread = i
			}
		}
		// slots and options have identifiers, too, and no shop
		if shop < 0 {
			continue // something else of that name
		}
		margin := strings.Repeat(" ", inner)
		c := Change{What: id + ", spread", Now: text}
		switch end := 0; {
		case spread < 0:
			c.Place = fmt.Sprintf("%s:%d:%d", name, shop+1, inner+1)
			e.set(name, shop, e.line(name, shop)+"\n"+margin+text)
		case strings.Contains(lines[spread], "}"):
			end = strings.Index(lines[spread], "}") + 1
			c.Place, c.Was = fmt.Sprintf("%s:%d:%d", name, spread+1, inner+1), lines[spread][inner:end]
			e.set(name, spread, margin+text+lines[spread][end:])
		default:
			e.ByHand = append(e.ByHand, fmt.Sprintf("%s:%d:%d: %s: write %s", name, spread+1, inner+1, id, text))
			return nil
		}
		e.Changes = append(e.Changes, c)
		return nil
	}
	e.ByHand = append(e.ByHand, fmt.Sprintf("%s: write %s where the operation stands", id, text))
	return nil
}

// Diff is the edit as a unified diff with three lines of context, by the names of the files below the folder of the
// book; empty where nothing is to be changed. In that folder, `patch -p1` applies it.
//
// Source: POSIX.1-2017, diff, "Diff -u Output Format".
func (e *Edit) Diff() []byte {
	var out strings.Builder
	var names []string
	for name, lines := range e.now {
		if len(lines) > 0 {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(&out, "--- a/%s\n+++ b/%s\n", name, name)
		e.hunks(&out, name)
	}
	return []byte(out.String())
}

// context is how many lines of a file stand about those that change.
const context = 3

// hunks writes the changed places of a file; those whose contexts meet are one.
func (e *Edit) hunks(out *strings.Builder, name string) {
	was, now := e.was[name], e.now[name]
	end := len(was)
	if was[end-1] == "" { // the line end of the last line, and no line
		end--
	}
	var at []int
	for i := range now {
		at = append(at, i)
	}
	slices.Sort(at)
	// a hunk says where it stands in either file, and those of the new one move on by what was inserted before
	grown := 0 // lines more than before, until here
	for i := 0; i < len(at); {
		j := i
		for j+1 < len(at) && at[j+1]-at[j] <= 2*context {
			j++
		}
		from, to := max(0, at[i]-context), min(end, at[j]+context+1)
		// the line itself is context, and patch takes less of it below than above for the end of a file
		if e.addsTo(name, at[i]) {
			from = max(0, at[i]-context+1)
		}
		var body strings.Builder
		more := 0
		for l := from; l < to; l++ {
			text, changed := now[l]
			last := ""
			if l == len(was)-1 {
				last = "\\ No newline at end of file\n"
			}
			if !changed {
				body.WriteString(" " + was[l] + "\n" + last)
				continue
			}
			lines := strings.Split(text, "\n")
			more += len(lines) - 1
			if e.addsTo(name, l) {
				body.WriteString(" " + was[l] + "\n")
				lines = lines[1:]
			} else {
				body.WriteString("-" + was[l] + "\n" + last)
			}
			body.WriteString("+" + strings.Join(lines, "\n+") + "\n" + last)
		}
		fmt.Fprintf(out, "@@ -%d,%d +%d,%d @@\n%s", from+1, to-from, from+1+grown, to-from+more, body.String())
		grown += more
		i = j + 1
	}
}

// addsTo says whether a line stays and others come behind it.
func (e *Edit) addsTo(name string, line int) bool {
	return line < len(e.was[name])-1 && strings.HasPrefix(e.now[name][line], e.was[name][line]+"\n")
}

// Apply gives the files that the edit changes as they are afterwards, by name.
func (e *Edit) Apply() map[string][]byte {
	out := map[string][]byte{}
	for name, now := range e.now {
		if len(now) == 0 {
			continue
		}
		lines := slices.Clone(e.was[name])
		for i, s := range now {
			lines[i] = s
		}
		out[name] = []byte(strings.Join(lines, "\n"))
	}
	return out
}
