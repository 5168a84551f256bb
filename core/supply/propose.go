package supply

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/book/amend"
	"ribband/core/measure"
	"ribband/core/money"
)

// Terms are how a list is taken into the book.
type Terms struct {
	Supplier string // as the book names him
	Day      string // of rows that say none, ISO 8601
	// Jump is the largest change of a price that is taken without a look, as a share of the old one.
	Jump        money.Rate
	AcceptJumps bool
}

// Change is a price of the book and what it becomes.
type Change struct {
	Material string           `json:"material"`
	Article  string           `json:"article"`
	Title    string           `json:"title"`
	Unit     string           `json:"unit"`
	From     measure.Quantity `json:"from,omitempty"` // of a price by quantity
	Was      money.Amount     `json:"was"`
	Now      money.Amount     `json:"now"`
	Share    money.Rate       `json:"share"` // by which it changes, of the old price: below zero where it falls
	Line     int              `json:"line"`  // of the list
}

// Kind is why something is left as it is.
type Kind string

// The kinds, in the order of a report.
const (
	Missing    Kind = "missing"    // an article of the book is not in the list
	Unnumbered Kind = "unnumbered" // a material of the supplier has no article
	Unmatched  Kind = "unmatched"  // a row is of no article of the book
	Doubled    Kind = "doubled"    // an article stands in the list twice
	OtherUnit  Kind = "unit"       // a price is for another unit
	OtherMoney Kind = "currency"   // a price is in another currency
	Incomplete Kind = "incomplete" // there are prices by quantity alone
	Older      Kind = "older"      // the book has a price of a later day
	Jump       Kind = "jump"       // a price moves more than is taken without a look
)

// Kinds are all of them, in the order of a report.
var Kinds = []Kind{Missing, Unnumbered, Unmatched, Doubled, OtherUnit, OtherMoney, Incomplete, Older, Jump}

// Left is something that is left to a person.
type Left struct {
	Kind     Kind   `json:"kind"`
	Line     int    `json:"line,omitempty"` // of the list; 0 for what it lacks
	Article  string `json:"article,omitempty"`
	Material string `json:"material,omitempty"` // of the book
	Why      string `json:"why"`
}

// Proposal is what a list changes in the book.
type Proposal struct {
	Supplier string      `json:"supplier"`
	Rows     int         `json:"rows"`    // prices that were read
	Same     int         `json:"same"`    // articles whose prices are those of the book
	Changes  []Change    `json:"changes"` // in the order of the book
	Left     []Left      `json:"left,omitempty"`
	Edit     *amend.Edit `json:"edit"`
}

// FindSupplier finds a supplier by his name, or by it in small letters with hyphens between its words. The error names
// those of the book.
func FindSupplier(b *book.Book, name string) (string, error) {
	var known []string
	for i := range b.Materials {
		if s := b.Materials[i].Supplier.Value; s != "" && !slices.Contains(known, s) {
			known = append(known, s)
		}
	}
	// a name has blanks and capitals, which nobody likes to type behind a flag
	slices.Sort(known)
	for _, s := range known {
		if s == name || strings.ReplaceAll(plain(s), " ", "-") == strings.ToLower(name) {
			return s, nil
		}
	}
	return "", fmt.Errorf("the book has no supplier %.60q; it has %s", name, strings.Join(known, ", "))
}

// Propose says what a list changes in the book that was read from a folder. The error says that a file of it cannot be
// read.
func Propose(b *book.Book, folder fs.FS, list *List, terms Terms) (*Proposal, error) {
	p := &proposer{book: b, list: list, terms: terms, rows: map[string][]Row{},
		Proposal: Proposal{Supplier: terms.Supplier, Rows: len(list.Rows), Changes: []Change{},
			Edit: amend.New(folder)}}
	for _, r := range list.Rows {
		p.rows[key(r.Article)] = append(p.rows[key(r.Article)], r)
	}
	// the book is gone through, and not the list: what the list lacks has to be told, too
	found := map[string]bool{}
	for i := range b.Materials {
		m := &b.Materials[i]
		if m.Supplier.Value != terms.Supplier {
			continue
		}
		if m.Article.Value == "" {
			p.leave(Unnumbered, 0, m, "it has no article in the book; add article: with his number")
			continue
		}
		rows := p.rows[key(m.Article.Value)]
		if len(rows) == 0 {
			p.leave(Missing, 0, m, "the list does not have it; ask whether it is still to be had")
			continue
		}
		found[key(m.Article.Value)] = true
		if err := p.material(m, rows); err != nil {
			return nil, fmt.Errorf("editing the book: %w", err)
		}
	}
	// what of the list no material wanted
	for _, r := range list.Rows {
		if !found[key(r.Article)] {
			p.Left = append(p.Left, Left{Unmatched, r.Line, r.Article, "", "no material of the book has this article"})
		}
	}
	slices.SortStableFunc(p.Left, func(x, y Left) int {
		return slices.Index(Kinds, x.Kind) - slices.Index(Kinds, y.Kind)
	})
	return &p.Proposal, nil
}

// key is an article as two people write it: blanks and capitals tell nothing.
func key(article string) string { return strings.ToUpper(strings.Join(strings.Fields(article), "")) }

// proposer makes a proposal. What is left out is noted where it is found; the report puts it in order by its kind.
type proposer struct {
	Proposal
	book  *book.Book
	list  *List
	terms Terms
	rows  map[string][]Row // by article
}

func (p *proposer) leave(kind Kind, line int, m *book.Material, format string, args ...any) {
	p.Left = append(p.Left, Left{kind, line, m.Article.Value, m.ID.Value, fmt.Sprintf(format, args...)})
}

// material takes in the rows of one article, or leaves it as it is.
func (p *proposer) material(m *book.Material, rows []Row) error {
	if !p.usable(m, rows) {
		return nil
	}
	// the first price is that for any quantity, and the others hold from theirs on
	slices.SortStableFunc(rows, func(x, y Row) int { return int(min(1, max(-1, x.From-y.From))) })
	rows = slices.CompactFunc(rows, func(x, y Row) bool { return x.From == y.From })
	if rows[0].From != 0 {
		p.leave(Incomplete, rows[0].Line, m, "there is a price from %s on and none for less", rows[0].From)
		return nil
	}
	day := rows[0].Day
	if day == "" {
		day = p.terms.Day
	}
	if day < m.PriceDate.Value { // both of ISO 8601
		p.leave(Older, rows[0].Line, m, "the list is of %s, and the book has a price of %s", day, m.PriceDate.Value)
		return nil
	}
	// one price beyond the jump leaves the whole article out: its prices belong together
	changes := p.changes(m, rows)
	for _, c := range changes {
		if beyond(c.Share, p.terms.Jump) && !p.terms.AcceptJumps {
			p.leave(Jump, c.Line, m, "%s%s becomes %s, %s: look at it, and take it with -accept-jumps", from(c.From),
				c.Was, c.Now, signed(c.Share))
			return nil
		}
	}
	if len(changes) == 0 {
		p.Same++
	}
	p.Changes = append(p.Changes, changes...)
	return p.write(m, rows, day)
}

// usable says whether the rows of an article mean what the book means, and once.
func (p *proposer) usable(m *book.Material, rows []Row) bool {
	// a list without units and currencies is taken to have those of the book: most have none
	first := map[measure.Quantity]Row{}
	// another unit or currency is no slip of the list: somebody has to find out what the price is of
	for _, r := range rows {
		switch {
		case r.Unit != "" && r.Unit != m.Unit.Value:
			p.leave(OtherUnit, r.Line, m, "its price is for %q, and the book keeps it in %s", r.Unit, m.Unit.Value)
			return false
		case r.Currency != "" && r.Currency != p.book.Currency.Value:
			p.leave(OtherMoney, r.Line, m, "its price is in %s, and the book is in %s", r.Currency,
				p.book.Currency.Value)
			return false
		}
		// the same price twice is a copy, and two prices are a question to the supplier
		before, twice := first[r.From]
		if twice && !before.Price.Equal(r.Price) {
			p.leave(Doubled, r.Line, m, "it costs %s here and %s in line %d; ask which holds", r.Price, before.Price,
				before.Line)
			return false
		}
		if twice {
			p.leave(Doubled, r.Line, m, "it stands in line %d, too, with the same price, which is taken", before.Line)
		}
		first[r.From] = r
	}
	return true
}

// changes are the prices that differ: of the cost, and of each price by quantity that book or list has.
func (p *proposer) changes(m *book.Material, rows []Row) (list []Change) {
	for _, r := range rows {
		// what the book asked for so many until now
		was := m.Cost.Value
		for _, b := range m.Breaks {
			if q, err := measure.FromFloat[measure.Quantity](b.From.Value); err == nil && q <= r.From {
				was = b.Price.Value
			}
		}
		if was.Equal(r.Price) {
			continue
		}
		share, ok := money.ShareOf(r.Price.Sub(was), was)
		if !ok { // what cost nothing and costs something has no share
			share = money.MustRate("1")
		}
		list = append(list, Change{m.ID.Value, m.Article.Value, m.Title.Value, m.Unit.Value, r.From, was, r.Price,
			share, r.Line})
	}
	return list
}

// A price that has halved is as suspicious as one that has doubled: mostly the price unit was changed.

// beyond says whether a share is beyond a limit, up or down.
func beyond(share, limit money.Rate) bool {
	if share.Sign() < 0 {
		share = share.Complement().Add(money.MustRate("-1")) // 1 - share - 1
	}
	return share.Cmp(limit) > 0
}

// signed is a change in per cent, with its sign.
func signed(r money.Rate) string {
	text := fmt.Sprintf("%.1f %%", float64(r.Millionths())/1e4)
	if r.Sign() > 0 {
		text = "+" + text
	}
	return text
}

// from are the words before a price by quantity.
func from(q measure.Quantity) string {
	if q == 0 {
		return ""
	}
	return "from " + q.String() + " on "
}
