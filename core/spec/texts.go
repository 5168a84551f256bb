package spec

import (
	"fmt"
	"maps"
	"slices"

	"ribband/core/msg"
	"ribband/core/suggest"
	"ribband/core/visible"
)

// checkTexts goes through the spec in order, so that the same spec has the same error.
//
// It refuses what cannot be seen in any name or title: two names would look alike, or a title would turn round
// the amount behind it. What a person types loses such characters before it comes here (see core/desk).
func (s *Spec) checkTexts() error {
	for _, x := range [][2]string{{"hull", s.Hull}, {"dealer", s.Dealer}} {
		if err := Seen(x[0], x[1]); err != nil {
			return err
		}
	}
	for _, slot := range slices.Sorted(maps.Keys(s.Choices)) {
		place := "choices." + suggest.Clip(slot, maxID)
		if err := Seen(place, slot); err != nil {
			return err
		}
		for _, option := range slices.Sorted(maps.Keys(s.Choices[slot])) {
			if err := Seen(place, option); err != nil {
				return err
			}
		}
	}
	for _, field := range slices.Sorted(maps.Keys(s.Use)) {
		place := "use." + suggest.Clip(field, maxID)
		if err := Seen(place, field, s.Use[field].Choice); err != nil {
			return err
		}
	}
	// identifiers as well as titles: a discount names an extra item, and must name the one that is seen
	for i, l := range s.Extras {
		place := fmt.Sprintf("extras[%d]", i)
		if err := Seen(place, l.ID, l.Title); err != nil {
			return err
		}
		if err := Seen(place+".hours", slices.Sorted(maps.Keys(l.Hours))...); err != nil {
			return err
		}
	}
	for i, d := range s.Discounts {
		if err := Seen(fmt.Sprintf("discounts[%d]", i), d.Title, d.On); err != nil {
			return err
		}
	}
	if s.TradeIn != nil {
		return Seen("trade_in.title", s.TradeIn.Title)
	}
	return nil
}

// Seen refuses texts of one line that stand at a place of the structure, where one has a character that cannot be
// seen. It is for whoever reads other files in which names stand, too.
func Seen(place string, texts ...string) error {
	for _, text := range texts {
		if r, at, ok := visible.Hidden(text, false); ok {
			return Unseen(place, text, r, at)
		}
	}
	return nil
}

// Unseen is the error about a character that cannot be seen, with what stands before it: by that a person finds the
// place, since there is nothing to be seen of the character itself.
func Unseen(place, text string, r rune, at int) error {
	// at most 20 characters, each of at most 4 bytes; a character that is cut is not shown
	before := []rune(text[max(0, at-4*20):at])
	return At(place, "spec.unseen", msg.Text("character", visible.Name(r)),
		msg.Text("before", string(before[max(0, len(before)-20):])))
}
