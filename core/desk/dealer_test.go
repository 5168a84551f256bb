package desk_test

import (
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/quote"
)

// quay is the desk of the demo's dealer: 3 % of the list price to give away, 7 % of the net price his.
func quay(t *testing.T) *visitor { return opened(t, demo()[pack.DeskOfDealer("tarnwick-quay")]) }

// wantOnDealersDesk looks through a whole page: nothing of cost, margin, hours or materials, none of the acts that
// need them, and nothing of what the yard's own people may give away.
func wantOnDealersDesk(t *testing.T, page string) {
	t.Helper()
	for _, m := range []string{"Margin", "margin-details", ">Cost<", "Materials", "Labour", "Overhead", "Build hours",
		"build-sheet", "Contingency", `data-act="extra"`, `data-act="trade-in"`, `data-act="dealer"`, "wood-shop",
		"Supplier", "limit is 5"} {
		if strings.Contains(page, m) {
			t.Errorf("a dealer's page has %q", m)
		}
	}
}

// A dealer gives a discount within his limit and sees what it leaves him; beyond it the quotation needs a name.
func TestDealersDesk(t *testing.T) {
	v := quay(t)
	wantOnDealersDesk(t, v.desk.View().Page())
	for _, text := range []string{"Dealer&#39;s desk", "Tarnwick Quay Boat Sales", "Left to you", "your limit is 3"} {
		if !strings.Contains(v.desk.View().Page(), text) {
			t.Errorf("the page of the dealer lacks %q", text)
		}
	}
	left := func() string {
		_, rest, _ := strings.Cut(v.shown["discounts"], "Left to you")
		return rest[:min(120, len(rest))]
	}
	before := left()
	v.does(discount("3 %", ""))
	if left() == before || strings.Contains(v.shown["discounts"], `class="warnings"`) {
		t.Errorf("a discount within his limit: %q was %q", left(), before)
	}
	v.does(discount("0.5 %", ""))
	v.says("discounts", "your limit is 3")
	v.fails(desk.Request{Act: "freeze", Form: form()}, "your limit is 3")
	v.does(desk.Request{Act: "freeze", Form: form("approval", "Quokka of the yard")})
	v.fails(desk.Request{Act: "extra", Form: map[string]string{"title": "Oars", "price": "90", "basis": "net"}},
		"are for the yard's own desks")
	v.fails(desk.Request{Act: "trade-in", Form: map[string]string{"title": "Dinghy", "allowance": "500"}},
		"are for the yard's own desks")
	v.fails(desk.Request{Act: "dealer", Value: "tarnwick-quay"}, "no dealer")
	wantOnDealersDesk(t, v.desk.View().Page())
}

// What a dealer issued the yard opens as quoted, with his commission among the costs; the customer's paper and file
// name his firm and not what he gets, nor by what name the book knows him.
func TestDealersQuotation(t *testing.T) {
	v := quay(t)
	v.does(discount("2 %", ""))
	r := v.does(desk.Request{Act: "freeze", Form: form()})
	if !strings.Contains(r.Paper.HTML, "Sold through") || !strings.Contains(r.Paper.HTML, "Tarnwick Quay Boat Sales") {
		t.Error("the customer's paper does not say who sold the boat")
	}
	private := []string{"ommission", "tarnwick-quay\"", "0.07", `"authority"`}
	wantNoMark(t, "the paper", r.Paper.HTML, private...)
	yours := ""
	for _, f := range r.Paper.Files {
		if strings.Contains(f.Name, "for-the-yard") {
			yours = f.Text
		} else if !f.Base64 {
			wantNoMark(t, f.Name, f.Text, private...)
		}
	}
	q, err := quote.Decode([]byte(yours))
	if err != nil || q.Spec.Dealer != "tarnwick-quay" || q.Dealer == nil || strings.Contains(yours, "ommission") {
		t.Fatalf("the file for the yard: %v, %+v", err, q.Dealer)
	}
	for _, name := range []pack.Desk{pack.Show, pack.Yard} {
		e, err := engine.Compile(demo()[name])
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range []*quote.Quote{q, q.ForCustomer()} {
			if _, _, differences, err := quote.Reopen(e, file); err != nil || len(differences) > 0 {
				t.Errorf("on the %s's desk it is not as quoted: %v %v", name, differences, err)
			}
		}
	}
	yard := opened(t, demo()[pack.Yard])
	yard.does(desk.Request{Act: "file", Text: yours})
	yard.says("discounts", "Dealer&#39;s commission")
	through := yard.shown["discounts"]
	yard.does(desk.Request{Act: "dealer", Value: ""})
	if strings.Contains(yard.shown["discounts"], "Dealer&#39;s commission") || yard.spec().Dealer != "" ||
		through == yard.shown["discounts"] {
		t.Error("sold by the yard itself it still has a commission")
	}
	yard.fails(desk.Request{Act: "dealer", Value: "nobody"}, `no dealer "nobody"`)
	yard.does(desk.Request{Act: "dealer", Value: "tarnwick-quay"})
	if yard.spec().Dealer != "tarnwick-quay" {
		t.Error("the yard cannot name its dealer")
	}
}
