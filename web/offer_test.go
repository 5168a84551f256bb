package main

import (
	"encoding/json"
	"strings"
	"testing"

	"ribband/core/pack"
)

// The buyer's page has the boat that it opens with as JSON-LD, at the price that it shows; it is the only data in it,
// and no other desk's page has any. A text of the book that would end the element does not.
func TestBuyersPageOffersTheBoat(t *testing.T) {
	const begin, end = `<script type="application/ld+json">`, `</script>`
	for _, hostile := range []string{"", "</script><script>alert(1)</script><!--"} {
		p := *packsOf(t)[pack.Buyer]
		p.Yard.Name += hostile
		view, err := viewIn(&p, "en")
		if err != nil {
			t.Fatal(err)
		}
		s := site{}
		if err := s.addDesk(pageParts{Desk: pack.Buyer}, &p); err != nil {
			t.Fatal(err)
		}
		_, rest, ok := strings.Cut(string(s[mainPage(pack.Buyer)]), begin)
		data, _, _ := strings.Cut(rest, end)
		var product struct {
			Name   string
			Brand  struct{ Name string }
			Offers struct{ Price string }
		}
		if err := json.Unmarshal([]byte(data), &product); !ok || err != nil || strings.Contains(rest, begin) {
			t.Fatalf("%v: %.300q", err, data)
		}
		price := view.Answer.Price
		shown := view.Engine.Language().Money(product.Offers.Price, price.Currency.Code, price.Region.ID)
		if product.Brand.Name != p.Yard.Name || product.Offers.Price != price.Total.Fixed(2) ||
			!strings.Contains(view.Page(), shown) {
			t.Errorf("%+v; the page does not show %s", product, shown)
		}
	}
	s := site{}
	if err := s.addDesk(pageParts{Desk: pack.Show}, packsOf(t)[pack.Show]); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(s[mainPage(pack.Show)]), begin) {
		t.Error("the show's page offers the boat to search engines")
	}
}
