package amend

import (
	"fmt"
	"slices"
	"strings"
)

// Diff is the edit as a unified diff with three lines of context, by the names of the files below the folder of the
// book; empty where nothing is to be changed. In that folder, `patch -p1` applies it.
//
// Source: POSIX.1-2017, diff, "Diff -u Output Format".
func (e *Edit) Diff() []byte {
	var out strings.Builder
	var names []string
	for name, lines := range e.now {
		if len(lines) > 0 {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(&out, "--- a/%s\n+++ b/%s\n", name, name)
		e.hunks(&out, name)
	}
	return []byte(out.String())
}

// context is how many lines of a file stand about those that change.
const context = 3

// hunks writes the changed places of a file; those whose contexts meet are one.
func (e *Edit) hunks(out *strings.Builder, name string) {
	was, now := e.was[name], e.now[name]
	end := len(was)
	if was[end-1] == "" { // the line end of the last line, and no line
		end--
	}
	var at []int
	for i := range now {
		at = append(at, i)
	}
	slices.Sort(at)
	// a hunk says where it stands in either file, and those of the new one move on by what was inserted before
	grown := 0 // lines more than before, until here
	for i := 0; i < len(at); {
		j := i
		for j+1 < len(at) && at[j+1]-at[j] <= 2*context {
			j++
		}
		from, to := max(0, at[i]-context), min(end, at[j]+context+1)
		// the line itself is context, and patch takes less of it below than above for the end of a file
		if e.addsTo(name, at[i]) {
			from = max(0, at[i]-context+1)
		}
		var body strings.Builder
		more := 0
		for l := from; l < to; l++ {
			text, changed := now[l]
			last := ""
			if l == len(was)-1 {
				last = "\\ No newline at end of file\n"
			}
			if !changed {
				body.WriteString(" " + was[l] + "\n" + last)
				continue
			}
			lines := strings.Split(text, "\n")
			more += len(lines) - 1
			if e.addsTo(name, l) {
				body.WriteString(" " + was[l] + "\n")
				lines = lines[1:]
			} else {
				body.WriteString("-" + was[l] + "\n" + last)
			}
			body.WriteString("+" + strings.Join(lines, "\n+") + "\n" + last)
		}
		fmt.Fprintf(out, "@@ -%d,%d +%d,%d @@\n%s", from+1, to-from, from+1+grown, to-from+more, body.String())
		grown += more
		i = j + 1
	}
}

// addsTo says whether a line stays and others come behind it.
func (e *Edit) addsTo(name string, line int) bool {
	return line < len(e.was[name])-1 && strings.HasPrefix(e.now[name][line], e.was[name][line]+"\n")
}

// Was is a file that the edit changes as it was before.
func (e *Edit) Was(name string) []byte { return []byte(strings.Join(e.was[name], "\n")) }

// Apply gives the files that the edit changes as they are afterwards, by name.
func (e *Edit) Apply() map[string][]byte {
	out := map[string][]byte{}
	for name, now := range e.now {
		if len(now) == 0 {
			continue
		}
		lines := slices.Clone(e.was[name])
		for i, s := range now {
			lines[i] = s
		}
		out[name] = []byte(strings.Join(lines, "\n"))
	}
	return out
}
