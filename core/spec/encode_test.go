package spec

import (
	"bytes"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/measure"
	"ribband/core/money"
)

func TestEncodeRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySpec(t)
		text := s.Encode()
		again, err := Decode(text)
		if err != nil || !bytes.Equal(text, again.Encode()) {
			t.Fatalf("%s\ncame back as\n%s\n%v", text, again.Encode(), err)
		}
		if again.Hull != s.Hull || len(again.Extras) != len(s.Extras) || len(again.Discounts) != len(s.Discounts) ||
			!maps.Equal(again.Use, s.Use) {
			t.Fatalf("%+v\ncame back as\n%+v", s, again)
		}
		for slot := range s.Choices {
			if !maps.Equal(s.Choices[slot], again.Choices[slot]) {
				t.Fatalf("choices.%s: %v came back as %v", slot, s.Choices[slot], again.Choices[slot])
			}
		}
		for i, l := range s.Extras {
			if b := again.Extras[i]; !b.Price.Equal(l.Price) || !b.Cost.Equal(l.Cost) || !maps.Equal(b.Hours,
				l.Hours) ||
				b.Title != l.Title {
				t.Fatalf("line %+v came back as %+v", l, b)
			}
		}
	})
}

// The digest is that of the content, whatever order its maps were made in.
func TestDigestDoesNotDependOnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySpec(t)
		if got := remade(t, s); got.Digest() != s.Digest() || got.Link() != s.Link() {
			t.Fatalf("the same spec made in another order has another digest or link:\n%s\n%s", s.Encode(),
				got.Encode())
		}
	})
}

// remade makes a spec again, filling every map in a drawn order.
func remade(t *rapid.T, s Spec) Spec {
	out := s
	out.Choices, out.Use, out.Extras = map[string]map[string]int{}, map[string]Value{}, slices.Clone(s.Extras)
	for _, slot := range shuffled(t, s.Choices) {
		out.Choices[slot] = map[string]int{}
		for _, o := range shuffled(t, s.Choices[slot]) {
			out.Choices[slot][o] = s.Choices[slot][o]
		}
	}
	for _, field := range shuffled(t, s.Use) {
		out.Use[field] = s.Use[field]
	}
	for i, l := range s.Extras {
		out.Extras[i].Hours = map[string]measure.Hours{}
		for _, shop := range shuffled(t, l.Hours) {
			out.Extras[i].Hours[shop] = l.Hours[shop]
		}
	}
	return out
}

func shuffled[V any](t *rapid.T, m map[string]V) []string {
	return rapid.Permutation(slices.Sorted(maps.Keys(m))).Draw(t, "order")
}

func TestDigestTellsSpecsApart(t *testing.T) {
	base := Spec{Format: Format, Hull: "reed-65", Choices: map[string]map[string]int{"top": {"hard": 1}},
		Use: map[string]Value{"persons": {Number: 4}}}
	seen := map[string]string{}
	for name, change := range map[string]func(*Spec){
		"nothing":       func(*Spec) {},
		"another hull":  func(s *Spec) { s.Hull = "rush-54" },
		"a count":       func(s *Spec) { s.Choices["top"]["hard"] = 2 },
		"an empty slot": func(s *Spec) { s.Choices["sole"] = map[string]int{} },
		"a number":      func(s *Spec) { s.Use["persons"] = Value{Number: 5} },
		"a choice":      func(s *Spec) { s.Use["persons"] = Value{Choice: "4"} },
		"a line": func(s *Spec) {
			s.Extras = []Extra{{ID: "a", Title: "b", Price: money.MustParse("1"),
				Basis: Net}}
		},
		"a discount": func(s *Spec) { s.Discounts = []Discount{{Title: "a", Share: money.MustRate("0.1")}} },
	} {
		s := base.Clone()
		change(&s)
		if other, ok := seen[s.Digest()]; ok {
			t.Errorf("%s and %s have the same digest", name, other)
		}
		seen[s.Digest()] = name
	}
}

func TestCloneSharesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySpec(t)
		before := s.Digest()
		c := s.Clone()
		for _, options := range c.Choices {
			options["x"] = 1
		}
		for i := range c.Extras {
			c.Extras[i].Title = "x"
			for shop := range c.Extras[i].Hours {
				c.Extras[i].Hours[shop]++
			}
		}
		clear(c.Use)
		for i := range c.Discounts {
			c.Discounts[i].Title = "x"
		}
		for i := range c.Keep {
			c.Keep[i] = "x"
		}
		if c.TradeIn != nil {
			c.TradeIn.Title = "x"
		}
		if s.Digest() != before {
			t.Fatalf("changing a copy changed the spec")
		}
	})
}

func TestEncodedForm(t *testing.T) {
	s := Spec{
		Format: Format, Hull: "reed-65",
		Choices: map[string]map[string]int{"top": {"top-hard": 1}, "fenders": {"fender-small": 4, "fender-large": 1},
			"enclosure": {}},
		Use: map[string]Value{"region": {Choice: "us"}, "persons": {Number: 6}},
		Extras: []Extra{{ID: "berth", Title: "Berth for a week", Price: money.MustParse("120.50"), Basis: Net,
			Hours: map[string]measure.Hours{"dock": 1_500_000}}},
		Discounts: []Discount{{Title: "Show", Share: money.MustRate("0.03")}},
	}
	const want = `{
  "format": 1,
  "hull": "reed-65",
  "choices": {
    "enclosure": {},
    "fenders": {
      "fender-large": 1,
      "fender-small": 4
    },
    "top": {
      "top-hard": 1
    }
  },
  "use": {
    "persons": 6,
    "region": "us"
  },
  "extras": [
    {
      "id": "berth",
      "title": "Berth for a week",
      "price": "120.5",
      "basis": "net",
      "hours": {
        "dock": "1.5"
      }
    }
  ],
  "discounts": [
    {
      "title": "Show",
      "share": "0.03"
    }
  ]
}
`
	if got := string(s.Encode()); got != want {
		t.Errorf("%s", got)
	}
	if got := string(Spec{Format: Format, Hull: "reed-65"}.Encode()); got != "{\n  \"format\": 1,\n  \"hull\": "+
		"\"reed-65\"\n}\n" {
		t.Errorf("the standard build: %s", got)
	}
	again, err := Decode([]byte(want))
	if err != nil || !reflect.DeepEqual(again.Choices, s.Choices) {
		t.Errorf("%+v (%v)", again.Choices, err)
	}
}

// Only code can make a spec that does not encode; that is a bug of the caller and said as one.
func TestSpecsBuiltWrong(t *testing.T) {
	const want = "writing a spec: "
	defer func() {
		if text, _ := recover().(string); !strings.HasPrefix(text, want) {
			t.Errorf("panicked with %q, want %q", text, want)
		}
	}()
	Spec{Format: Format, Use: map[string]Value{"a": {Number: math.NaN()}}}.Encode()
}
