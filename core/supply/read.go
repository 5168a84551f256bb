package supply

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"ribband/core/measure"
	"ribband/core/money"
)

// Bounds of a file: a hundred thousand prices, and a letterhead of a page above them.
const (
	maxBytes = 16 << 20
	maxHead  = 40
)

// table is a file in its rows, and what its columns are.
type table struct {
	rows   []record
	head   int            // index of the row with the heads of the columns
	column map[string]int // by role
	// said by the heads for all rows
	per      int64
	currency string
	sign     rune // of decimals; 0 where no number tells it
}

// record is a row with its line, from 1.
type record struct {
	line   int
	values []string
}

// Read reads a price list. Rows that are wrong are faults, and the others are kept; the error says why nothing can be
// read.
func Read(text []byte, o Options) (*List, error) {
	if len(text) > maxBytes {
		return nil, fmt.Errorf("reading a price list: it has %d bytes; at most %d are read", len(text), maxBytes)
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // spreadsheets write one
	if !utf8.Valid(text) {
		// what is no UTF-8 comes from an older spreadsheet of the West; every byte means something there
		decoded, err := charmap.Windows1252.NewDecoder().Bytes(text)
		if err != nil {
			return nil, fmt.Errorf("reading a price list: %w", err)
		}
		text = decoded
	}
	// from here on it is text, whatever it came as
	t, err := tableOf(string(text), o)
	if err != nil {
		return nil, fmt.Errorf("reading a price list: %w", err)
	}
	return t.list(), nil
}

// tableOf parts a text by each sign and takes the one by which most columns are known.
func tableOf(text string, o Options) (best *table, err error) {
	// the first error is that of a form in which at least something was found
	var first error
	for _, comma := range ";\t," {
		t := &table{rows: parted(text, comma), per: 1}
		if err := t.find(o); err != nil {
			if first == nil || len(t.column) > 0 {
				first = err
			}
			continue
		}
		if best == nil || len(t.column) > len(best.column) {
			best = t
		}
	}
	if best == nil {
		return nil, first
	}
	best.settle()
	return best, nil
}

// parted are the rows of a text. Quotes that stand within a value are taken as they are: a list has pipes of 1/2".
func parted(text string, comma rune) (rows []record) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes, r.TrimLeadingSpace = comma, -1, true, comma != '\t'
	for {
		values, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows
		}
		line := 1
		if len(values) > 0 {
			line, _ = r.FieldPos(0)
		}
		if err != nil {
			return append(rows, record{line, nil})
		}
		// fixed blanks come from pages that were copied into a spreadsheet
		for i := range values {
			values[i] = strings.TrimSpace(strings.ReplaceAll(values[i], "\u00a0", " "))
		}
		rows = append(rows, record{line, values})
	}
}

// find looks for the row with the heads, below whatever letterhead stands above it.
func (t *table) find(o Options) error {
	missing := "no line has the heads of columns for article and price"
	for i := range t.rows[:min(len(t.rows), maxHead)] {
		// what was named comes first, and is not asked for its meaning any more
		column := map[string]int{}
		per, currency := int64(1), ""
		for role, head := range o.Columns {
			same := func(v string) bool { return plain(v) == plain(head) }
			if at := slices.IndexFunc(t.rows[i].values, same); at >= 0 {
				column[role] = at
			}
		}
		if len(column) < len(o.Columns) {
			missing = "no line has all of the columns that were named"
			continue
		}
		for at, head := range t.rows[i].values {
			role, n, code := roleOf(head)
			if _, taken := column[role]; role == "" || taken {
				continue
			}
			// the first column of a kind counts: lists repeat the price in other currencies behind it
			column[role] = at
			if role == "price" || role == "list" {
				per, currency = n, code
			}
		}
		_, article := column["article"]
		_, price := column["price"]
		_, list := column["list"]
		if article && (price || list) {
			t.head, t.column, t.per, t.currency = i, column, per, currency
			return nil
		}
	}
	return fmt.Errorf("%s; name them, as -columns article=Code,price=Netto", missing)
}

// settle finds the decimal sign by the first price that has one beyond doubt.
func (t *table) settle() {
	// whole numbers and those that may be thousands tell nothing, and are read by the others
	for _, r := range t.rows[t.head+1:] {
		for _, role := range []string{"price", "list"} {
			digits, _ := digitsOf(r.of(t, role))
			if sign, _ := signOf(digits); sign != 0 && t.sign == 0 {
				t.sign = sign
			}
		}
	}
}

// of is the value of a role; empty where the list has no such column.
func (r *record) of(t *table, role string) string {
	if at, ok := t.column[role]; ok && at < len(r.values) {
		return r.values[at]
	}
	return ""
}

// list reads the rows below the heads. One without an article is a heading or a remark; with a price it is a fault.
func (t *table) list() *List {
	_, breaks := t.column["from"]
	l := &List{Breaks: breaks}
	for _, r := range t.rows[t.head+1:] {
		if r.of(t, "article") == "" && r.of(t, "price") == "" && r.of(t, "list") == "" {
			continue
		}
		row, err := t.row(&r)
		if err != nil {
			l.Faults = append(l.Faults, fmt.Errorf("line %d: %w", r.line, err))
			continue
		}
		l.Rows = append(l.Rows, row)
	}
	return l
}

// row reads one row.
func (t *table) row(r *record) (row Row, err error) {
	// all that is wrong with a row is one fault: whoever mends it reads it once more
	row = Row{Line: r.line, Article: r.of(t, "article"), Title: r.of(t, "title"), Currency: t.currency}
	switch width := len(t.rows[t.head].values); {
	case row.Article == "":
		return row, errors.New("there is a price and no article; write whose it is")
	case len(r.values) > width && strings.Join(r.values[width:], "") != "":
		return row, fmt.Errorf("it has %d values for %d columns; a value with the sign between values in it stands in "+
			"quotes", len(r.values), width)
	}
	price, err := t.price(r, &row)
	if err != nil {
		return row, err
	}
	if row.Price, err = t.one(r, &row, price); err != nil {
		return row, err
	}
	// a column of its own tells more than a sign beside the price, which a program adds
	if text := r.of(t, "currency"); text != "" {
		row.Currency = strings.ToUpper(text)
		if code := currencies[strings.ToLower(text)]; code != "" {
			row.Currency = code
		}
	}
	if row.From, err = t.from(r); err == nil {
		row.Day, err = dayOf(r.of(t, "date"))
	}
	return row, err
}

// price is what stands in the row for one or several units, with its discount taken off where it is a list price.
func (t *table) price(r *record, row *Row) (money.Amount, error) {
	// what the yard pays is asked for first: a list price beside it is for its customers
	text, reduced := r.of(t, "price"), false
	if text == "" {
		text, reduced = r.of(t, "list"), true
	}
	price, currency, err := t.amount(text)
	if err != nil {
		return price, err
	}
	if currency != "" {
		row.Currency = currency
	}
	// a net price has the discount off already; a list without any other price means it by what it says
	_, net := t.column["price"]
	_, both := t.column["list"]
	if discount := r.of(t, "discount"); discount != "" && (reduced || net && !both && !saysNet(t.headOf("price"))) {
		left, ok := shareOf(discount, t.sign)
		if !ok {
			return price, fmt.Errorf("the discount %.40q is none; write it in per cent, as 12.5 %%", discount)
		}
		price = price.Share(left)
	}
	return price, nil
}

// headOf is the head of a column.
func (t *table) headOf(role string) string { return t.rows[t.head].values[t.column[role]] }

// saysNet says whether a head says that discounts are off.
func saysNet(head string) bool { return strings.HasPrefix(plain(head), "net") }

// amount reads a price, zero or more.
func (t *table) amount(text string) (a money.Amount, currency string, err error) {
	digits, currency := digitsOf(text)
	sign, open := signOf(digits)
	// a wrong guess is a thousandfold price, and nobody looks at four hundred rows
	switch {
	case open && t.sign == 0:
		return a, "", fmt.Errorf("the price %.40q can be read in two ways, and no other price of the list says how; "+
			"write two decimals", text)
	case sign != 0 && sign != t.sign:
		return a, "", fmt.Errorf("the price %.40q has another decimal sign than the list; write it with %q", text,
			t.sign)
	}
	a, ok := amountOf(digits, t.sign)
	if !ok || a.Sign() < 0 {
		return a, "", fmt.Errorf("the price %.40q is no amount; write digits with one decimal sign", text)
	}
	return a, currency, nil
}

// one is the price of one unit, of what stands in the row for so many.
func (t *table) one(r *record, row *Row, price money.Amount) (money.Amount, error) {
	unit, inUnit := unitOf(r.of(t, "unit"))
	other, inPer := unitOf(r.of(t, "per"))
	// "m" and "per 100 m" say the same unit; one of the two is mostly empty
	row.Unit = unit
	if unit == "" {
		row.Unit = other
	}
	per := t.per
	for _, n := range []int64{inUnit, inPer} {
		if n != 1 {
			per = n
		}
	}
	if !exact(per) {
		return price, fmt.Errorf("the price is for %q; write one for 1, 10, 100 or 1000 units",
			strings.TrimSpace(r.of(t, "per")+" "+r.of(t, "unit")))
	}
	// 10^9 holds every number of six digits without other factors than 2 and 5 but the largest of them
	const billion = 1_000_000_000
	if billion%per != 0 {
		return price, fmt.Errorf("the price is for %d units; write one for 1, 10, 100 or 1000", per)
	}
	return millionths.Round(price.Scaled(billion/per, -9)), nil
}

// millionths is how far prices of one unit are kept, as quantities are.
var millionths = func() money.Rounding {
	r, err := money.NewRounding(money.HalfUp, money.Exact(1, -6))
	if err != nil {
		panic(err) // the step is a constant above zero
	}
	return r
}()

// from is the quantity from which a price holds: 0 for the first one, which lists write as nothing, 0 or 1.
func (t *table) from(r *record) (q measure.Quantity, err error) {
	// "ab 100", "100+" and ">= 100" are one
	text := strings.TrimRight(strings.TrimLeft(strings.ToLower(r.of(t, "from")), "≥>= abfnv"), "+ ")
	if text == "" {
		return 0, nil
	}
	digits, _ := digitsOf(text)
	sign := t.sign
	if s, _ := signOf(digits); s != 0 {
		sign = s
	}
	a, ok := amountOf(digits, sign)
	if !ok || q.UnmarshalText([]byte(a.String())) != nil || q < 0 {
		return 0, fmt.Errorf("the quantity %.40q from which it holds is none; write a number", r.of(t, "from"))
	}
	if q <= 1_000_000 { // from one unit on is always
		return 0, nil
	}
	return q, nil
}

// dayOf reads a day as lists write it: 2027-03-31, 31.03.2027, 31-3-2027, 31/03/2027; "" for none.
func dayOf(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	// the day stands before the month, as in Europe; a list of the US comes with ISO dates or with -date
	for _, form := range []string{time.DateOnly, "2.1.2006", "2-1-2006", "2/1/2006"} {
		if d, err := time.Parse(form, text); err == nil {
			return d.Format(time.DateOnly), nil
		}
	}
	return "", fmt.Errorf("the day %.40q is none; write it as 2027-03-31 or 31.3.2027", text)
}
