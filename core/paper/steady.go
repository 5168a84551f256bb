package paper

import "strconv"

// steadyDigits are as many significant figures as a number of a file keeps.
const steadyDigits = 12

// steady rounds the numbers of a JSON text to figures that come out alike on every processor. Some fuse a
// multiplication with the addition behind it, and round once where others round twice: that shows in the sixteenth
// figure, and of it no file may depend. Numbers within strings, such as those of formulas, stay as they are.
//
// Source: the Go specification, floating-point operators: an implementation may fuse operations across statements.
func steady(text []byte) []byte {
	out := make([]byte, 0, len(text))
	for i := 0; i < len(text); {
		end := i + 1
		switch c := text[i]; {
		case c == '"':
			for ; end < len(text) && text[end] != '"'; end++ {
				if text[end] == '\\' { // what is escaped ends no string
					end++
				}
			}
			end = min(end+1, len(text))
			out = append(out, text[i:end]...)
		case c == '-' || c >= '0' && c <= '9':
			for end < len(text) && isOfNumber(text[end]) {
				end++
			}
			out = append(out, steadyNumber(string(text[i:end]))...)
		default:
			out = append(out, c)
		}
		i = end
	}
	return out
}

func isOfNumber(c byte) bool {
	return c >= '0' && c <= '9' || c == '.' || c == 'e' || c == 'E' || c == '+' || c == '-'
}

// steadyNumber leaves short numbers as they are written.
func steadyNumber(s string) string {
	if len(s) <= steadyDigits {
		return s
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil { // no number of ours
		return s
	}
	// written as the shortest of the rounded number, as it would have been
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', steadyDigits, 64), 64)
	if err != nil {
		return s
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
