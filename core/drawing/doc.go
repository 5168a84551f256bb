// Package drawing draws a boat and its figures as SVG text: profile, plan and body plan to scale from the offsets,
// range over speed, righting levers, masses, cut layouts and the loom.
//
// Inputs are plain structs in metres, kilograms, knots, nautical miles and degrees; the units on paper are SVG user
// units. A drawing is laid out for the width of its [Format], with text of a fixed size: ask for 340 for a telephone
// and 720 for a page, rather than shrinking one drawing. It scales down with its place all the same.
//
// Its own words and its numbers are in the language of the format; names and notes are written as they are given, by
// whoever speaks that language. Input that is refused is refused in English, to whoever wrote the book.
//
// The text of a drawing may be put into a page as it is, or kept as a file. It refers to nothing outside, holds no
// script, and has a title and a description for screen readers. Colours of lines and text are the custom properties of
// the page (--ink, --soft, --rule, --strong, --water, --wood, --sheet, --alarm) with dark ink as fallback, so that one
// drawing serves dark, light and print. Colours of the boat are the same everywhere.
//
// The same input gives the same text. Input that cannot be drawn gives an error which names it; no drawing has a number
// that is not finite.
//
// Caution: the drawings show what was computed and chosen. They are preliminary and not for construction; cockpit, top
// and fittings are placed for an impression, and a loom sheet shows no routing.
package drawing

import "ribband/core/msg"

// caution is written on every drawing of the boat, and ends its description.
var caution = msg.New("drawing.caution")
