package main

import (
	"fmt"
	"strings"
	"testing"

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
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](fmt.Sprintf(`new Promise((resolve, reject) => {
		const open = indexedDB.open("ribband / show");
		open.onerror = () => reject(open.error);
		open.onsuccess = () => {
			const all = open.result.transaction("deals").objectStore("deals").getAll();
			all.onsuccess = () => { open.result.close(); resolve(all.result.map((d) => String(d%s)).sort().join(" ")); };
		};
	})`, path), chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatal(err)
	}
	return strings.Fields(v)
}

// put writes into a field of the only record of the show's desk.
func (p *tab) put(field, value string) {
	p.Helper()
	_, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool](fmt.Sprintf(`new Promise((resolve, reject) => {
		const open = indexedDB.open("ribband / show");
		open.onsuccess = () => {
			const deals = open.result.transaction("deals", "readwrite").objectStore("deals");
			const all = deals.getAll();
			all.onsuccess = () => { all.result[0][%q] = %q; deals.put(all.result[0]); };
			deals.transaction.oncomplete = () => { open.result.close(); resolve(true); };
			deals.transaction.onabort = () => reject(deals.transaction.error);
		};
	})`, field, value), chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatal(err)
	}
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
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.answers(chromedp.Click(chromedp.ID("hull-reed-65")))
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

	p.listed(first)
	p.answers(chromedp.Evaluate[chromedp.Void](`[...document.querySelectorAll("#deals li")].find((li) => li.innerText.includes("Ada")).querySelector('[data-do="deal-open"]').click()`))
	p.await(`document.getElementById("detail-name").value === "Ada Example"`)
	p.answers(chromedp.Click(chromedp.ID("hull-osier-76")))
	p.stores()
	if got := fmt.Sprint(stored(p, ".revision"), stored(p, ".state")); got != "[1 1 2] [draft issued issued]" {
		t.Errorf("stored are revisions and states %s", got)
	}
	if again := p.issue(); again != first {
		t.Errorf("the revision has the number %s, want %s", again, first)
	}
	p.listed(first+", revision 2", "Ada Example", "Osier 76", "issued")
}
