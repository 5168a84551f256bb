// Package wording tells what may not stand in a text that people read: words for the boat as a woman, signs and units
// written as on a typewriter, American spellings, and phrases that gave way to those of the trade. It stands beside the
// data, since no part of the program uses it.
package wording

import (
	"fmt"
	"regexp"
	"strings"
)

// forbidden are the patterns with what to write instead. They are for what has no good use in a text that people read;
// whoever looks through files of the book takes its identifiers out before. Where a word has a good use as well, a
// longer phrase of it stands here.
var forbidden = []struct {
	pattern *regexp.Regexp
	better  string
}{
	{regexp.MustCompile(`(?i)\b(she|hers?)\b`), "it, its, the boat"},
	{regexp.MustCompile(`[0-9](\p{Zs}?(mm|m|V|A))?\p{Zs}x\p{Zs}[0-9]`), "×"},
	{regexp.MustCompile(`\b[mck]?m[23]\b`), "², ³"},
	{regexp.MustCompile(`\b[1-9][0-9]{0,2},[0-9]{3}\b`), "thousands by a narrow space, or none"},
	{regexp.MustCompile(`(?i)\bdrafts?\b`), "draught"},
	{regexp.MustCompile(`(?i)\b(colors?|gray|centers?|aluminum|fiberglass|molds?|molded|meters?|liters?)\b`),
		"British spelling"},
	{regexp.MustCompile(`(?i)\b(scallop\w*|blocs?|twist-lock|fine-?line)\b`),
		"straight hem; batteries; locking plug; striping tape"},
	{regexp.MustCompile(`(?i)\bdo not ring\b|handsomest|across the ocean|is no contrast|sinks (it|her) 1 cm`),
		"plain words"},
}

// former are phrases with what took their place. They are looked for as they stood, so that a text that comes back by a
// merge or an old branch is noticed.
var former = map[string]string{
	"What must she do":                     "Find a boat by your needs",
	"the boats that do it are looked for":  "all hulls are searched",
	"A field left empty asks for nothing":  "Leave empty what does not matter",
	"Closed against the weather all round": "Full weather enclosure",
	"What your trailer carries":            "Boat weight your trailer can carry",
	"Full again in":                        "Charging time",
	"household socket":                     "230 V 16 A supply",
	"was looked at":                        "was checked",
	"beyond her standard build":            "changes from standard",
	"All of them, by price":                "All boats found, by price",
	"Take this boat":                       "Use this boat",
	"Beside an option stands":              "Prices show the change in the total",
	"nothing else fits":                    "only choice",
	"has no such place":                    "Not available on",
	"Brings with it":                       "Also changes",
	"Why, and what can be done":            "Why not, and how to change it",
	"within the bound of the search":       "in the time allowed",
	"cannot all hold":                      "cannot be combined",
	"Repair it so":                         "Make this change",
	"Let go of":                            "Reset",
	"Leave it to the standard build":       "Reset to standard",
	"no repair changes it":                 "Lock this choice",
	"Starting the engine":                  "Loading prices",
	"Begin again":                          "Start again",
	"from her side":                        "Profile",
	"How far at what speed":                "Range at each speed",
	"comes back upright":                   "Righting levers",
	"Free lines":                           "Extra items",
	"Bought for it":                        "Bought-in cost",
	"Borne in the list test":               "Weight in list test",
	"Make the quotation":                   "Issue quotation",
	"gives something else":                 "The current price book differs",
	"Yard sheet":                           "Build sheet",
	"Rests of packs":                       "Part packs left over",
	"Use that it was specified for":        "Intended use",
	"Papers of the boat":                   "Boat documents",
	"At the own berth":                     "At my own berth",
	"Seldom at a shore supply":             "Seldom on shore power",
	"Tariff of the shore supply":           "Electricity price",
	"Home waters":                          "Country of use",
	"Mass of the boat without persons":     "Weight without people",
	"Greatest speed":                       "Top speed",
	"results on its papers count":          "its measured results prevail",
	"Hull number":                          "Hull identification number (HIN)",
	"Folding bow top":                      "Folding hood",
	"Closing of the windows":               "Window fastening",
	"The battery management leads":         "Controlled by the BMS",
	"Plotter with satellite position":      "GPS chartplotter",
	"two miles":                            "two nautical miles",
}

// markup is what a browser does not show as text: styles and tags. Tags become ends of lines, so that words of two
// elements do not run together into a phrase that nobody wrote.
var markup = regexp.MustCompile(`(?s)<style.*?</style>|<[^>]*>`)

// Visible is the text of HTML or SVG, that of each element on a line of its own. Words that an attribute holds are left
// out with their tag. It goes by patterns and not by a parser, which is enough for what this program writes.
func Visible(text string) string { return markup.ReplaceAllString(text, "\n") }

// Faults are the places of a text that may not stand there, each with what to write instead. Of each pattern three
// places are enough to find the rest; the words around one help to find it in a long page. The list is empty for a text
// that is in order, and has no order of its own.
func Faults(text string) (faults []string) {
	// a few characters on either side are cut by bytes, which at worst breaks one in a message of a test
	for _, f := range forbidden {
		for _, at := range f.pattern.FindAllStringIndex(text, 3) {
			faults = append(faults, fmt.Sprintf("%q; write %s", text[max(0, at[0]-30):min(len(text), at[1]+30)],
				f.better))
		}
	}
	// maps have no order, and a list of faults is only read
	for phrase, better := range former {
		if at := strings.Index(text, phrase); at >= 0 {
			faults = append(faults, fmt.Sprintf("%q; write %s", text[at:min(len(text), at+len(phrase)+30)], better))
		}
	}
	return faults
}
