package quote

import (
	"net/url"
	"strings"
)

// ForCustomer is what a customer may have of a quote, on paper or as a file. What is not named here stays with the
// yard: who approved it, by which terms a dealer sells it, what extra items cost and how long they take, what a
// trade-in is worth, and what was measured for the plates.
func (q *Quote) ForCustomer() *Quote {
	c := &Quote{
		Format: q.Format, Kind: q.Kind, Language: q.Language,
		Details: Details{Number: q.Number, Revision: q.Revision, Date: q.Date, ValidUntil: q.ValidUntil,
			Customer: q.Customer, Seller: q.Seller, Remarks: q.Remarks, Units: q.Units},
		Yard: q.Yard, Dealer: q.Dealer, Edition: q.Edition, Spec: q.Spec.Public(), SpecDigest: q.SpecDigest,
		Hull: q.Hull, Use: q.Use, Contents: q.Contents, Figures: q.Figures, Solar: q.Solar, Price: q.Price,
		Clashes: q.Clashes, Terms: q.Terms, Cautions: q.Cautions, Conditions: q.Conditions,
	}
	// its own: that of the whole quotation would tell by a search what was left out of it
	if q.Digest != "" {
		c.Digest = c.sum()
	}
	return c
}

// Link is the address of the boat on the yard's page: the page with the spec in its fragment, and of the spec no more
// than a customer may have. "" where the book names no page. A file that was changed by hand may name anything as its
// page, and a link is followed without a look: one that does not begin with https is none.
func (q *Quote) Link() string {
	if !strings.HasPrefix(q.Yard.Page, "https://") {
		return ""
	}
	// in the language that the customer reads the quotation in: else the page would ask the customer's browser
	query := ""
	if q.Language != "" {
		query = "?lang=" + url.QueryEscape(q.Language)
	}
	return q.Yard.Page + query + "#" + q.Spec.Public().Link()
}
