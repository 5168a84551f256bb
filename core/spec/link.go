package spec

import (
	"fmt"
	"hash/crc32"
	"maps"
	"slices"
	"strconv"
	"strings"

	"ribband/core/msg"
	"ribband/core/suggest"
	"ribband/core/visible"
)

// A link's fragment is a list of parts between slashes:
//
//	1/reed-65/top=top-folding/fenders=fender-small*4+fender-large/enclosure=/top!/persons:6/region:us/3f0c91aa
//
// the format, the hull, choices (slot=option*count+…), what is kept (slot!), uses (field:value, with ~ before a choice
// that looks like a number), and a checksum (CRC-32 of IEEE 802.3, in hexadecimal) of all that stands before its slash.
// Every part can be read without the others, so that a damaged link keeps what is whole; only what is kept must have
// been chosen before.

// Link writes hull, choices, what of them is kept, and use as the fragment of a link. What a salesperson added is left
// out: a link is the customer's.
func (s Spec) Link() string {
	parts := []string{strconv.Itoa(Format), s.Hull}
	for _, slot := range slices.Sorted(maps.Keys(s.Choices)) {
		var options []string
		for _, o := range slices.Sorted(maps.Keys(s.Choices[slot])) {
			if n := s.Choices[slot][o]; n > 1 {
				o += "*" + strconv.Itoa(n)
			}
			options = append(options, o)
		}
		parts = append(parts, slot+"="+strings.Join(options, "+"))
	}
	for _, slot := range s.Keep {
		parts = append(parts, slot+keepMark)
	}
	for _, field := range slices.Sorted(maps.Keys(s.Use)) {
		v := s.Use[field]
		text := v.String()
		if _, err := strconv.ParseFloat(v.Choice, 64); err == nil {
			text = choiceMark + text
		}
		parts = append(parts, field+":"+text)
	}
	body := strings.Join(parts, "/")
	return body + "/" + checksum(body)
}

// checksum guards against a link that was cut off or copied with a slip, and against nothing else: whoever changes a
// link by hand can write the sum that fits.
func checksum(body string) string { return fmt.Sprintf("%08x", crc32.ChecksumIEEE([]byte(body))) }

// IsLink says whether a fragment claims to be a link, sound or not. Others belong to the page, as #contact may. It
// looks no further than the format before the first slash.
func IsLink(fragment string) bool {
	format, _, cut := strings.Cut(fragment, "/")
	_, err := strconv.Atoi(format)
	return cut && err == nil
}

// Limits of a link. The longest of a real boat is some two thousand bytes; browsers and mail programs cut off what is
// far beyond maxLink. Who has maxDamage parts before them that could not be read reads no more of them.
const (
	maxLink   = 64 << 10 // bytes
	maxDamage = 20
)

// FromLink reads a fragment. The spec holds every part that could be read; damage lists what could not, the first parts
// by name and the others by their number, and is empty for a sound link. Whether the names mean anything is for the
// engine to say.
func FromLink(fragment string) (s Spec, damage []msg.Message) {
	s = Spec{Format: Format}
	if len(fragment) > maxLink {
		return s, []msg.Message{msg.New("spec.link-too-long", msg.Count("bytes", len(fragment)),
			msg.Count("most", maxLink))}
	}
	body, sum, _ := cutLast(fragment, "/")
	if sum != checksum(body) {
		damage = append(damage, msg.New("spec.link-damaged"))
		if !isChecksum(sum) { // cut off: what stands last is a part
			body = fragment
		}
	}
	parts := strings.Split(body, "/")
	if parts[0] != strconv.Itoa(Format) {
		return s, append(damage, msg.New("spec.link-format", msg.Text("format", suggest.Clip(parts[0], 20)),
			msg.Count("want", Format)))
	}
	if len(parts) > 1 {
		// as JSON would have it, so that the spec has one digest; and no hull's name has what cannot be seen
		s.Hull = visible.Show(strings.ToValidUTF8(parts[1], "\ufffd"))
	}
	// by a map, since a link may be of marks alone, and each would be looked for among all before it
	kept, lost := map[string]bool{}, 0
	for _, part := range parts[min(2, len(parts)):] {
		if s.readPart(part, kept) {
			continue
		}
		if lost++; lost <= maxDamage {
			damage = append(damage, msg.New("spec.link-part", msg.Text("part", suggest.Clip(part, 60))))
		}
	}
	// a remark each would fill the page, and say no more: who gets such a link asks for it again
	if lost > maxDamage {
		damage = append(damage, msg.New("spec.link-parts", msg.Count("more", lost-maxDamage)))
	}
	return s, damage
}

// isChecksum tells a checksum that is wrong from a link that was cut off before it: mail programs break long lines.
func isChecksum(s string) bool {
	_, err := strconv.ParseUint(s, 16, 32)
	return len(s) == 8 && err == nil
}

// cutLast is [strings.Cut] from the other end.
func cutLast(s, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}

// readPart reads one part of a link by the mark that is in it. A part that cannot be read is left out whole: half a
// choice would be another choice. Kept are the slots that had their mark before.
func (s *Spec) readPart(part string, kept map[string]bool) bool {
	if slot, ok := strings.CutSuffix(part, keepMark); ok {
		return s.readKeep(slot, kept)
	}
	if len(s.Choices)+len(s.Use) >= maxEntries {
		return false
	}
	if slot, options, ok := strings.Cut(part, "="); ok {
		return s.readChoice(slot, options)
	}
	if field, value, ok := strings.Cut(part, ":"); ok && isName(field) && value != "" {
		v, ok := readValue(value)
		if ok {
			if s.Use == nil {
				s.Use = map[string]Value{}
			}
			s.Use[field] = v
		}
		return ok
	}
	return false
}

// keepMark stands behind a slot whose choice no repair may change.
const keepMark = "!"

// readKeep takes a slot that was chosen in before, once. The parts of a sound link stand in this order; a mark whose
// choice was lost with a damaged part is lost with it.
func (s *Spec) readKeep(slot string, kept map[string]bool) bool {
	if _, chosen := s.Choices[slot]; !chosen || kept[slot] {
		return false
	}
	kept[slot] = true
	s.Keep = append(s.Keep, slot)
	return true
}

// readChoice reads what was chosen in a slot. No option at all leaves the slot empty, which is a choice too; without
// the part the slot is left to the standard build.
func (s *Spec) readChoice(slot, options string) bool {
	if _, twice := s.Choices[slot]; twice || !isName(slot) {
		return false
	}
	chosen := map[string]int{}
	for _, o := range strings.Split(options, "+") {
		if o == "" && options == "" {
			break
		}
		name, count, counted := strings.Cut(o, "*")
		n := 1
		if counted {
			var err error
			if n, err = strconv.Atoi(count); err != nil {
				return false
			}
		}
		if !isName(name) || n < 1 || n > maxCount {
			return false
		}
		chosen[name] = n
	}
	if s.Choices == nil {
		s.Choices = map[string]map[string]int{}
	}
	s.Choices[slot] = chosen
	return true
}

// choiceMark stands before a choice that would be read as a number: a battery of "48" volts.
const choiceMark = "~"

// readValue reads a value of the use. What looks like a number is one, unless it is marked: package engine says whether
// the book wants a number there.
func readValue(text string) (Value, bool) {
	if choice, ok := strings.CutPrefix(text, choiceMark); ok {
		return Value{Choice: choice}, isName(choice)
	}
	if n, err := strconv.ParseFloat(text, 64); err == nil && n-n == 0 { // neither infinite nor NaN
		return Value{Number: n}, true
	}
	return Value{Choice: text}, isName(text)
}

// isName says whether a text can be an identifier of a book: no mark of a link is in one, and none needs escaping in an
// address.
func isName(s string) bool {
	for _, c := range []byte(s) {
		if c != '-' && c != '_' && (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return s != "" && len(s) <= 60
}
