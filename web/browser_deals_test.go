package main

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// stores waits until what a person did is on the disk.
func (p *tab) stores() {
	p.Helper()
	p.await(`document.getElementById("saved").dataset.state === "saved"`)
}

// stored are the records of the show's desk, by a path into each.
func stored(p *tab, path string) []string {
	p.Helper()
	return strings.Fields(later[string](p, fmt.Sprintf(`new Promise((resolve, reject) => {
		const open = indexedDB.open("ribband / show");
		open.onerror = () => reject(open.error);
		open.onsuccess = () => {
			const all = open.result.transaction("deals").objectStore("deals").getAll();
			all.onsuccess = () => { open.result.close(); resolve(all.result.map((d) => String(d%s)).sort().join(" ")); };
		};
	})`, path)))
}

// later is what a promise of the page comes to.
func later[T any](p *tab, js string) T {
	p.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatalf("%s: %v", js, err)
	}
	return v
}

// put writes into a field of the only record of the show's desk.
func (p *tab) put(field, value string) {
	p.Helper()
	later[bool](p, fmt.Sprintf(`new Promise((resolve, reject) => {
		const open = indexedDB.open("ribband / show");
		open.onsuccess = () => {
			const deals = open.result.transaction("deals", "readwrite").objectStore("deals");
			const all = deals.getAll();
			all.onsuccess = () => { all.result[0][%q] = %q; deals.put(all.result[0]); };
			deals.transaction.oncomplete = () => { open.result.close(); resolve(true); };
			deals.transaction.onabort = () => reject(deals.transaction.error);
		};
	})`, field, value))
}

// customerIs types who a quotation is for.
func (p *tab) customerIs(name string) {
	p.Helper()
	p.unfold("customer-details")
	p.fill("detail-name", name)
}

// issue issues the quotation, closes its paper, and gives its number.
func (p *tab) issue() string {
	p.Helper()
	p.hand("quotation")
	p.await(`document.getElementById("paper").open`)
	p.do(chromedp.Click(chromedp.CSS(`#paper [data-do="close"]`)))
	p.stores()
	return of[string](p, `document.getElementById("detail-number").value`)
}

// listed waits for the list to say some words of one record.
func (p *tab) listed(words ...string) {
	p.Helper()
	list := `[...document.querySelectorAll("#deals li")].some((li) => %s)`
	var all []string
	for _, w := range words {
		all = append(all, fmt.Sprintf("li.innerText.includes(%q)", w))
	}
	p.unfold("deals-details")
	p.await(fmt.Sprintf(list, strings.Join(all, " && ")))
}

// One show day: two customers, the first comes back and wants a change.
func TestCustomersOfADay(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.hull("reed-65")
	p.customerIs("Ada Example")
	first := p.issue()
	p.listed(first, "Ada Example", "Reed 65", "issued")

	p.answers(chromedp.Click(chromedp.CSS(`[data-do="deal-new"]`)))
	if name := of[string](p, `document.getElementById("detail-name").value`); name != "" {
		t.Errorf("the next customer's form holds %q", name)
	}
	p.customerIs("Bo Example")
	second := p.issue()
	if second == first || !strings.HasSuffix(first, "001") || !strings.HasSuffix(second, "002") {
		t.Errorf("the numbers are %s and %s", first, second)
	}

	p.act("Ada Example", "deal-open")
	p.await(`document.getElementById("detail-name").value === "Ada Example"`)
	p.hull("osier-76")
	p.await(`document.getElementById("state").textContent.includes("begins a revision")`)
	p.stores()
	got := ""
	for range 50 { // what was saved before may still be said for a moment
		if got = fmt.Sprint(stored(p, ".revision"), stored(p, ".state")); got == "[1 1 2] [draft issued issued]" {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	if got != "[1 1 2] [draft issued issued]" {
		t.Errorf("stored are revisions and states %s", got)
	}
	if again := p.issue(); again != first {
		t.Errorf("the revision has the number %s, want %s", again, first)
	}
	p.listed(first+", revision 2", "Ada Example", "Osier 76", "issued")

	p.act("revision 2", "deal-compare")
	p.await(`document.getElementById("paper").open`)
	paper := of[string](p, `document.getElementById("paper-frame").srcdoc`)
	for _, words := range []string{"Reed 65", "Osier 76", "Ada Example", first} {
		if !strings.Contains(paper, words) {
			t.Errorf("the comparison does not say %q", words)
		}
	}
}

// act presses a button of the record in the list that says some words.
func (p *tab) act(words, what string) {
	p.Helper()
	p.listed(words)
	button := fmt.Sprintf(`[...document.querySelectorAll("#deals li")].find((li) => li.innerText.includes(%q))
		?.querySelector('[data-do=%q]')`, words, what)
	p.await(button)
	p.do(chromedp.Evaluate[chromedp.Void](button + ".click()"))
}

// What is deleted comes back by one press; a number that was given is not given again, deleted or not.
func TestDeletedComesBack(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.customerIs("Ada Example")
	first := p.issue()
	p.act("Ada Example", "deal-delete")
	p.await(`!document.getElementById("deals-undo").hidden && document.getElementById("detail-name").value === ""`)
	if s := p.text("deals-undo"); !strings.Contains(s, "Ada Example") {
		t.Errorf("it says %q", s)
	}
	if n := of[string](p, `document.getElementById("detail-number").value`); n == first {
		t.Errorf("the number %s is given twice", n)
	}
	p.do(chromedp.Click(chromedp.CSS(`[data-do="deal-undelete"]`)))
	p.listed("Ada Example", "issued")
	p.act("Ada Example", "deal-accepted")
	p.listed("Ada Example", "accepted")
}

// Two tabs, one quotation: who changes it second gets a copy, and nobody's work is lost.
func TestOneQuotationInTwoTabs(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.customerIs("Ada Example")
	p.stores()
	other := p.second()
	other.open(server.URL + "/show.html")
	other.act("Ada Example", "deal-open")
	other.await(`document.getElementById("detail-name").value === "Ada Example"`)
	other.await(`document.getElementById("state").textContent.includes("open in another tab")`)
	other.unfold("customer-details")
	other.fill("detail-remarks", "from the other tab")
	other.stores()
	p.fill("detail-remarks", "from the first tab")
	p.stores()
	got := strings.Join(stored(p, `.form?.["quotation.remarks"] ?? ""`), " ")
	if got != "from the first tab from the other tab" {
		t.Errorf("stored are %q", got)
	}
}

// Two tabs propose one number; the second to issue is told, and gets the next.
func TestOneNumberInTwoTabs(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	other := p.second()
	other.open(server.URL + "/show.html")
	p.customerIs("Ada Example")
	first := p.issue()
	other.customerIs("Bo Example")
	other.hand("quotation")
	other.await(`document.getElementById("state").textContent.includes("has the number")`)
	if s := other.text("state"); !strings.Contains(s, first) {
		t.Errorf("it says %q", s)
	}
	if got := fmt.Sprint(stored(p, ".state")); got != "[draft issued]" {
		t.Errorf("stored are %s", got)
	}
}

// A store that is switched off, or full, is said in view, with what to do, and nothing else stops.
func TestStoreThatFailsIsSaid(t *testing.T) {
	t.Parallel()
	for script, want := range map[string]string{
		`IDBFactory.prototype.open = function () { throw new DOMException("no", "SecurityError"); };`:           "keeps nothing here",
		`IDBObjectStore.prototype.put = function () { throw new DOMException("full", "QuotaExceededError"); };`: "disk is full",
		`IDBObjectStore.prototype.put = function () { throw new DOMException("broken", "UnknownError"); };`:     "broken",
	} {
		server := serveHandler(t, before(siteOf(t), script))
		p := newTab(t)
		p.open(server.URL + "/show.html")
		p.customerIs("Ada Example")
		p.await(fmt.Sprintf(`document.getElementById("saved").textContent.includes(%q)`, want))
		p.hand("quotation")
		p.await(`document.getElementById("paper").open`)
	}
}

// before serves a site whose script has another before it.
func before(site http.Handler, script string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.Contains(r.URL.Path, "/assets/app-") {
			w.Header().Set("Content-Type", "text/javascript")
			fmt.Fprintln(w, script)
			r.Header.Del("Accept-Encoding")
			site.ServeHTTP(bodyOnly{w}, r)
			return
		}
		site.ServeHTTP(w, r)
	})
}

// bodyOnly drops what a handler says of its body, which has more before it here.
type bodyOnly struct{ http.ResponseWriter }

func (b bodyOnly) Header() http.Header { return http.Header{} }
func (b bodyOnly) WriteHeader(int)     {}

// keepsFiles has the page remember the files that it hands out.
func (p *tab) keepsFiles() {
	p.Helper()
	p.do(chromedp.Evaluate[chromedp.Void](`void (window.files = [], URL.createObjectURL = ((make) => (b) => {
		b.text().then((t) => window.files.push(t));
		return make.call(URL, b);
	})(URL.createObjectURL))`))
}

// takesIn gives the desk a file of records, as its file field does.
func (p *tab) takesIn(file string) {
	p.Helper()
	p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(() => {
		const input = document.getElementById("deals-file"), files = new DataTransfer();
		files.items.add(new File([%q], "day.json"));
		input.files = files.files;
		input.dispatchEvent(new Event("change", { bubbles: true }));
	})()`, file)))
}

// A buyer's file lies in the yard's list with the buyer's name and words, and opens with them. The page says that it
// sends nothing.
func TestBuyersFileForTheYard(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL)
	p.keepsFiles()
	p.hull("reed-65")
	p.unfold("enquiry-details")
	if s := p.text("enquiry-details"); !strings.Contains(s, "sends nothing by itself") {
		t.Errorf("it says %.300q", s)
	}
	p.fill("enquiry-name", "Ada Example")
	p.fill("enquiry-email", "ada@example.org")
	p.fill("enquiry-remarks", "Could the hull be blue?")
	p.do(chromedp.Click(chromedp.CSS(`[data-do="enquiry-file"]`)))
	p.await(`window.files.length > 0`)
	yard := newTab(t)
	yard.open(server.URL + "/show.html")
	yard.takesIn(of[string](p, `window.files[0]`))
	yard.act("Ada Example", "deal-open")
	yard.await(`document.getElementById("detail-remarks").value === "Could the hull be blue?"`)
	// the hulls are out of view, and come behind what is in it
	yard.await(`document.querySelector("#hulls input:checked").id === "hull-reed-65"`)
	if got := of[string](yard, `document.getElementById("detail-email").value`); got != "ada@example.org" {
		t.Errorf("it opens for %s", got)
	}
}

// A day's quotations go from the show's device to the yard's, twice, and nothing is there twice.
func TestFromTheShowToTheYard(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.keepsFiles()
	p.customerIs("Ada Example")
	number := p.issue()
	p.act("Ada Example", "deal-export")
	p.await(`window.files.some((f) => f.includes("quotations of a launch yard"))`)
	file := of[string](p, `window.files.find((f) => f.includes("quotations of a launch yard"))`)
	yard := newTab(t)
	yard.open(server.URL + "/yard.html")
	yard.unfold("deals-details")
	for _, want := range []string{"1 added", "1 was here already"} {
		yard.takesIn(file)
		yard.await(fmt.Sprintf(`document.getElementById("remarks").textContent.includes(%q)`, want))
	}
	yard.listed(number, "Ada Example", "issued")
	yard.act("Ada Example", "deal-open")
	yard.await(`document.getElementById("reopened").textContent.includes("As quoted")`)
}

// While the next customer's form is on its way, nothing of the one before can be handed in: it would be issued as the
// next one's.
func TestNothingIsIssuedBetweenTwoCustomers(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.customerIs("Ada Example")
	p.stores()
	p.do(chromedp.Evaluate[chromedp.Void](`(() => {
		const form = document.getElementById("quotation");
		window.handed = 0;
		document.querySelector('[data-do="deal-new"]').click();
		const hasty = () => {
			if (!form.elements.name.value) return;
			window.handed++;
			form.requestSubmit();
			setTimeout(hasty);
		};
		setTimeout(hasty);
	})()`))
	p.await(`document.getElementById("detail-name").value === ""`)
	if of[int](p, `window.handed`) == 0 {
		t.Fatal("nothing was handed in between the two")
	}
	p.hull("osier-76") // all that was sent before is answered by then
	p.stores()
	if of[bool](p, `document.getElementById("paper").open`) || fmt.Sprint(stored(p, ".state")) != "[draft draft]" {
		t.Errorf("a quotation was issued: stored are %s, %s", stored(p, ".state"),
			stored(p, `.form?.["quotation.name"]`))
	}
}
