package spec

import (
	"fmt"
	"maps"
	"reflect"
	"ribband/core/msg"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestLinkRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := linkSpec(t)
		link := s.Link()
		got, damage := fromLink(link)
		if len(damage) > 0 || got.Digest() != s.Digest() || got.Link() != link {
			t.Fatalf("%s\n%s\ncame back as\n%s\n%q", link, s.Encode(), got.Encode(), damage)
		}
	})
}

// Free lines, discounts and what the yard knows of them never stand in a link.
func TestLinkLeavesTheSalespersonOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySpec(t)
		bare := s
		bare.Extras, bare.Discounts = nil, nil
		if s.Link() != bare.Link() {
			t.Fatalf("%s says more than %s", s.Link(), bare.Link())
		}
	})
}

// A choice that looks like a number came back as a number, which no choice matches.
func TestLinkKeepsChoicesThatLookLikeNumbers(t *testing.T) {
	s := Spec{Format: Format, Hull: "reed-65", Use: map[string]Value{"bank_v": {Choice: "48"}, "persons": {Number: 48},
		"code": {Choice: "1e5"}, "hex": {Choice: "0x1f"}, "none": {Choice: "nan"}}}
	if want := "1/reed-65/bank_v:~48/code:~1e5/hex:0x1f/none:~nan/persons:48/"; !strings.HasPrefix(s.Link(), want) {
		t.Errorf("%s, want %s…", s.Link(), want)
	}
	if got, damage := fromLink(s.Link()); len(damage) > 0 || !maps.Equal(got.Use, s.Use) {
		t.Errorf("%v came back as %v %q", s.Use, got.Use, damage)
	}
}

// A hull of bytes that are no text gave a spec whose digest changed when it was saved and read again.
func TestHullOfDamagedLinkIsText(t *testing.T) {
	s, damage := fromLink("1/reed\xff65/top=a")
	if s.Hull != "reed\ufffd65" || len(damage) != 1 {
		t.Errorf("%q %q", s.Hull, damage)
	}
	reencodes(t, "1/reed\xff65/top=a", s)
}

// sample has every kind of part: an empty slot, a count, several options, what is kept, a number, a fraction and a
// choice.
var sample = Spec{
	Format: Format, Hull: "reed-65",
	Choices: map[string]map[string]int{"top": {"top-folding": 1}, "fenders": {"fender-small": 4, "fender-large": 1},
		"enclosure": {}},
	Keep: []string{"top", "enclosure"},
	Use:  map[string]Value{"persons": {Number: 6}, "speed_kn": {Number: 4.5}, "region": {Choice: "us"}},
}

const sampleLink = "1/reed-65/enclosure=/fenders=fender-large+fender-small*4/" +
	"top=top-folding/top!/enclosure!/persons:6/region:us/speed_kn:4.5/"

// fromLink reads a link and says its damage in English.
func fromLink(fragment string) (Spec, []string) {
	s, damage := FromLink(fragment)
	return s, msg.English.Texts(damage)
}

const damaged = "The link is damaged: its checksum is wrong. What could be read is kept; please check it."

func TestSampleLink(t *testing.T) {
	if link := sample.Link(); link != sampleLink+checksum(strings.TrimSuffix(sampleLink, "/")) {
		t.Errorf("%s", link)
	}
	// Source: the check value of CRC-32 (IEEE 802.3) for the digits 1 to 9 is cbf43926; common practice, from memory.
	if got := checksum("123456789"); got != "cbf43926" {
		t.Errorf("checksum %s", got)
	}
}

// Whatever one byte is changed to, removed or doubled, the damage is reported, and every other part of the link is
// kept.
func TestEverySingleDamage(t *testing.T) {
	link := sample.Link()
	var mutants []string
	for i := range len(link) {
		for _, c := range "\x00 /=:+*~.-09afzA\u00e4\xff" {
			if m := link[:i] + string(c) + link[i+1:]; m != link {
				mutants = append(mutants, m)
			}
		}
		mutants = append(mutants, link[:i]+"\xff"+link[i+1:], link[:i]+string(rune(link[i]^1))+link[i+1:],
			link[:i]+link[i+1:])
		if doubled := link[:i] + link[i:i+1] + link[i:]; doubled != link {
			mutants = append(mutants, doubled)
		}
	}
	for _, m := range mutants {
		s, damage := fromLink(m)
		if len(damage) == 0 || damage[0] != damaged {
			t.Errorf("%q: the damage is not reported first: %q", m, damage)
		}
		reencodes(t, m, s)
		keepsWhole(t, m, s)
	}
}

func TestEveryTruncation(t *testing.T) {
	link := sample.Link()
	for i := range len(link) {
		for _, part := range []string{link[:i], link[i+1:]} {
			s, damage := fromLink(part)
			if len(damage) == 0 || damage[0] != damaged {
				t.Errorf("%q: the damage is not reported first: %q", part, damage)
			}
			reencodes(t, part, s)
			keepsWhole(t, part, s)
		}
	}
}

// keepsWhole checks that each part of the sample that stands whole in a damaged link is in what was read.
func keepsWhole(t *testing.T, link string, s Spec) {
	t.Helper()
	parts := strings.Split(link, "/")
	if parts[0] != "1" {
		return // another format: nothing of it can be read
	}
	whole := map[string]bool{}
	for _, p := range parts[1:] {
		whole[p] = true
	}
	if len(parts) > 1 && parts[1] == sample.Hull && s.Hull != sample.Hull {
		t.Errorf("%q: the hull is lost", link)
	}
	for part, kept := range map[string]bool{
		"enclosure=":                          reflect.DeepEqual(s.Choices["enclosure"], sample.Choices["enclosure"]),
		"fenders=fender-large+fender-small*4": maps.Equal(s.Choices["fenders"], sample.Choices["fenders"]),
		"top=top-folding":                     maps.Equal(s.Choices["top"], sample.Choices["top"]),
		"persons:6":                           s.Use["persons"] == sample.Use["persons"],
		"top!":                                s.Choices["top"] == nil || slices.Contains(s.Keep, "top"),
		"region:us":                           s.Use["region"] == sample.Use["region"],
		"speed_kn:4.5":                        s.Use["speed_kn"] == sample.Use["speed_kn"],
	} {
		if whole[part] && parts[1] != part && !kept {
			t.Errorf("%q: the part %s is lost", link, part)
		}
	}
}

// reencodes checks that what was read from any link is a spec.
func reencodes(t interface {
	Helper()
	Errorf(string, ...any)
}, link string, s Spec) {
	t.Helper()
	again, err := Decode(s.Encode())
	if err != nil || again.Digest() != s.Digest() {
		t.Errorf("%q gives a spec that does not come back: %v", link, err)
	}
}

func TestDamageInWords(t *testing.T) {
	sound := func(body string) string { return body + "/" + checksum(body) }
	for _, c := range []struct {
		link   string
		damage []string
	}{
		{"", []string{damaged, `The link begins with ""; want 1.`}},
		{"hello", []string{damaged, `The link begins with "hello"; want 1.`}},
		{sound("2/reed-65"), []string{`The link begins with "2"; want 1.`}},
		{sound("1"), nil},
		{sound("1/reed-65"), nil},
		{"1/reed-65", []string{damaged}},
		{"1/reed-65/0123abcd", []string{damaged}},
		{"1/reed-65/0123abc", []string{damaged, `The part "0123abc" of the link could not be read.`}},
		{sound("1/reed-65/top"), []string{`The part "top" of the link could not be read.`}},
		{sound("1/reed-65/=a"), []string{`The part "=a" of the link could not be read.`}},
		{sound("1/reed-65/top=a*0"), []string{`The part "top=a*0" of the link could not be read.`}},
		{sound("1/reed-65/top=a*1001"), []string{`The part "top=a*1001" of the link could not be read.`}},
		{sound("1/reed-65/top=a*x"), []string{`The part "top=a*x" of the link could not be read.`}},
		{sound("1/reed-65/top=a+"), []string{`The part "top=a+" of the link could not be read.`}},
		{sound("1/reed-65/top=A"), []string{`The part "top=A" of the link could not be read.`}},
		{sound("1/reed-65/top=a/top="), []string{`The part "top=" of the link could not be read.`}},
		{sound("1/reed-65/top=a/top!"), nil},
		{sound("1/reed-65/top!"), []string{`The part "top!" of the link could not be read.`}},
		{sound("1/reed-65/top!/top=a"), []string{`The part "top!" of the link could not be read.`}},
		{sound("1/reed-65/top=a/top!/top!"), []string{`The part "top!" of the link could not be read.`}},
		{sound("1/reed-65/top=a/!"), []string{`The part "!" of the link could not be read.`}},
		{sound("1/reed-65/persons:"), []string{`The part "persons:" of the link could not be read.`}},
		{sound("1/reed-65/persons:~"), []string{`The part "persons:~" of the link could not be read.`}},
		{sound("1/reed-65/persons:Inf"), []string{`The part "persons:Inf" of the link could not be read.`}},
		{sound("1/reed-65/Persons:6/top=a"), []string{`The part "Persons:6" of the link could not be read.`}},
		{sound("1/reed-65/" + strings.Repeat("x", 61) + "=a"),
			[]string{fmt.Sprintf("The part %q of the link could not be read.", strings.Repeat("x", 60)+"…")}},
		{strings.Repeat("x", maxLink+1), []string{"The link has 65537 bytes, and none of ours has more than 65536. " +
			"It was not read."}},
	} {
		if _, damage := fromLink(c.link); !reflect.DeepEqual(damage, c.damage) {
			t.Errorf("%.60q: %q, want %q", c.link, damage, c.damage)
		}
	}
}

func TestLinkWithTooManyParts(t *testing.T) {
	body := "1/reed-65"
	for i := range maxEntries + 1 {
		body += fmt.Sprintf("/s%d=", i)
	}
	s, damage := fromLink(body + "/" + checksum(body))
	if len(s.Choices) != maxEntries || len(damage) != 1 ||
		damage[0] != `The part "s2000=" of the link could not be read.` {
		t.Errorf("%d choices, %q", len(s.Choices), damage)
	}
	reencodes(t, "many parts", s)
}

func FuzzFromLink(f *testing.F) {
	for _, link := range []string{"", "1", sampleLink, sample.Link(), "1/reed-65/00000000",
		"1/a/b=c*2+d/e:~5/f:-0/g:1e5", "1/a/b=c/d=/d!/b!/x!", "2/x/y", "1//=/:"} {
		f.Add(link)
	}
	f.Fuzz(func(t *testing.T, link string) {
		s, damage := fromLink(link)
		if damage != nil && len(damage) == 0 {
			t.Fatalf("%q: damage is neither absent nor told", link)
		}
		if len(link) < 1<<16 {
			reencodes(t, link, s)
		}
		// What was read of any link makes a sound link, and that gives the same again.
		again, worse := fromLink(s.Link())
		if isName(s.Hull) && (len(worse) > 0 || again.Link() != s.Link()) {
			t.Fatalf("%q was read as %s, which reads as %s %q", link, s.Link(), again.Link(), worse)
		}
	})
}
