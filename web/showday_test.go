package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// A day at a show: five customers, a reload, a network that dies, and a battery that ends while the page is open. In
// the evening the yard takes the five in, and in spring one customer comes back with a file.
func TestShowDay(t *testing.T) {
	path := fullBrowser.path(t)
	server := serveSite(t)
	show := &profile{t, path, t.TempDir(), server.URL + "/show.html"}
	ctx, battery := show.start()
	p := &tab{TB: t, ctx: ctx}
	var numbers []string
	serve := func(customer, hull string) {
		t.Helper()
		p.answers(chromedp.Evaluate[chromedp.Void](`document.querySelector('[data-do="deal-new"]').click()`))
		p.answers(chromedp.Evaluate[chromedp.Void](`document.getElementById("hull-` + hull + `").click()`))
		p.customerIs(customer)
		numbers = append(numbers, p.issue())
	}
	serve("Ada Example", "reed-65")
	p.do(chromedp.Reload())
	p.await(answered)
	serve("Bo Example", "rush-54")
	p.await(`navigator.serviceWorker.controller`)
	server.Close() // the hall's network dies
	serve("Cy Example", "osier-76")
	battery()
	ctx, kill := show.start() // on the charger, and without a network
	defer kill()
	p.ctx = ctx
	p.listed(numbers[2], "Cy Example", "issued")
	serve("Di Example", "reed-65")
	serve("Ed Example", "rush-54")
	if given := slices.Compact(slices.Sorted(slices.Values(numbers))); len(given) != len(numbers) {
		t.Errorf("a number was given twice: %q", numbers)
	}
	p.keepsFiles()
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('[data-do="deals-export"]').click()`))
	p.await(`window.files.length > 0`)
	day := of[string](p, `window.files[0]`)
	theYardTakesIn(t, day, numbers)
}

// theYardTakesIn opens the file of the day on the yard's desk, and one of its quotations by the command line.
func theYardTakesIn(t *testing.T, day string, numbers []string) {
	t.Helper()
	server := serveSite(t)
	yard := newTab(t)
	yard.open(server.URL + "/yard.html")
	yard.takesIn(day)
	yard.await(`document.getElementById("remarks").textContent.includes("added")`)
	if s := yard.text("remarks"); !strings.Contains(s, "5 added") {
		t.Errorf("the yard is told %q", s)
	}
	for i, customer := range []string{"Ada", "Bo", "Cy", "Di", "Ed"} {
		yard.listed(numbers[i], customer+" Example", "issued")
	}
	quotation := later[string](yard, `new Promise((resolve) => {
		const open = indexedDB.open("ribband / yard");
		open.onsuccess = () => {
			const all = open.result.transaction("deals").objectStore("deals").getAll();
			all.onsuccess = () => { open.result.close(); resolve(all.result.find((d) => d.quote?.includes("Bo Example")).quote); };
		};
	})`)
	name := filepath.Join(t.TempDir(), "bo.json")
	write(t, name, quotation)
	if o := worked(t, tool(t, "", "open", "-unsigned", "-book", "../rules", name)); !strings.Contains(o.out,
		"As quoted") {
		t.Errorf("in spring it opens as\n%s", o.out)
	}
}
