package doc

import "strings"

// Span is a piece of a text, and whether the text that it is compared with lacks it.
type Span struct {
	Text   string
	Differ bool
}

// Against is words of which those that another text lacks are marked.
func Against(text, other string) Cell { return Cell{text: text, other: other, compared: true} }

// mostPairs bounds the work of a comparison: two texts of a thousand words.
const mostPairs = 1_000_000

// Spans are the words of a cell, parted where they begin or cease to be those of the text that it is compared with;
// whole where it is compared with none. The words in common are the longest row of words that both have.
func (c Cell) Spans() []Span {
	if !c.compared || c.text == c.other || c.text == "" {
		return []Span{{Text: c.text}}
	}
	a, b := strings.SplitAfter(c.text, " "), strings.SplitAfter(c.other, " ")
	if len(a)*len(b) > mostPairs {
		return []Span{{c.text, true}}
	}
	same := func(i, j int) bool { return strings.TrimSpace(a[i]) == strings.TrimSpace(b[j]) }
	// common[i][j] is how many words the rests from i and j on have in common
	common := make([][]int, len(a)+1)
	for i := range common {
		common[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if common[i][j] = max(common[i+1][j], common[i][j+1]); same(i, j) {
				common[i][j] = common[i+1][j+1] + 1
			}
		}
	}
	var spans []Span
	for i, j := 0, 0; i < len(a); {
		differ := true
		switch {
		case j < len(b) && same(i, j):
			differ = false
			j++
		case j < len(b) && common[i][j+1] >= common[i+1][j]:
			j++ // a word of the other alone
			continue
		}
		if n := len(spans); n > 0 && spans[n-1].Differ == differ {
			spans[n-1].Text += a[i]
		} else {
			spans = append(spans, Span{a[i], differ})
		}
		i++
	}
	return spans
}
