package export

import (
	"strconv"
	"strings"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
)

// UBL writes an issued quotation as a UBL 2.4 Quotation, which a buyer's purchasing program reads. Amounts are without
// tax, as UBL has them, and add up to the net price; each line that was shown with tax has that amount beside it. A
// draft, or a price that does not add up, is an error that a person can read ([msg.Error]).
//
// A line of the price is what the boat has in a slot against its standard build, so each is one piece, and one that
// lowers the price is a piece less. What the slot holds stands with it as properties, with codes of units.
//
// Source: OASIS UBL 2.4 (20 June 2024), UBL-Quotation-2.4.xsd; UN/CEFACT Recommendation 20 (units), UNCL 5305 (tax
// categories), UNCL 4461 (payment means), from memory.
func UBL(of *quote.Quote, l *msg.Language) ([]byte, error) {
	q := of.ForCustomer()
	if err := issued(q); err != nil {
		return nil, err
	}
	if err := sums(&q.Price); err != nil {
		return nil, err
	}
	lines, discounts, err := netLines(&q.Price)
	if err != nil {
		return nil, err
	}
	u := &ubl{q, l}
	// the order of elements is the schema's throughout: a validator takes no other
	doc := el("Quotation",
		leaf("cbc:UBLVersionID", "2.4"),
		leaf("cbc:ID", q.Number),
		leaf("cbc:UUID", identifier("quotation", q.Digest)), // of this revision: the number is that of all
		leaf("cbc:IssueDate", q.Date))
	doc.attrs = []string{"xmlns", namespace + "Quotation-2", "xmlns:cac", namespace + "CommonAggregateComponents-2",
		"xmlns:cbc", namespace + "CommonBasicComponents-2"}
	add := func(list ...element) { doc.children = append(doc.children, list...) }
	add(u.notes()...)
	add(leaf("cbc:PricingCurrencyCode", q.Price.Currency.Code),
		leaf("cbc:LineCountNumeric", strconv.Itoa(len(lines))),
		el("cac:ValidityPeriod", leaf("cbc:StartDate", q.Date), leaf("cbc:EndDate", q.ValidUntil)),
		u.reference(),
		el("cac:SellerSupplierParty", u.seller()),
		el("cac:BuyerCustomerParty", party(q.Customer)),
		el("cac:DeliveryTerms", each(q.Delivery, func(s string) element {
			return leaf("cbc:SpecialTerms", s, "languageID", q.Language)
		})...),
		u.account())
	add(u.conditions())
	add(each(discounts, u.discount)...)
	add(u.destination(), u.tax(), u.total(lines, discounts))
	for i, line := range lines {
		add(u.line(i, line))
	}
	return xml(doc), nil
}

// namespace is what all names of UBL 2 begin with.
const namespace = "urn:oasis:names:specification:ubl:schema:xsd:"

// ubl makes the parts of a document. Their order is the schema's.
type ubl struct {
	q *quote.Quote
	*msg.Language
}

// amount is one of money in the currency of the price.
func (u *ubl) amount(name string, a money.Amount) element {
	c := u.q.Price.Currency
	return leaf(name, a.Fixed(c.Digits), "currencyID", c.Code)
}

// notes are the revision, what was typed for the customer, and the cautions: whoever reads figures of the boat must
// find them beside.
func (u *ubl) notes() (list []element) {
	note := func(s string) element { return leaf("cbc:Note", s, "languageID", u.q.Language) }
	if u.q.Revision > 1 {
		list = append(list, note(u.Say("export.revision", msg.Count("revision", u.q.Revision))))
	}
	list = append(list, note(u.q.Remarks))
	return append(list, each(u.q.Cautions, note)...)
}

// reference is the boat on the yard's page.
func (u *ubl) reference() element {
	link := u.q.Link()
	if link == "" {
		return element{}
	}
	return el("cac:AdditionalDocumentReference", leaf("cbc:ID", u.q.SpecDigest),
		leaf("cbc:DocumentDescription", u.Say("export.specification"), "languageID", u.q.Language),
		el("cac:Attachment", el("cac:ExternalReference", leaf("cbc:URI", link))))
}

// seller is the yard, and who answers for the quotation there.
func (u *ubl) seller() element {
	y := &u.q.Yard
	return el("cac:Party",
		leaf("cbc:WebsiteURI", y.Page),
		el("cac:PartyName", leaf("cbc:Name", y.Name)),
		address(y.Address),
		element{name: "cac:PartyTaxScheme", children: scheme(y.TaxNumber, u.q.Price.TaxName)},
		el("cac:PartyLegalEntity", leaf("cbc:RegistrationName", y.Name), leaf("cbc:CompanyID", y.Register)),
		el("cac:Contact", leaf("cbc:Name", u.q.Seller), leaf("cbc:Telephone", y.Phone),
			leaf("cbc:ElectronicMail", y.Email)), u.agent())
}

// agent is the dealer who acts for the yard; nothing where it sells itself.
func (u *ubl) agent() element {
	if u.q.Dealer == nil {
		return element{}
	}
	return element{name: "cac:AgentParty", children: party(*u.q.Dealer).children}
}

// scheme is a number for a tax. A scheme is mandatory with it, and empty where the region has none.
func scheme(number, tax string) []element {
	if number == "" || tax == "" {
		return nil
	}
	return []element{leaf("cbc:CompanyID", number), el("cac:TaxScheme", leaf("cbc:ID", tax))}
}

// party is a customer.
func party(p quote.Party) element {
	return el("cac:Party", el("cac:PartyName", leaf("cbc:Name", p.Name)), address(p.Address),
		el("cac:Contact", leaf("cbc:Telephone", p.Phone), leaf("cbc:ElectronicMail", p.Email)))
}

// address is as it was written, line by line: nobody typed which is the street.
func address(lines []string) element {
	return el("cac:PostalAddress", each(lines, func(s string) element {
		return el("cac:AddressLine", leaf("cbc:Line", s))
	})...)
}

// account is where to pay to: a credit transfer is 30 of UNCL 4461. Account numbers are written without spaces.
func (u *ubl) account() element {
	b := &u.q.Yard.Bank
	if b.IBAN == "" {
		return element{}
	}
	return el("cac:PaymentMeans", leaf("cbc:PaymentMeansCode", "30"),
		el("cac:PayeeFinancialAccount", leaf("cbc:ID", strings.ReplaceAll(b.IBAN, " ", ""), "schemeID", "IBAN"),
			leaf("cbc:Name", u.q.Yard.Name),
			el("cac:FinancialInstitutionBranch", leaf("cbc:ID", b.BIC, "schemeID", "BIC"), leaf("cbc:Name", b.Name))))
}

// conditions are stages and terms as sentences: a quotation of UBL has no place for instalments.
func (u *ubl) conditions() element {
	p, list := &u.q.Price, []element{}
	condition := func(s string) element { return leaf("cbc:Description", s, "languageID", u.q.Language) }
	// stages first: they are what a buyer's accounts look for
	for _, s := range p.Stages {
		list = append(list, condition(u.Text(stage(p, s))))
	}
	if p.TradeIn != nil {
		list = append(list, condition(p.TradeIn.Detail))
	}
	for _, texts := range [][]string{u.q.Exclusions, u.q.Warranty, u.q.Terms} {
		list = append(list, each(texts, condition)...)
	}
	return el("cac:TransactionConditions", list...)
}

// stage is what is due when, in a sentence.
func stage(p *quote.PricePart, s quote.StagePart) msg.Message {
	return msg.New("export.stage", msg.Text("title", s.Title), msg.Share("share", s.Share),
		msg.Money("amount", s.Amount, p.Currency, p.RegionID))
}

// discount is on the whole: UBL would take one on a line out of the line, and the paper shows both.
func (u *ubl) discount(d netLine) element {
	return el("cac:AllowanceCharge", leaf("cbc:ChargeIndicator", "false"),
		leaf("cbc:AllowanceChargeReason", u.said(d.Title, d.Detail)),
		u.amount("cbc:Amount", d.net.Neg()),
		u.category("cac:TaxCategory"))
}

// said is a title with what stands below it.
func (u *ubl) said(title, detail string) string {
	if detail == "" {
		return title
	}
	return u.Say("export.detailed", msg.Text("title", title), msg.Text("detail", detail))
}

// destination is the country where the boat goes, if the identifier of the region is one and no group of them.
func (u *ubl) destination() element {
	p := &u.q.Price
	if len(p.RegionID) != 2 {
		return element{}
	}
	return el("cac:DestinationCountry", leaf("cbc:IdentificationCode", strings.ToUpper(p.RegionID)),
		leaf("cbc:Name", p.Region))
}

// category says how something is taxed: at the standard rate (S of UNCL 5305), or at none (Z).
func (u *ubl) category(name string) element {
	p := &u.q.Price
	id := "S"
	switch p.TaxMode {
	case "":
		return element{}
	case pack.Zero:
		id = "Z"
	}
	// a number alone, where readers of a paper get a sign behind it
	percent := strings.TrimSuffix(p.TaxRate.Percent(), "\u202f%")
	return el(name, leaf("cbc:ID", id), leaf("cbc:Percent", percent),
		el("cac:TaxScheme", leaf("cbc:ID", p.TaxName)))
}

// tax is that of the whole, with the reason where there is none.
func (u *ubl) tax() element {
	p := &u.q.Price
	if p.TaxMode == "" {
		return element{}
	}
	category := u.category("cac:TaxCategory")
	if p.TaxMode == pack.Zero && p.Condition != "" {
		i := len(category.children) - 1 // the reason stands before the scheme
		category.children = append(category.children[:i:i], leaf("cbc:TaxExemptionReason", p.Condition),
			category.children[i])
	}
	return el("cac:TaxTotal", u.amount("cbc:TaxAmount", p.Tax),
		el("cac:TaxSubtotal", u.amount("cbc:TaxableAmount", p.Net), u.amount("cbc:TaxAmount", p.Tax), category))
}

// total is what the lines come to. A trade-in has paid its part before.
func (u *ubl) total(lines, discounts []netLine) element {
	p := &u.q.Price
	net, allowed := money.Amount{}, money.Amount{}
	for _, l := range lines {
		net = net.Add(l.net)
	}
	for _, d := range discounts {
		allowed = allowed.Sub(d.net)
	}
	total := el("cac:QuotedMonetaryTotal",
		u.amount("cbc:LineExtensionAmount", net),
		u.amount("cbc:TaxExclusiveAmount", p.Net),
		u.amount("cbc:TaxInclusiveAmount", p.Total))
	// sums of what is not there are left out, or a reader would look for it
	if len(discounts) > 0 {
		total.children = append(total.children, u.amount("cbc:AllowanceTotalAmount", allowed))
	}
	if p.TradeIn != nil {
		total.children = append(total.children, u.amount("cbc:PrepaidAmount", p.TradeIn.Amount.Neg()))
	}
	total.children = append(total.children, u.amount("cbc:PayableAmount", p.Payable))
	return total
}

// pieceCode is a piece (H87 of Recommendation 20), as each of package measure.
var pieceCode, _ = measure.Code("each")

// line is one of the price. A price of UBL is not below zero: a line that lowers the total is a piece less.
func (u *ubl) line(i int, l netLine) element {
	id, pieces, price := strconv.Itoa(i+1), "1", l.net
	if price.Sign() < 0 {
		pieces, price = "-1", price.Neg()
	}
	item := el("cac:LineItem", leaf("cbc:ID", id), leaf("cbc:Quantity", pieces, "unitCode", pieceCode),
		u.amount("cbc:LineExtensionAmount", l.net))
	if u.q.Price.TaxMode == pack.Inclusive {
		item.children = append(item.children, u.amount("cbc:TaxInclusiveLineExtensionAmount", l.Amount),
			u.amount("cbc:TotalTaxAmount", l.tax))
	}
	item.children = append(item.children,
		el("cac:Price", u.amount("cbc:PriceAmount", price), leaf("cbc:BaseQuantity", "1", "unitCode", pieceCode)),
		u.item(i, l))
	return el("cac:QuotationLine", leaf("cbc:ID", id), item)
}

// item is what a line is for. The first is the boat, with its dimensions and figures.
func (u *ubl) item(i int, l netLine) element {
	item := el("cac:Item", leaf("cbc:Description", l.Detail), leaf("cbc:Name", l.Title))
	if i == 0 {
		item.children = append(item.children, leaf("cbc:ModelName", u.q.Hull))
	}
	// the key of a line is the slot of the book, which no translation touches
	item.children = append(item.children,
		el("cac:SellersItemIdentification", leaf("cbc:ID", l.Key)), u.category("cac:ClassifiedTaxCategory"))
	if i == 0 {
		for _, list := range [][]engine.Value{u.q.Dimensions, u.q.Figures} {
			item.children = append(item.children, each(list, u.value)...)
		}
	}
	// what the slot of this line holds now; a line of an extra item finds none
	for _, section := range u.q.Contents {
		for _, slot := range section.Slots {
			for _, o := range slot.Options {
				if slot.ID == l.Key {
					item.children = append(item.children, piece(slot.Title, o))
				}
			}
		}
	}
	return item
}

// piece is an option with how many there are of it.
func piece(slot string, o quote.OptionPart) element {
	return el("cac:AdditionalItemProperty", leaf("cbc:ID", o.ID), leaf("cbc:Name", slot), leaf("cbc:Value", o.Title),
		leaf("cbc:ValueQuantity", strconv.Itoa(o.Count), "unitCode", pieceCode))
}

// value is a figure in words, and as a number with its unit where it is one without reserve.
func (u *ubl) value(v engine.Value) element {
	property := el("cac:AdditionalItemProperty", leaf("cbc:ID", v.ID), leaf("cbc:Name", v.Title),
		leaf("cbc:Value", u.Text(v.Message())))
	// "at least" and "not known" are no numbers to calculate with
	if code, ok := measure.Code(v.Unit); ok && v.Number != nil && v.State == "" {
		property.children = append(property.children,
			leaf("cbc:ValueQuantity", measure.Decimal(*v.Number, v.Digits), "unitCode", code))
	}
	return property
}
