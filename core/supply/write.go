package supply

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/measure"
	"ribband/core/money"
)

// Values are replaced where they stand, from the right to the left of a line, so that no place moves before it is
// used. What the book has not yet comes behind the cost, in the style in which the material is written.

// place is a value of the book and what it becomes.
type place struct {
	at  book.Position
	now string
	add string // keys to come behind it: "price_date: 2027-03-31"
}

// write edits a material: its cost, its prices by quantity, the day. The error says that the book is not what was read.
func (p *proposer) write(m *book.Material, rows []Row, day string) error {
	cost := place{at: m.Cost.At, now: p.amount(rows[0].Price)}
	// a price that is confirmed has its day, too: the book then says how old its prices are
	places := p.breaks(m, rows[1:], &cost)
	if m.PriceDate.Value != "" {
		places = append(places, place{at: m.PriceDate.At, now: day})
	} else {
		cost.add = join(cost.add, "price_date: "+day)
	}
	places = append(places, cost)
	slices.SortFunc(places, func(x, y place) int {
		if x.at.Line != y.at.Line {
			return y.at.Line - x.at.Line
		}
		return y.at.Column - x.at.Column
	})
	for _, x := range places {
		if err := p.set(m, x); err != nil {
			return err
		}
	}
	return nil
}

// join puts keys beside each other as within brackets.
func join(keys, key string) string {
	if keys == "" {
		return key
	}
	return keys + ", " + key
}

// amount is a price as the book writes it: with the digits of the currency at least.
func (p *proposer) amount(a money.Amount) string {
	// two, as most currencies have, where the checker of the book has something to say anyway
	digits := 2
	if c, err := money.CurrencyOf(p.book.Currency.Value); err == nil {
		digits = c.Digits
	}
	return Written(a, digits)
}

// Prices for 100 m have four decimals by the metre, and thread by the metre has less than a cent.

// Written is an amount with so many digits at least, and with more where it has them.
func Written(a money.Amount, digits int) string {
	text := a.String()
	if _, fraction, _ := strings.Cut(text, "."); len(fraction) < digits {
		return a.Fixed(digits)
	}
	return text
}

// breaks are the places of prices by quantity. A list that has other quantities than the book has its line written
// anew, where it stands in one.
func (p *proposer) breaks(m *book.Material, rows []Row, cost *place) (list []place) {
	same := len(rows) == len(m.Breaks)
	var written []string
	for i, r := range rows {
		written = append(written, fmt.Sprintf("{from: %s, price: %q}", r.From, p.amount(r.Price)))
		if !same {
			continue
		}
		q, err := measure.FromFloat[measure.Quantity](m.Breaks[i].From.Value)
		same = err == nil && q == r.From
	}
	// only what stands in its place already is changed in it: a list in lines of its own has comments
	text := "breaks: [" + strings.Join(written, ", ") + "]"
	switch {
	case same:
		for i, r := range rows {
			list = append(list, place{at: m.Breaks[i].Price.At, now: p.amount(r.Price)})
		}
	case len(m.Breaks) == 0:
		cost.add = text
	case len(rows) == 0 && !p.list.Breaks: // the list knows no quantities: those of the book stay
	case len(rows) == 0:
		p.hand(m, "the list has no price by quantity any more: take breaks: out")
	default:
		p.hand(m, "the list has other quantities: write "+text)
	}
	return list
}

// hand notes what a person has to write.
func (p *proposer) hand(m *book.Material, what string) {
	at := m.Breaks[0].From.At
	p.Edit.ByHand = append(p.Edit.ByHand, fmt.Sprintf("%s: %s: %s", at, m.ID, what))
}

// set edits one value, unless it is so already.
func (p *proposer) set(m *book.Material, x place) error {
	before, raw, behind, ok := p.Edit.Value(x.at.File, x.at.Line, x.at.Column)
	if !ok {
		p.Edit.ByHand = append(p.Edit.ByHand, fmt.Sprintf("%s: %s: write %s", x.at, m.ID, join(x.now, x.add)))
		return nil
	}
	// nobody wants a diff of zeros:
	// the same amount in other digits stays as its owner wrote it
	if a, err := money.Parse(raw); err == nil {
		if b, err := money.Parse(x.now); err == nil && a.Equal(b) {
			x.now = raw
		}
	}
	if x.now == raw && x.add == "" {
		return nil
	}
	// the line as it is now, with what was changed further to the right
	line := before + x.now + behind
	if x.add != "" {
		line = p.behind(before+x.now, behind, x.add)
	}
	if _, err := p.Edit.Lines(x.at.File); err != nil {
		return err
	}
	p.Edit.Set(x.at.File, x.at.Line-1, line)
	p.Edit.Note(x.at.String(), m.ID.Value, raw, join(x.now, x.add))
	return nil
}

// behind puts keys behind a value: within brackets after a comma, else on lines of their own below it, as far in as its
// key stands.
func (p *proposer) behind(before, behind, keys string) string {
	// the quote that ends the value is the first of what stands behind it
	quote := ""
	if behind != "" && strings.ContainsRune(`"'`, rune(behind[0])) {
		quote, behind = behind[:1], behind[1:]
	}
	if rest := strings.TrimSpace(behind); rest != "" && (rest[0] == ',' || rest[0] == '}') {
		return before + quote + ", " + keys + behind
	}
	// in block style each key has a line of its own, below that of the cost and its comment
	indent := len(before) - len(strings.TrimLeft(before, " -"))
	return before + quote + behind + "\n" + strings.Repeat(" ", indent) +
		strings.ReplaceAll(keys, ", price_date", "\n"+strings.Repeat(" ", indent)+"price_date")
}
