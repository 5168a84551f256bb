package engine_test

import (
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/spec"
)

// twoDealers are invented; the first may give away 2 % of the list, the second nothing.
var twoDealers = enginetest.Edit{"yard.yaml", "validity_days: 30", `validity_days: 30
dealers:
  - {id: quay, firm: Teasel Quay, authority: "0.02", commission: "0.065"}
  - {id: basin, firm: Teasel Basin, authority: "0", commission: "0.10"}`}

// sold is the small boat with a fixed top, 8100 with 20 % tax, less a share, through a dealer.
func sold(t *testing.T, share, dealer string) spec.Spec {
	s := enginetest.Teasel(t, "top=top-fixed")
	s.Discounts, s.Dealer = []spec.Discount{{Title: "Show", Share: money.MustRate(share)}}, dealer
	return s
}

// By hand: 8100 less 2 % is 7938, without tax 6615; 6.5 % of that is 429.975, a tenth 661.50. The boat costs 3708.65:
// 1 - (3708.65 + 429.98) / 6615 is 0.3744, and 1 - 3708.65 / 6615 is 0.4394 where the yard sells itself.
// Source: arithmetic; that a commission is of the net price after discounts: common practice, no source.
func TestCommissionByHand(t *testing.T) {
	desks := enginetest.Edited(t, twoDealers)
	for _, c := range []struct {
		desk               pack.Desk
		dealer             string
		commission, margin string
		warned             bool
	}{
		{pack.Yard, "", "0", "0.4394", false},
		{pack.Yard, "quay", "429.98", "0.3744", false},
		{pack.Show, "quay", "429.98", "0.3744", false},
		{pack.Yard, "basin", "661.5", "0.3394", true},
		{pack.DeskOfDealer("quay"), "", "429.98", "0", false},
		{pack.DeskOfDealer("basin"), "quay", "661.5", "0", true}, // his own desk sells in his name alone
	} {
		e := desks[c.desk]
		a := enginetest.Answer(t, e, sold(t, "0.02", c.dealer))
		if got := e.Commission(a, a.Price.Net); a.Price.Net.String() != "6615" || got.String() != c.commission ||
			a.Margin.String() != c.margin || len(a.Notes) > 0 {
			t.Errorf("%s, through %q: %s of %s, margin %s, %v; want %s, %s", c.desk, c.dealer, got, a.Price.Net,
				a.Margin, a.Notes, c.commission, c.margin)
		}
		if over := len(a.Warnings) > 0 && strings.Contains(a.Warnings[0].String(), "your limit"); over != c.warned {
			t.Errorf("%s, through %q: %v", c.desk, c.dealer, a.Warnings)
		}
	}
}

// What is given away is the same on the desk of a dealer and on the yard's: else his quotation would be within his
// authority here and beyond it there. An option at no charge is the yard's gift, of whose cost he knows nothing.
func TestDealersReductionsAreTheYards(t *testing.T) {
	desks := enginetest.Edited(t, twoDealers, enginetest.Edit{"boat.yaml", "title: Heavy coated cloth",
		`title: Heavy coated cloth
        price: "0"`})
	s := sold(t, "0.02", "quay")
	s.Choices["cloth"] = map[string]int{"cloth-heavy": 1}
	yard := enginetest.Answer(t, desks[pack.Yard], s)
	own := enginetest.Answer(t, desks[pack.DeskOfDealer("quay")], s)
	if y, o := yard.Price.Reductions, own.Price.Reductions; !y.Share.Equal(o.Share) || !y.List.Equal(o.List) {
		t.Errorf("the yard counts %+v, the dealer %+v", y, o)
	}
	s.Dealer = ""
	if direct := enginetest.Answer(t, desks[pack.Yard], s).Price.Reductions; len(direct.Parts) != 2 {
		t.Errorf("the gift of the yard's own salesperson is not counted: %+v", direct)
	}
}

// A dealer whom the book does not have is said, and what only the yard's own people can deal stays away from a dealer.
func TestDealersLimits(t *testing.T) {
	desks := enginetest.Edited(t, twoDealers)
	a := enginetest.Answer(t, desks[pack.Yard], sold(t, "0.02", "nobody"))
	if len(a.Notes) != 1 || !strings.Contains(a.Notes[0].Message().String(), `no dealer "nobody"`) || a.Dealer != nil {
		t.Errorf("an unknown dealer: %v", a.Notes)
	}
	own := desks[pack.DeskOfDealer("quay")]
	s := sold(t, "0.02", "")
	s.Extras = []spec.Extra{{ID: "oars", Title: "Oars", Price: money.MustParse("100"), Basis: spec.Net}}
	s.TradeIn = &spec.TradeIn{Title: "Dinghy", Allowance: money.MustParse("500")}
	a = enginetest.Answer(t, own, s)
	if len(a.Notes) != 1 || !a.Price.Net.Equal(money.MustParse("6615")) || a.Price.TradeIn != nil ||
		!strings.Contains(a.Notes[0].Message().String(), "extras, trade_in") {
		t.Errorf("extra items on a dealer's desk: net %s, %v", a.Price.Net, a.Notes)
	}
	if own.Can(pack.Margins) || own.Can(pack.Extras) || own.Can(pack.Hours) || own.Can(pack.Sheets) ||
		!own.Can(pack.Discounts) || !own.Can(pack.Quotations) || own.Dealers() != nil || own.Shops() != nil {
		t.Error("a dealer's desk can do what it should not, or not what it should")
	}
}
