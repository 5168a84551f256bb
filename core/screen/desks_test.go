package screen_test

import (
	"regexp"
	"strings"
	"testing"

	"ribband/core/measure"
	"ribband/core/pack"
)

// The yard's words are not on the buyer's page. Some have an everyday meaning too; there only what the yard means by
// them is looked for.
func TestBuyersPageHasNothingOfTheYard(t *testing.T) {
	for name, v := range pages() {
		if v.Engine.Pack.Desk != pack.Buyer {
			continue
		}
		page := v.page
		text := strings.ReplaceAll(page.text, "Cost of a full charge", "") // what the customer pays the utility
		for _, word := range []string{"margin", "cost", "supplier", "suppliers", "overhead on", "contingency", "labour",
			"markup", "hours by shop", "lead, days", "discount", "discounts", "salesperson", "free line", "free lines",
			"extra item", "extra items", "authority of"} {
			if at := regexp.MustCompile(`(?i)\b` + word + `\b`).FindStringIndex(text); at != nil {
				t.Errorf("%s: %q is on the buyer's page: %q", name, word,
					text[max(at[0]-40, 0):min(at[1]+40, len(text))])
			}
		}
		for _, id := range []string{"discounts", "customer", "hours", "stores", "open-file", "quotation",
			"margin-details", "detail-number"} {
			if page.byID(id) != nil {
				t.Errorf("%s: %q is on the buyer's page", name, id)
			}
		}
		for _, f := range v.fragments {
			if f.ID == "discounts" || f.ID == "customer" || f.ID == "hours" || f.ID == "stores" || f.ID == "reopened" {
				t.Errorf("%s: the fragment %q is sent to the buyer", name, f.ID)
			}
		}
	}
}

// The show's desk deals and has margins; only the yard's has hours, stores and its sheet.
func TestWhatEachDeskHas(t *testing.T) {
	for desk, has := range map[pack.Desk]map[string]bool{
		pack.Buyer: {},
		// a dealer deals, and knows neither hours nor stores
		pack.DeskOfDealer("tarnwick-quay"): {"discounts": true, "customer": true, "open-file": true},

		pack.Show: {"discounts": true, "customer": true, "open-file": true},
		pack.Yard: {"discounts": true, "customer": true, "open-file": true, "hours": true, "stores": true},
	} {
		page := parse(t, view(t, compiled(desk), standard("sedge-46")).Page())
		for _, id := range []string{"discounts", "customer", "open-file", "hours", "stores"} {
			if (page.byID(id) != nil) != has[id] {
				t.Errorf("%s is on the page of the %s: %v", id, desk, page.byID(id) != nil)
			}
		}
		sheet := false
		for _, b := range page.all("button") {
			sheet = sheet || b.attr["data-do"] == "sheet"
		}
		if sheet != (desk == pack.Yard) {
			t.Errorf("the yard sheet is on the page of the %s: %v", desk, sheet)
		}
	}
	show := view(t, engines()[pack.Show], standard("sedge-46")).Page()
	for _, m := range engines()[pack.Yard].Pack.Work.Supplies {
		if m.Supplier != "" && m.Supplier != engines()[pack.Yard].Pack.Yard.Name && strings.Contains(show, m.Supplier) {
			t.Errorf("the supplier %s is on the show's page", m.Supplier)
		}
	}
}

// US customary units, computed here from the definitions of foot and pound.
func TestUSUnits(t *testing.T) {
	v := view(t, engines()[pack.Buyer], standard("reed-65"))
	metric, hulls := fragment(t, v, "figures").text, fragment(t, v, "hulls").text
	if !strings.Contains(metric, "\u00a0kg") || strings.Contains(metric, "\u00a0lb") ||
		!strings.Contains(hulls, "6.50\u00a0m × ") {
		t.Errorf("metric: %q, %q", metric, hulls)
	}
	v.System = measure.USCustomary
	us, hulls := fragment(t, v, "figures").text, fragment(t, v, "hulls").text
	if strings.Contains(us, "\u00a0kg") || !strings.Contains(us, "\u00a0lb") || !strings.Contains(us, "\u00a0US gal") ||
		!strings.Contains(us, "\u00a0ft") || !strings.Contains(hulls, "21.33\u00a0ft × ") {
		t.Errorf("US customary: %q, %q", us, hulls)
	}
	if !strings.Contains(us, "\u00a0kWh") || !strings.Contains(us, "\u00a0V") {
		t.Errorf("electrical units are the same everywhere: %q", us)
	}
	for _, o := range fragment(t, v, "use").byID("units").all("option") {
		if _, selected := o.attr["selected"]; selected != (o.attr["value"] == "us") {
			t.Errorf("%q is selected: %v", o.text, selected)
		}
	}
}

// A figure that is not known once came out as not  kn own.
func TestFigureThatIsNotKnown(t *testing.T) {
	v := view(t, engines()[pack.Buyer], standard("reed-65"))
	for i := range v.Engine.Pack.Figures {
		v.Answer.Build.State.Figures[i] = 1e300
	}
	for _, dd := range fragment(t, v, "figures").all("dd") {
		if dd.text != "not known" {
			t.Errorf("it says %q", dd.text)
		}
	}
}
