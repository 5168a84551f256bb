package spec_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
	"ribband/core/spec"
)

func TestWithout(t *testing.T) {
	base := spec.Spec{Format: 1, Hull: "reed-65"}
	with := func(s spec.Spec, change func(*spec.Spec)) spec.Spec {
		s = s.Clone()
		change(&s)
		return s
	}
	top := func(s *spec.Spec) { s.Choices = map[string]map[string]int{"top": {"top-hard": 1}} }
	noTop := func(s *spec.Spec) { s.Choices = map[string]map[string]int{"top": {}} }
	persons := func(s *spec.Spec) { s.Use = map[string]spec.Value{"persons": {Number: 6}} }
	osier := func(s *spec.Spec) { s.Hull = "osier-76" }
	discount := func(s *spec.Spec) {
		s.Discounts = append(s.Discounts, spec.Discount{Title: "Show", Share: money.MustRate("0.02")})
	}
	another := func(s *spec.Spec) {
		s.Discounts = append(s.Discounts, spec.Discount{Title: "Trial boat", Share: money.MustRate("0.01")})
	}
	for name, c := range map[string]struct {
		change, then func(*spec.Spec)
		want         func(*spec.Spec)
		ok           bool
	}{
		"the last":                    {top, func(*spec.Spec) {}, func(*spec.Spec) {}, true},
		"one before the last":         {top, persons, persons, true},
		"a field of the use":          {persons, top, top, true},
		"the hull":                    {osier, top, top, true},
		"changed again since":         {top, noTop, noTop, false},
		"one discount of two":         {discount, another, another, true},
		"nothing was changed":         {func(*spec.Spec) {}, top, top, false},
		"a discount that is gone now": {discount, func(s *spec.Spec) { s.Discounts = nil }, func(*spec.Spec) {}, false},
	} {
		t.Run(name, func(t *testing.T) {
			after := with(base, c.change)
			now := with(after, c.then)
			got, ok := now.Without(base, after)
			if ok != c.ok {
				t.Fatalf("ok is %v, want %v", ok, c.ok)
			}
			if want := with(base, c.want); ok && string(got.Encode()) != string(want.Encode()) {
				t.Errorf("it is %s, want %s", got.Encode(), want.Encode())
			}
			if string(now.Encode()) != string(with(after, c.then).Encode()) {
				t.Error("the spec itself was changed")
			}
		})
	}
}

// Taking the last change back gives the spec before it, whatever the change was.
func TestWithoutTheLast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func() spec.Spec {
			s := spec.Spec{Format: 1, Hull: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "hull")}
			for _, slot := range []string{"top", "bank"} {
				if n := rapid.IntRange(-1, 2).Draw(t, slot); n >= 0 {
					if s.Choices == nil {
						s.Choices = map[string]map[string]int{}
					}
					s.Choices[slot] = map[string]int{}
					if n > 0 {
						s.Choices[slot]["x"] = n
					}
				}
			}
			if n := rapid.IntRange(0, 3).Draw(t, "persons"); n > 0 {
				s.Use = map[string]spec.Value{"persons": {Number: float64(n)}}
			}
			if rapid.Bool().Draw(t, "kept") {
				s.Keep = []string{"top"}
			}
			return s
		}
		before, after := draw(), draw()
		got, ok := after.Without(before, after)
		changed := string(before.Encode()) != string(after.Encode())
		if ok != changed || ok && string(got.Encode()) != string(before.Encode()) {
			t.Errorf("ok is %v and it is %s, want %s", ok, got.Encode(), before.Encode())
		}
	})
}
