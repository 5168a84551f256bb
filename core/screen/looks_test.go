package screen_test

import (
	"strings"
	"testing"
)

// What is unfolded below an option: its pictures with the room that they take, and words for who does not see them; on
// the first page nothing of it, and an option without any has nothing to unfold.
func TestCloser(t *testing.T) {
	v := pages()["buyer reed-65-fullest"]
	found := 0
	for _, e := range v.page.all("details") {
		id, ok := strings.CutPrefix(e.attr["id"], "closer-option-")
		if !ok {
			continue
		}
		found++
		if !strings.Contains(e.text, "More about ") {
			t.Errorf("what is unfolded below %s is called %.60q", id, e.text)
		}
	}
	images := v.page.all("img")
	if found != 2 || len(images) != 2 {
		t.Errorf("%d options have more to say, with %d pictures, want 2 and 2", found, len(images))
	}
	for _, e := range images {
		if e.attr["width"] != "960" || e.attr["height"] != "538" || e.attr["loading"] != "lazy" ||
			len(strings.Split(e.attr["srcset"], ", ")) != 2 ||
			!strings.HasPrefix(e.attr["alt"], "A Reed 65 with the ") {
			t.Errorf("a picture has %v", e.attr)
		}
	}
	if first := v.First(); strings.Contains(first, "<img") {
		t.Error("the first page asks for pictures")
	}
}
