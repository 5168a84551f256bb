package orders_test

import (
	"fmt"
	"strings"
	"testing"

	"ribband/core/calendar"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/fit"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/publish"
)

// few is the small book with two fixed tops left, whose number it shows, and five pockets, of which it keeps it.
func few(t *testing.T) *pack.Pack {
	t.Helper()
	return enginetest.Edited(t,
		enginetest.Edit{"boat.yaml", `price: "1450"`, "price: \"1450\"\n        stock: 2\n        stock_shown: true"},
		enginetest.Edit{"boat.yaml", "        most: 4\n", "        most: 4\n        stock: 5\n"},
		enginetest.Edit{"yard.yaml", "date: 2027-01-15", "date: 2027-02-10"})[pack.Yard].Pack
}

// sold are orders of the small book, each accepted on a day, with choices.
func sold(t *testing.T, e *engine.Engine, boats ...[]string) (list []*orders.Order) {
	t.Helper()
	for i, b := range boats {
		week, err := calendar.ParseWeek("2027-W30")
		if err != nil {
			t.Fatal(err)
		}
		o, err := orders.New(fmt.Sprintf("2027-%03d", i+1), day(t, b[0]), week,
			enginetest.Frozen(t, e, enginetest.Teasel(t, b[1:]...)).Encode())
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, o)
	}
	return list
}

// Orders since the edition, of the tenth of February, take what is left; what is sold out is offered to nobody, and
// the edition stays the same. The number of what the book does not show stays with the yard.
func TestWhatOrdersLeave(t *testing.T) {
	book := few(t)
	e, err := engine.Compile(book)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		boats [][]string
		want  string // on the buyer's page
	}{
		{nil, "top-fixed 2"},
		{[][]string{{"2027-02-09", "top=top-fixed"}}, "top-fixed 2"}, // it had its own before
		{[][]string{{"2027-02-10", "top=top-fixed"}}, "top-fixed 1"},
		{[][]string{{"2027-02-20", "top=top-fixed"}, {"2027-02-25", "top=top-fixed", "stowage=pocket*4"}},
			"top-fixed 0"},
		{[][]string{{"2027-02-20", "stowage=pocket*3"}, {"2027-02-25", "stowage=pocket*2"}},
			"top-fixed 2, pocket 0"},
	} {
		p := *book
		p.Leave(orders.Ordered(sold(t, e, c.boats...), &p))
		buyer := publish.For(&p, pack.Buyer)
		text, err := buyer.Encode()
		if err != nil {
			t.Fatal(err)
		}
		read, err := pack.Decode(text)
		if err != nil {
			t.Fatal(err)
		}
		var left []string
		for _, l := range read.Left {
			left = append(left, fmt.Sprintf("%s %d", read.Options[l.Option].ID, l.Count))
			if read.Offered(l.Option, 0) != (l.Count > 0) {
				t.Errorf("%v: %s is offered: %v", c.boats, read.Options[l.Option].ID, l.Count == 0)
			}
		}
		if got := strings.Join(left, ", "); got != c.want || read.Edition != book.Edition {
			t.Errorf("%v leave %s in the edition %v, want %s", c.boats, got, read.Edition, c.want)
		}
	}
	// who wishes for what is sold out is told so
	p := *book
	p.Leave(orders.Ordered(sold(t, e, []string{"2027-02-20", "top=top-fixed"}, []string{"2027-02-21", "top=top-fixed"}),
		&p))
	after, err := engine.Compile(publish.For(&p, pack.Buyer))
	if err != nil {
		t.Fatal(err)
	}
	a := enginetest.Answer(t, after, enginetest.Teasel(t, "top=top-fixed"))
	if c := a.Build.Clashes; len(c) != 1 || c[0].Kind != fit.NotSold ||
		after.Text(engine.Because(c[0])) != "Fixed top is sold out." {
		t.Errorf("a boat with what is sold out: %v", c)
	}
}

// Of two who were quoted the last one, the second cannot order it.
func TestTheLastOneIsOrderedOnce(t *testing.T) {
	book := few(t)
	e, err := engine.Compile(book)
	if err != nil {
		t.Fatal(err)
	}
	list := sold(t, e, []string{"2027-02-20", "top=top-fixed"}, []string{"2027-02-21", "top=top-fixed"},
		[]string{"2027-02-22", "top=top-fixed"}, []string{"2027-02-23", "stowage=pocket*4"})
	for i, want := range []string{"", "", `2027-003 takes 1 of "Fixed top" (top-fixed), and 0 of 2 are left: the ` +
		`others are of 2027-001, 2027-002; quote it with another option, or write a larger stock: for top-fixed in ` +
		`the book where one more is there`} {
		err := orders.Short(list[i], list[:i+1], book)
		if got := fmt.Sprint(err); got != want && (err != nil || want != "") {
			t.Errorf("%s: %v, want %s", list[i].Number, err, want)
		}
	}
	if err := orders.Short(list[3], list, book); err != nil {
		t.Error(err)
	}
}
