package export

import (
	"encoding/json"
	"strings"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
)

// Offer is a boat and its price as JSON-LD by the vocabulary of schema.org, for search engines: what the page says of
// the boat that it opens with. The sums are those of the page, as decimal text. Nothing in it can end the script
// element in which it stands: encoding/json writes <, > and & as escapes.
//
// Source: schema.org, release 30: Product, Offer, UnitPriceSpecification, PropertyValue (unitCode by UN/CEFACT
// Recommendation 20); JSON-LD 1.1, 7 (JSON-LD in HTML).
func Offer(of *quote.Quote, l *msg.Language) ([]byte, error) {
	q := of.ForCustomer()
	p := &q.Price
	offer := thing{
		"@type":         "Offer",
		"price":         p.Total.Fixed(p.Currency.Digits),
		"priceCurrency": p.Currency.Code,
		"availability":  "https://schema.org/MadeToOrder",
		"itemCondition": "https://schema.org/NewCondition",
		"seller":        thing{"@type": "Organization", "name": q.Yard.Name},
		// the region, since elsewhere the same boat has another tax
		"priceSpecification": thing{"@type": "UnitPriceSpecification", "price": p.Total.Fixed(p.Currency.Digits),
			"priceCurrency": p.Currency.Code, "valueAddedTaxIncluded": p.TaxMode != pack.Zero && p.TaxMode != ""},
	}
	if p.Region != "" {
		offer["areaServed"] = p.Region
	}
	// one boat, as the page shows one: a list of all that could be built would be longer than the page
	product := thing{
		"@context": "https://schema.org",
		"@type":    "Product",
		"name":     q.Hull,
		"brand":    thing{"@type": "Brand", "name": q.Yard.Name},
		"offers":   offer,
	}
	// as the page says: preliminary figures, and a yard that may be invented
	if text := strings.Join(said(append([]string{q.Yard.Note}, q.Cautions...)...), " "); text != "" {
		product["description"] = text
	}
	if strings.HasPrefix(q.Yard.Page, "https://") {
		product["url"], offer["url"] = q.Yard.Page, q.Yard.Page
	}
	var properties []thing
	for _, list := range [][]engine.Value{q.Dimensions, q.Figures} {
		for _, v := range list {
			properties = append(properties, property(v, l))
		}
	}
	if len(properties) > 0 {
		product["additionalProperty"] = properties
	}
	return json.Marshal(product) // maps in the order of their keys
}

// thing is an object of JSON-LD.
type thing map[string]any

// property is a dimension or figure: a number with its unit, or words where it is none without reserve.
func property(v engine.Value, l *msg.Language) thing {
	t := thing{"@type": "PropertyValue", "name": v.Title}
	code, ok := measure.Code(v.Unit)
	if !ok || v.Number == nil || v.State != "" {
		t["value"] = l.Text(v.Message())
		return t
	}
	t["value"], t["unitCode"] = json.Number(measure.Decimal(*v.Number, v.Digits)), code
	return t
}
