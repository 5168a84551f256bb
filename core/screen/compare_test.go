package screen_test

import (
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/pack"
)

// Side by side stand the prices and figures of the answers, and those slots alone in which the boats are not alike.
func TestBesideShowsWhatIsNotAlike(t *testing.T) {
	e := engines()[pack.Buyer]
	s := standard("reed-65")
	other := s.Clone()
	other.Choices = map[string]map[string]int{"top": {"top-canopy": 1}}
	v, w := view(t, e, s), view(t, e, other)
	v.Beside = []*engine.Answer{w.Answer}
	table := fragment(t, v, "beside")
	rows := map[string][]string{}
	for _, tr := range table.all("tbody")[0].all("tr") {
		for _, td := range tr.all("td") {
			rows[tr.all("th")[0].text] = append(rows[tr.all("th")[0].text], td.text)
		}
	}
	if got := strings.Join(rows["Top"], "|"); got != "Folding hood|Fixed canvas canopy" {
		t.Errorf("of the tops it says %q", got)
	}
	if _, there := rows["Hull colour"]; there {
		t.Error("a slot in which they are alike is shown")
	}
	prices := rows["Price"]
	if len(prices) != 2 || !strings.HasPrefix(fragment(t, v, "title-block").byID("total").text, prices[0]) ||
		fragment(t, w, "title-block").byID("total").text != prices[1] {
		t.Errorf("the prices are %q", prices)
	}
	if n := len(table.all("svg")); n != 2 {
		t.Errorf("%d boats are drawn", n)
	}
}
