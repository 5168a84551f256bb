package paper

import (
	"fmt"
	"strings"

	"ribband/core/capacity"
	"ribband/core/msg"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/transport"
)

// titledList is a list of sentences under a title.
type titledList struct {
	title string
	items []string
}

// boatLists are the documents of the boat and how it leaves the yard, the same for text and HTML.
func boatLists(y *sheet.Yard) []titledList {
	p, t := &y.Papers, &y.Transport
	lists := append([]titledList{{"Boat documents", capacityLines(p)}}, labels(y)...)
	if p.Weight != nil {
		lists = append(lists, titledList{"Caution with capacity and flotation", said(p.Cautions...)})
	}
	return append(lists, titledList{"Transport", roadLines(t)}, titledList{"Containers", containerLines(t)},
		titledList{"Caution on the road", said(t.Cautions...)})
}

// labels are what stands on the boat.
func labels(y *sheet.Yard) []titledList {
	p := &y.Papers
	return []titledList{{"Capacity label", labelLines(p.Capacity)},
		{"Certification label", labelLines(p.Certification)}, {"Hull identification number", numberLines(&p.Number)},
		{"Warning labels", p.Warnings}}
}

// said keeps the sentences that say something.
func said(list ...msg.Message) []string {
	var out []string
	for _, s := range list {
		if !s.Empty() {
			out = append(out, msg.English.Text(s))
		}
	}
	return out
}

func capacityLines(p *sheet.BoatPapers) []string {
	lines := said(p.Duty, p.Problem)
	if p.Weight != nil {
		lines = append(lines, said(p.Weight.Sentence, p.Persons.Sentence, p.Foam.Sentence, p.Reading)...)
	}
	if p.Foam != nil {
		for _, l := range p.Foam.Lines {
			lines = append(lines, fmt.Sprintf("Under water: %s, %.1f kg dry, factor %.2f, %.1f kg (%s).",
				strings.ToLower(msg.English.Text(l.Name)), l.Dry.KG, l.Factor, l.Submerged.KG,
				msg.English.Text(l.Source)))
		}
	}
	return append(lines, said(p.Notes...)...)
}

// labelLines are what a label says, in quotes, and how it is made.
func labelLines(l *capacity.Label) []string {
	if l == nil {
		return nil
	}
	lines := said(l.Sentence)
	for _, x := range l.Lines {
		lines = append(lines, fmt.Sprintf("“%s”: %s, %s (%s).", x.Text, msg.English.Text(x.Place),
			msg.English.Text(x.Letters), x.Section))
	}
	return append(lines, said(l.Details...)...)
}

func numberLines(n *quote.HullNumber) []string {
	var lines []string
	if n.Number != "" {
		lines = append(lines, "Number "+n.Full+". Enter it in the yard's register: none may be given twice.")
	}
	lines = append(lines, n.Missing...)
	for _, p := range n.Places {
		lines = append(lines, fmt.Sprintf("%s: %s (33 CFR %s, %s).", strings.ToUpper(p.Name[:1])+p.Name[1:],
			strings.TrimSuffix(p.Where, "."), p.Section, p.Standing))
	}
	return lines
}

func roadLines(t *sheet.Transport) []string {
	lines := said(t.Problem)
	if !t.Region.Empty() {
		lines = append(lines, "On the road without a permit, by the limits of: "+msg.English.Text(t.Region)+".")
	}
	for _, c := range t.Road {
		source := msg.English.Text(c.Source)
		if c.Status != transport.GivenHere {
			source += "; " + msg.English.Text(c.Status.Words())
		}
		lines = append(lines, fmt.Sprintf("%s (%s)", msg.English.Text(c.Sentence), source))
	}
	return append(lines, said(t.Notes...)...)
}

func containerLines(t *sheet.Transport) []string {
	var lines []string
	for _, f := range t.Containers {
		lines = append(lines, fmt.Sprintf("%s (%s)", msg.English.Text(f.Sentence),
			msg.English.Text(f.Container.Source)))
	}
	return lines
}
