package spec

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/measure"
	"ribband/core/money"
)

// What a customer may have of an extra item, a discount and a trade-in, by the names of the fields. Whoever adds a
// field decides here.
var public = map[string][]string{
	"Spec":     {"Format", "Hull", "Choices", "Keep", "Use", "Extras", "Discounts", "TradeIn"},
	"Extra":    {"ID", "Title", "Price", "Basis"},
	"Discount": {"Title", "On", "Share", "Amount"},
	"TradeIn":  {"Title", "Allowance"},
}

// Every field is filled; those that are public come through as they are, and all others are empty.
func TestPublicNamesWhatACustomerMayHave(t *testing.T) {
	s := Spec{
		Format: Format, Hull: "reed-65", Choices: map[string]map[string]int{"top": {"hard": 1}}, Keep: []string{"top"},
		Use: map[string]Value{"persons": {Number: 4}},
		Extras: []Extra{{ID: "a", Title: "Oars", Price: money.MustParse("90"), Basis: Net,
			Cost: money.MustParse("7919.37"), Hours: map[string]measure.Hours{"quokka": 1}}},
		Discounts: []Discount{{Title: "Show", On: "top", Share: money.MustRate("0.1"), Amount: money.MustParse("4")}},
		TradeIn:   &TradeIn{Title: "Dinghy", Allowance: money.MustParse("500"), Value: money.MustParse("6007.13")},
		Dealer:    "quay-quokka",
	}
	p := s.Public()
	for _, pair := range [][2]any{{s, p}, {s.Extras[0], p.Extras[0]}, {s.Discounts[0], p.Discounts[0]},
		{*s.TradeIn, *p.TradeIn}} {
		whole, part := reflect.ValueOf(pair[0]), reflect.ValueOf(pair[1])
		for i := range whole.NumField() {
			f := whole.Type().Field(i)
			named := strings.Contains(" "+strings.Join(public[whole.Type().Name()], " ")+" ", " "+f.Name+" ")
			switch {
			case whole.Field(i).IsZero():
				t.Errorf("%s.%s is empty in this test: fill it", whole.Type().Name(), f.Name)
			case part.Field(i).IsZero() == named:
				t.Errorf("%s.%s is public: %v, want %v", whole.Type().Name(), f.Name, !named, named)
			}
		}
	}
	for _, secret := range []string{"7919", "quokka", "6007"} {
		if text := string(p.Encode()); strings.Contains(text, secret) {
			t.Errorf("%s is in %s", secret, text)
		}
	}
}

// A link is the buyer's on every desk: nothing of what a salesperson added changes it.
func TestPropertyLinkIsTheBuyers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySpec(t)
		if s.Link() != s.Boat().Link() || s.Public().Link() != s.Link() {
			t.Fatalf("%s is not %s", s.Link(), s.Boat().Link())
		}
		if p := s.Public(); p.Public().Digest() != p.Digest() || p.Check() != nil {
			t.Fatalf("what is public is not public: %s", p.Encode())
		}
	})
}

func TestIsLink(t *testing.T) {
	for text, want := range map[string]bool{
		Spec{Format: Format, Hull: "reed-65"}.Link(): true, "1/reed-65": true, "2/anything": true, "1/": true,
		"": false, "contact": false, "section-hull": false, "1": false, "/1/reed": false, "a/b": false,
	} {
		if IsLink(text) != want {
			t.Errorf("%q is a link: %v", text, !want)
		}
	}
}
