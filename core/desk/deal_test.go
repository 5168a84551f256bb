package desk_test

import (
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/money"
	"ribband/core/pack"
)

func discount(value, on string) desk.Request {
	return desk.Request{Act: "discount", Form: map[string]string{"title": " Ordered at the show ", "value": value,
		"on": on}}
}

func TestDiscount(t *testing.T) {
	v := opened(t, small()[pack.Show])
	v.does(desk.Request{Act: "choose", Option: "top-fixed"})
	for i, c := range []struct{ value, on, share, amount string }{
		{"3 %", "", "0.03", "0"},
		{"3,5%", "", "0.035", "0"},
		{" 2.25 % ", "", "0.0225", "0"},
		{"500", "", "0", "500"},
		{"1 250,50", "", "0", "1250.5"},
		{"10%", "top", "0.1", "0"},
	} {
		r := v.does(discount(c.value, c.on))
		d := v.spec().Discounts[i]
		if d.Title != "Ordered at the show" || d.Share.String() != c.share || d.Amount.String() != c.amount ||
			d.On != c.on {
			t.Errorf("%q gives %+v", c.value, d)
		}
		if got := ids(r); !got["ledger"] || !got["discounts"] || !got["bar"] || got["hulls"] || got["figures"] ||
			strings.Contains(r.Link, "show") {
			t.Errorf("%q changed %v, link %q", c.value, got, r.Link)
		}
	}
	v.says("ledger", "Ordered at the show")
	v.says("discounts", "10\u202f% on Top")
	v.says("discounts", `class="warnings"`)
	for _, c := range []struct{ value, on, words string }{
		{"much", "", `"much" is no number`},
		{"", "", "is no number"},
		{"%", "", "is no number"},
		{"3 % 4", "", "3 % 4 is not in EUR"},
		{"-5", "", "a discount needs a title and either a share between 0 and 1 or an amount above zero"},
		{"0", "", "a discount needs a title"},
		{"101 %", "", "a discount needs a title"},
		{"999999", "", "is negative or more than"},
		{"1 %", "sails", `There is no line "sails" to give a discount on; choose one of the list.`},
	} {
		v.fails(discount(c.value, c.on), c.words)
	}
	v.fails(desk.Request{Act: "discount", Form: map[string]string{"value": "3 %"}}, "a discount needs a title")
	v.fails(desk.Request{Act: "discount"}, "is no number")
	// it has a discount of its own, which is not forgotten and is said
	v.does(desk.Request{Act: "standard", Slot: "top"})
	v.says("discounts", "there is no line &#34;top&#34; to give &#34;Ordered at the show&#34; on; name a slot that "+
		"differs")
}

// Three digits behind a lone comma or point are thousands of a currency that has two decimals: once they gave an amount
// of 1.50. Of a currency that has three, nobody knows.
func TestThousandsOfAnAmount(t *testing.T) {
	v := opened(t, small()[pack.Show])
	for value, want := range map[string]string{"1,500": "1500", "1.500": "1500", "12,345.67": "12345.67",
		"12.345,67": "12345.67", "12 345,67": "12345.67", "1500 EUR": "1500"} {
		v.does(desk.Request{Act: "extra", Form: map[string]string{"title": "Trailer", "basis": "net", "price": value}})
		if got := v.spec().Extras[0].Price; !got.Equal(money.MustParse(want)) {
			t.Errorf("%q is taken for %v, want %s", value, got, want)
		}
		v.does(desk.Request{Act: "undo"})
	}
	v.fails(discount("0,125", ""), "at most 2 digits behind the point")
	v.fails(discount("1.00.000", ""), "can be read in two ways")
	kwd := *small()[pack.Show]
	kwd.Currency = "KWD"
	v = opened(t, &kwd)
	v.does(discount("1.5", ""))
	v.fails(discount("1.500", ""), "can be read in two ways")
	v.fails(discount("1,500", ""), "can be read in two ways")
	jpy := kwd
	jpy.Currency = "JPY"
	v = opened(t, &jpy)
	v.does(discount("1500", ""))
	v.fails(discount("1.5", ""), "at most 0 digits behind the point")
}

func TestLineAndRemove(t *testing.T) {
	v := opened(t, small()[pack.Yard])
	add := func(title, price, cost, hours, shop string) desk.Request {
		return desk.Request{Act: "extra", Form: map[string]string{"title": title, "basis": "net", "price": price,
			"cost": cost, "hours": hours, "shop": shop}}
	}
	r := v.does(add("Name on the transom", "380", "45,50", "2,5", "assembly"))
	l := v.spec().Extras[0]
	if l.ID != "line-1" || l.Price.String() != "380" || l.Cost.String() != "45.5" ||
		l.Hours["assembly"].String() != "2.5" {
		t.Errorf("the line is %+v", l)
	}
	if got := ids(r); !got["ledger"] || !got["discounts"] || !got["hours"] || got["figures"] {
		t.Errorf("%v changed", got)
	}
	v.says("ledger", "Name on the transom")
	v.does(add("Storage", "-20", "", "", ""))
	v.does(add("Third", "1", " ", " ", "assembly"))
	v.does(desk.Request{Act: "remove", Key: "extra", Field: "1"})
	v.does(add("Fourth", "1", "", "", "")) // its id is not one that is there
	lines := v.spec().Extras
	if len(lines) != 3 || lines[0].ID == lines[2].ID || lines[1].ID == lines[2].ID || lines[1].Hours["assembly"] != 0 ||
		len(lines[2].Hours) != 0 {
		t.Errorf("the lines are %+v", lines)
	}
	for _, c := range []desk.Request{add("", "1", "", "", ""), add("x", "", "", "", ""), add("x", "one", "", "", ""),
		add("x", "1", "-1", "", ""), add("x", "1", "x", "", ""), add("x", "1", "", "-2", "assembly"),
		add("x", "1", "", "long", "assembly")} {
		if r := v.asks(c); r.Error == "" || len(v.spec().Extras) != 3 {
			t.Errorf("%v is taken", c.Form)
		}
	}
	v.does(desk.Request{Act: "discount", Form: map[string]string{"title": "For the name", "value": "50 %",
		"on": "line-1"}})
	v.does(desk.Request{Act: "remove", Key: "extra", Field: "0"})
	v.says("discounts", "there is no line &#34;line-1&#34; to give &#34;For the name&#34; on")
	v.does(desk.Request{Act: "remove", Key: "discount", Field: "0"})
	for _, r := range []desk.Request{{Key: "extra", Field: "2"}, {Key: "extra", Field: "-1"}, {Key: "extra",
		Field: "x"},
		{Key: "discount", Field: "0"}, {Key: "hull", Field: "0"}, {}} {
		r.Act = "remove"
		v.fails(r, "There is nothing to remove.")
	}
}
