package actuals

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"

	"ribband/core/book/amend"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/works"
)

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
func (r *Result) Edit(folder fs.FS) (*amend.Edit, error) {
	e := amend.New(folder)
	costs := r.engine.Pack.Costs
	for i := range costs.Hulls {
		if err := r.item(e, &costs.Hulls[i], OfHull, i); err != nil {
			return nil, fmt.Errorf("editing the book: %w", err)
		}
	}
	for i := range costs.Options {
		if err := r.item(e, &costs.Options[i], OfOption, i); err != nil {
			return nil, fmt.Errorf("editing the book: %w", err)
		}
	}
	if err := r.spreads(e); err != nil {
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
func (r *Result) item(e *amend.Edit, item *pack.BillOfMaterials, kind Kind, index int) error {
	// a hull's factor is for its own list alone: an option has one formula for all hulls that it is made for
	own := r.factor(kind, index)
	for i := range item.Operations {
		line := &item.Operations[i]
		if r.engine.Work.Operations[line.Index].Shop == works.Outside { // it has a quantity and no hours
			continue
		}
		factor := float64(own * r.factor(OfOperation, line.Index))
		if math.Abs(factor-1) < 0.005 { // as it is written, it would be 1
			continue
		}
		// no two lines of the book stand in one place, so that none is multiplied twice
		at := r.engine.Pack.Work.Sources[line.At]
		id, _ := nameOf(r.engine, kind, index)
		what := fmt.Sprintf("%s, hours of %s", id, r.engine.Work.Operations[line.Index].ID)
		lines, err := e.Lines(at.File)
		if err != nil {
			return err
		}
		if at.Line > len(lines) {
			return amend.Moved(at)
		}
		before, raw, behind, ok := amend.Scalar(e.Line(at.File, at.Line-1), at)
		if !ok {
			e.ByHand = append(e.ByHand, fmt.Sprintf("%s: %s: multiply by %s", at, what, decimal(factor, 2)))
			continue
		}
		now := times(raw, factor)
		e.Set(at.File, at.Line-1, before+now+behind)
		e.Changes = append(e.Changes, amend.Change{Place: at.String(), What: what, Was: raw, Now: now})
	}
	return nil
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
func (r *Result) spreads(e *amend.Edit) error {
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
			if files, err = e.Files(); err != nil {
				return err
			}
		}
		if err := writeSpread(e, files, b.ID, pertOf(b.Spread)); err != nil {
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

// writeSpread writes the spread of an operation, in the place of the one that it has, or behind its shop.
func writeSpread(e *amend.Edit, files []string, id string, s pack.Spread) error {
	text := fmt.Sprintf("spread: {low: %s, high: %s}", decimal(s.Low, 2), decimal(s.High, 2))
	for _, name := range files {
		lines, err := e.Lines(name)
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
		c := amend.Change{What: id + ", spread", Now: text}
		switch end := 0; {
		case spread < 0:
			c.Place = fmt.Sprintf("%s:%d:%d", name, shop+1, inner+1)
			e.Set(name, shop, e.Line(name, shop)+"\n"+margin+text)
		case strings.Contains(lines[spread], "}"):
			end = strings.Index(lines[spread], "}") + 1
			c.Place, c.Was = fmt.Sprintf("%s:%d:%d", name, spread+1, inner+1), lines[spread][inner:end]
			e.Set(name, spread, margin+text+lines[spread][end:])
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
