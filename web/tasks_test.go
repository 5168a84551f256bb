package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// somebody goes about a task on the page and counts what has to be done for it: a press and a value each count as one.
type somebody struct {
	*tab
	actions int
}

// presses clicks what a person sees there.
func (s *somebody) presses(selector string) {
	s.Helper()
	s.actions++
	s.seesTo(selector)
	s.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.querySelector(%q).click()`, selector)))
}

// has the page answer a press.
func (s *somebody) asks(selector string) {
	s.Helper()
	before := of[string](s.tab, answered)
	s.presses(selector)
	s.await(fmt.Sprintf("%s !== %q", answered, before))
}

// enters gives a value.
func (s *somebody) enters(id, value string) {
	s.Helper()
	s.actions++
	s.seesTo("#" + id)
	s.fill(id, value)
}

// seesTo fails where a control is not on the page that is in view: nobody could press it.
func (s *somebody) seesTo(selector string) {
	s.Helper()
	s.await(fmt.Sprintf(`document.querySelector(%q)?.checkVisibility()`, selector))
}

// Five tasks of the three people who use the page, each in as few actions as was aimed at, at every size.
func TestTasks(t *testing.T) {
	tasks := []struct {
		what string
		desk string
		most int
		does func(*somebody)
	}{
		{"the cheapest boat for eight with full enclosure, 25 nm, under 90 000, sent to the " +
			"yard", "/", 9, func(s *somebody) {
			s.presses("#panel-brief > summary")
			s.enters("wish-persons", "8")
			s.enters("wish-range", "25 nm")
			s.presses("#wish-weather")
			s.enters("wish-price", "90.000")
			s.presses("#brief-find")
			s.await(`document.getElementById("brief-verdict") !== null`)
			s.asks("#take-0")
			s.presses(`#nav a[href="#page-enquiry"]`)
			s.keepsFiles()
			s.presses(`[data-do="enquiry-file"]`)
			s.await(`window.files.length > 0`)
			if file := of[string](s.tab, `window.files[0]`); !strings.Contains(file, "enclosure-full") {
				s.Errorf("the yard gets %.300s", file)
			}
		}},
		{"the solar top past a bridge of 1.6 m", "/", 4, func(s *somebody) {
			s.presses("#panel-use > summary")
			s.enters("use-bridge_m", "1.6")
			s.answers(chromedp.KeyEvent(kb.Enter))
			s.actions = 0 // the bridge is where it is: nobody comes without it
			s.presses(`#nav a[href="#section-shelter"]`)
			s.presses("#summary-top")
			s.asks("#ask-option-top-solar")
			s.asks("#repair-0")
			if !of[bool](s.tab, `document.getElementById("option-top-solar").checked`) ||
				!of[bool](s.tab, `document.getElementById("clashing") === null`) {
				s.Errorf("the boat is %s", s.text("title-block"))
			}
		}},
		{"thirty kilometres further", "/", 3, func(s *somebody) {
			before := s.text("title-block")
			s.presses(`#nav a[href="#section-power"]`)
			s.presses("#summary-bank")
			s.asks("#option-bank-lfp-10")
			if now := s.text("title-block"); now == before {
				s.Errorf("the title block says %q", now)
			}
		}},
		{"a quotation with 4 % off, one extra item and the customer, issued and " +
			"printed", "/show.html", 16, func(s *somebody) {
			s.presses(`#nav a[href="#page-price"]`)
			s.enters("discount-title", "Show week")
			s.enters("discount-value", "4 %")
			s.asks("#add-discount button[type=submit]")
			s.enters("free-title", "Boat hook, oak")
			s.enters("free-price", "84,50")
			s.actions++
			s.do(chromedp.SetValue(chromedp.ID("free-basis"), "with-tax"))
			s.asks("#add-line button[type=submit]")
			s.presses(`#nav a[href="#page-customer"]`)
			s.enters("detail-name", "Ada Example")
			s.enters("detail-email", "ada@example.org")
			s.asks("#quotation button[type=submit]")
			s.await(`document.getElementById("paper").open`)
			s.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("paper-frame").contentWindow.print =
				() => { window.printed = true; }`))
			s.presses(`#paper [data-do="print"]`)
			if !of[bool](s.tab, `window.printed`) {
				s.Error("nothing was printed")
			}
		}},
		{"what the foreman has to know where the table is another", "/yard.html", 3, func(s *somebody) {
			s.presses(`#nav a[href="#section-joinery"]`)
			s.presses("#summary-table")
			s.await(`document.querySelector("#effects-option-table-folding-teak")?.checkVisibility()`)
			if text := s.text("effects-option-table-folding-teak"); !strings.Contains(text, "ours") {
				s.Errorf("beside the table stands %q", text)
			}
		}},
	}
	for _, task := range tasks {
		t.Run(task.what, func(t *testing.T) {
			for _, size := range [][2]int64{{390, 844}, {1024, 768}, {1440, 900}} {
				server := serveSite(t)
				p := newTab(t)
				p.do(chromedp.EmulateViewport(size[0], size[1]))
				p.open(server.URL + task.desk)
				s := &somebody{tab: p}
				task.does(s)
				t.Logf("%d actions at %d × %d", s.actions, size[0], size[1])
				if s.actions > task.most {
					t.Errorf("%d actions at %d × %d, want at most %d", s.actions, size[0], size[1], task.most)
				}
			}
		})
	}
}
