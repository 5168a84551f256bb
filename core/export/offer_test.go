package export_test

import (
	"encoding/json"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/export"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
)

// What a search engine reads is what the page says: boat, price with its currency and tax, figures with their units.
func TestOffer(t *testing.T) {
	for name, q := range quotations(t) {
		text, err := export.Offer(q, msg.English)
		if err != nil {
			t.Fatal(err)
		}
		var product struct {
			Context   string `json:"@context"`
			Type      string `json:"@type"`
			Name, URL string
			Offers    struct {
				Type                 string `json:"@type"`
				Price, PriceCurrency string
				PriceSpecification   struct{ ValueAddedTaxIncluded bool }
			}
			AdditionalProperty []struct {
				Name, UnitCode string
				Value          any
			}
		}
		if err := json.Unmarshal(text, &product); err != nil {
			t.Fatal(err)
		}
		o := &product.Offers
		if product.Context != "https://schema.org" || product.Type != "Product" || o.Type != "Offer" ||
			product.Name != q.Hull || product.URL != q.Yard.Page {
			t.Errorf("%s: %+v", name, product)
		}
		if !money.MustParse(o.Price).Equal(q.Price.Total) || o.PriceCurrency != "EUR" ||
			o.PriceSpecification.ValueAddedTaxIncluded != (q.Price.Tax.Sign() > 0) {
			t.Errorf("%s: the offer is %+v, want %s", name, o, q.Price.Total)
		}
		if len(product.AdditionalProperty) != len(q.Dimensions)+len(q.Figures) {
			t.Errorf("%s: %d properties", name, len(product.AdditionalProperty))
		}
		coded := 0
		for _, p := range product.AdditionalProperty {
			if _, number := p.Value.(float64); number != (p.UnitCode != "") {
				t.Errorf("%s: %+v is a number without a unit, or a unit without a number", name, p)
			} else if number {
				coded++
			}
		}
		if coded < 5 {
			t.Errorf("%s: %d numbers", name, coded)
		}
	}
}

// No text of the book ends the script element that the offer stands in, begins a comment, or breaks a line of script.
func TestOfferStaysInItsElement(t *testing.T) {
	q := quote.Draft(enginetest.Demo()[pack.Buyer], enginetest.Answer(t, enginetest.Demo()[pack.Buyer],
		enginetest.DemoSpecs(t)["reed-65-plainest"]))
	const text = "</script><!--<script>&\u2028\u2029]]>\"\\"
	q.Hull, q.Yard.Name, q.Yard.Note, q.Price.Region, q.Dimensions[0].Title = text, text, text, text, text
	got, err := export.Offer(q, msg.English)
	if err != nil {
		t.Fatal(err)
	}
	if strings.ContainsAny(string(got), "<>&\u2028\u2029") {
		t.Errorf("it breaks out: %s", got)
	}
	var product struct{ Name string }
	if err := json.Unmarshal(got, &product); err != nil || product.Name != text {
		t.Errorf("the name is %q, %v", product.Name, err)
	}
}
