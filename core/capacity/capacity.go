// Package capacity holds the United States rules for small inboard boats: who is covered, the weight and persons that
// may be marked, the flotation foam, the two labels, and the hull identification number.
//
// The rules are those of 33 CFR part 183 (subparts B, C and F) for monohull inboard boats strictly under 20 ft
// (6.096 m), and of 33 CFR part 181 for the labels and the number. From 20 ft up these rules set no duty; every
// function says so instead of giving figures.
//
// Inputs are plain numbers in kilograms, metres and cubic metres. The rules are written in pounds and cubic feet, so
// everything is worked in those and results carry both; all conversion is in units.go. What is marked on a boat is
// always rounded down; what is put into a boat for safety is always rounded up.
//
// CAUTION. This is arithmetic on an own-words record of the rules, not legal text. Confirm every figure against the
// rules in force. A qualified person decides what is marked on a boat. A computed capacity or foam volume does not
// replace the tests: the boat is floated, listed and swamped, and the trial decides. See [Cautions].
package capacity

import "ribband/core/msg"

// Cautions are the sentences that stand beside these figures on any paper.
//
// Valid: always. Source: own words; common practice, no source.
func Cautions() []msg.Message {
	return []msg.Message{msg.New("capacity.caution-sum"), msg.New("capacity.caution-person"),
		msg.New("capacity.caution-trial"), msg.New("capacity.caution-bank")}
}
