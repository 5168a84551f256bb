package paper

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"ribband/core/capacity"
	"ribband/core/doc"
	"ribband/core/msg"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/transport"
)

// labels are what stands on the boat, under a title each.
func (s *Source) labels(p *sheet.BoatPapers) []doc.Section {
	return []doc.Section{
		notes(s.Say("paper.capacity-label"), s.label(p.Capacity)),
		notes(s.Say("paper.certification-label"), s.label(p.Certification)),
		notes(s.Say("paper.hull-number"), s.hullNumber(&p.Number)),
		notes(s.Say("paper.warning-labels"), s.said(p.Warnings...))}
}

// BoatPapers are the documents of the boat and how it leaves the yard.
func (s *Source) BoatPapers(y *sheet.Yard) []doc.Block {
	p, t := &y.Papers, &y.Transport
	// an empty section is left out with its title, so that a boat for Europe has no label of the US
	list := []doc.Block{notes(s.Say("paper.documents"), s.capacity(p))}
	for _, l := range s.labels(p) {
		list = append(list, l)
	}
	if p.Weight != nil {
		list = append(list, notes(s.Say("paper.caution-capacity"), s.said(p.Cautions...)))
	}
	// every size that is known, those too that the boat does not fit: the question is which one does
	containers := make([]string, len(t.Containers))
	for i, f := range t.Containers {
		containers[i] = s.sourced(f.Sentence, f.Container.Source)
	}
	return append(list, notes(s.Say("paper.transport"), s.road(t)), notes(s.Say("paper.containers"), containers),
		notes(s.Say("paper.caution-road"), s.said(t.Cautions...)))
}

// Labels and plates are proposals. What must stand on them, and how large, is a matter of rules that are named beside
// each; what the rules leave open is said to be common practice. Nothing here makes a boat comply.

// said keeps the sentences that say something.
func (s *Source) said(list ...msg.Message) (out []string) {
	for _, m := range list {
		if !m.Empty() {
			out = append(out, s.Text(m))
		}
	}
	return out
}

// sourced is a sentence with its source in brackets.
func (s *Source) sourced(sentence, source msg.Message) string {
	return s.Say("paper.sourced", msg.Words("sentence", sentence), msg.Words("source", source))
}

// capacity is whether the rules of the United States cover the boat, and what they then allow. Foam is listed line by
// line, as an inspector adds it up: dry weight, factor of the material, weight under water.
func (s *Source) capacity(p *sheet.BoatPapers) []string {
	lines := s.said(p.Duty, p.Problem)
	if p.Weight != nil {
		lines = append(lines, s.said(p.Weight.Sentence, p.Persons.Sentence, p.Foam.Sentence, p.Reading)...)
	}
	// each part by itself, for the inspector who checks one of them
	if p.Foam != nil {
		for _, l := range p.Foam.Lines {
			lines = append(lines, s.Say("paper.under-water", msg.Inside("name", s.Text(l.Name)),
				msg.Number("dry", l.Dry.KG, 1), msg.Number("factor", l.Factor, 2), msg.Number("kg", l.Submerged.KG, 1),
				msg.Words("source", l.Source)))
		}
	}
	return append(lines, s.said(p.Notes...)...)
}

// label is what a label says, in quotes, and how it is made.
func (s *Source) label(l *capacity.Label) []string {
	if l == nil {
		return nil
	}
	lines := s.said(l.Sentence)
	// each line with its place and letters, as the engraver needs them
	for _, x := range l.Lines {
		lines = append(lines, s.Say("paper.label-line", msg.Text("text", x.Text), msg.Words("place", x.Place),
			msg.Words("letters", x.Letters), msg.Text("section", x.Section)))
	}
	return append(lines, s.said(l.Details...)...)
}

// hullNumber is the hull identification number, or what is missing, and where it is put on the boat.
func (s *Source) hullNumber(n *quote.HullNumber) (lines []string) {
	if n.Number != "" {
		lines = append(lines, s.Say("paper.number", msg.Text("number", n.Full)))
	}
	// what is missing stands where the number would, so that nobody stamps a plate without it
	lines = append(lines, s.said(n.Missing...)...)
	for _, p := range n.Places {
		lines = append(lines, upper(s.Say("paper.number-place", msg.Words("name", p.Name),
			msg.Text("where", strings.TrimSuffix(s.Text(p.Where), ".")), msg.Text("section", p.Section),
			msg.Words("standing", p.Standing))))
	}
	return lines
}

// upper begins a sentence.
func upper(s string) string {
	// of a message whose first word is an argument, which the file of the language cannot begin with a capital
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// road says against which limits the loaded trailer stands, each with its source: the driver answers for it.
func (s *Source) road(t *sheet.Transport) []string {
	lines := s.said(t.Problem)
	if !t.Region.Empty() {
		lines = append(lines, s.Say("paper.road", msg.Words("region", t.Region)))
	}
	// a limit that was read in a secondary source says so beside it: the driver has to ask
	for _, c := range t.Road {
		source := c.Source
		if c.Status != transport.GivenHere {
			source = msg.New("paper.source-status", msg.Words("source", source), msg.Words("status", c.Status.Words()))
		}
		lines = append(lines, s.sourced(c.Sentence, source))
	}
	return append(lines, s.said(t.Notes...)...)
}
