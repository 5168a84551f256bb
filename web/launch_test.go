package main

import (
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
)

// The desks say of a boat when it would be launched, each as much as it may; all panels at once, as they are in a page
// that is looked at whole.
func TestDesksTellOfLaunches(t *testing.T) {
	for _, tag := range []string{"en", "de", "nl"} {
		for _, d := range pack.Desks {
			e, err := engineIn(packsOf(t)[d], tag)
			if err != nil {
				t.Fatal(err)
			}
			page, err := desk.New(e)
			if err != nil {
				t.Fatal(err)
			}
			html := map[string]string{}
			for _, r := range []desk.Request{{Act: "open"}, {Act: "choose", Option: "training-water"}} {
				r.Version = desk.Version
				reply := page.Handle(r)
				if reply.Error != "" {
					t.Fatal(reply.Error)
				}
				for _, f := range reply.Fragments {
					html[f.ID] = f.HTML
				}
			}
			// the orders of the demo say nothing later than their last entry
			if has := strings.Contains(html["launch"], "2027-W"); has != (d != pack.Buyer) {
				t.Errorf("%s in %s: the launch week is there: %v: %.300s", d, tag, has, html["launch"])
			}
			if has := strings.Count(html["build"], "<svg") == 2; has != (d == pack.Yard) {
				t.Errorf("%s in %s: the build by week is there: %v", d, tag, has)
			}
			if strings.Contains(html["build"]+html["launch"], "[screen.") {
				t.Errorf("%s in %s lacks words", d, tag)
			}
			// nobody reads there whose orders these are
			whole := strings.Join([]string{html["build"], html["launch"]}, "")
			if strings.Contains(whole, "2027-001") || strings.Contains(whole, "Weidenthal") {
				t.Errorf("%s in %s names an order", d, tag)
			}
		}
	}
}
