package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

var kills = flag.Int("kills", 3, "how often TestKill kills the browser")

// salesperson is what somebody does in the page who quotes, at a pace that no person keeps: it types, changes the boat,
// issues, begins for the next customer, and tells by the console what it typed, and what the page called saved.
const salesperson = `(() => {
	const tell = (what, more) => console.log("kill " + JSON.stringify({ what, ...more }));
	const now = () => {
		const form = document.getElementById("quotation");
		return { deal: sessionStorage.getItem("ribband / show"), remarks: form.elements.remarks.value, number: form.elements.number.value };
	};
	const saved = document.getElementById("saved");
	new MutationObserver(() => { if (saved.dataset.state === "saved") tell("saved", now()); })
		.observe(saved, { attributes: true, childList: true });
	let n = 0;
	const type = () => {
		const e = document.getElementById("detail-remarks");
		e.value += " " + (n++).toString(36);
		e.dispatchEvent(new InputEvent("input", { bubbles: true }));
		tell("typed", now());
	};
	const click = (selector) => document.querySelector(selector)?.click();
	const step = () => {
		const dice = Math.random();
		document.querySelector("dialog[open]")?.close();
		if (dice < 0.75) type();
		else if (dice < 0.93) {
			const all = [...document.querySelectorAll('#sheet input[type=radio]:not(:checked):not([aria-disabled=true])')];
			all[Math.floor(Math.random() * all.length)]?.click();
		} else if (dice < 0.97) document.getElementById("quotation").requestSubmit();
		else click('[data-do="deal-new"]');
		setTimeout(step, 20 + 100 * Math.random());
	};
	const paper = document.getElementById("paper");
	const number = () => document.querySelector("#paper-files a").download.replace(/^quotation-|\.[a-z]+$/g, "");
	new MutationObserver(() => { if (paper.open) tell("issued", { number: number() }); })
		.observe(paper, { attributes: true });
	step();
})()`

// told is a message of the salesperson, and when it came.
type told struct {
	What, Deal, Remarks, Number string
	at                          time.Time
}

// profile is a browser's profile that outlives the browser.
type profile struct {
	testing.TB
	path, dir, address string
}

// start starts a browser on the profile, opens the desk, and gives how to kill it.
func (p *profile) start() (ctx context.Context, kill func()) {
	p.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(p.path), chromedp.NoSandbox,
		chromedp.DisableGPU, chromedp.UserDataDir(p.dir), chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("lang", "en-GB"))
	options = append(options, quickBrowser.flags...)
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, stop := chromedp.NewContext(allocator)
	ctx, cancel := context.WithTimeout(ctx, patience)
	if err := chromedp.Do(ctx, chromedp.Navigate(p.address)); err != nil {
		p.Fatal("starting the browser again: ", err)
	}
	if _, err := chromedp.Run(ctx, chromedp.Poll[bool]("Boolean("+answered+")",
		chromedp.WithPollingTimeout(patience))); err != nil {
		p.Fatal("after a kill the page does not open: ", err)
	}
	process := chromedp.FromContext(ctx).Browser.Process()
	return ctx, func() {
		_ = syscall.Kill(process.Pid, syscall.SIGKILL)
		killChildren(process.Pid)
		cancel()
		stop()
		stopAllocator()
	}
}

// killChildren kills what a browser has started: the processes that name its profile or descend from it.
func killChildren(parent int) {
	entries, err := filepath.Glob("/proc/[0-9]*/stat")
	if err != nil {
		return
	}
	for _, e := range entries {
		text, err := os.ReadFile(e)
		if err != nil {
			continue
		}
		var pid, ppid int
		rest := string(text[strings.LastIndexByte(string(text), ')')+1:])
		if _, err := fmt.Sscanf(string(text), "%d", &pid); err != nil {
			continue
		}
		if _, err := fmt.Sscanf(rest, " %*c %d", &ppid); err == nil && ppid == parent {
			killChildren(pid)
			_ = syscall.Kill(pid, syscall.SIGKILL)
		}
	}
}

// TestKill kills the browser at random moments of editing and issuing, and opens it again. What the page called saved
// is there, a quotation that was issued too, and of what was typed at most the last second is missing.
// go test ./web -run 'TestKill$' -kills 1000 -timeout 3h tries it long.
func TestKill(t *testing.T) {
	path := fullBrowser.path(t)
	server := serveSite(t)
	dir, err := os.MkdirTemp("", "ribband-kill-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	p := &profile{t, path, dir, server.URL + "/show.html"}
	edits, lost := 0, 0
	var before []told
	var killed time.Time
	for n := 0; ; n++ {
		ctx, kill := p.start()
		more, missing := p.check(ctx, before, killed)
		edits, lost = edits+more, lost+missing
		if n == *kills || t.Failed() {
			kill()
			break
		}
		heard := p.hear(ctx)
		if err := chromedp.Do(ctx, chromedp.Evaluate[chromedp.Void](`void `+salesperson)); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(200+rand.IntN(3000)) * time.Millisecond)
		killed = time.Now()
		kill()
		before = heard()
	}
	t.Logf("%d kills, %d edits, %d of the last second lost, none before", *kills, edits, lost)
}

// hear gathers what the salesperson tells; the function that it gives ends that.
func (p *profile) hear(ctx context.Context) func() []told {
	var mu sync.Mutex
	var list []told
	go func() {
		for m, err := range chromedp.Console(ctx) {
			if err != nil {
				return
			}
			text, ours := strings.CutPrefix(m.Text, "kill ")
			one := told{at: time.Now()}
			if ours && json.Unmarshal([]byte(text), &one) == nil {
				mu.Lock()
				list = append(list, one)
				mu.Unlock()
			}
		}
	}()
	return func() []told {
		mu.Lock()
		defer mu.Unlock()
		return list
	}
}

// check compares the store of the profile with what was told before the kill.
func (p *profile) check(ctx context.Context, heard []told, killed time.Time) (edits, lost int) {
	p.Helper()
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](`new Promise((resolve, reject) => {
		const open = indexedDB.open("ribband / show");
		open.onerror = () => reject(open.error);
		open.onsuccess = () => {
			const all = open.result.transaction("deals").objectStore("deals").getAll();
			all.onsuccess = () => { open.result.close(); resolve(JSON.stringify(all.result)); };
		};
	})`, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatal("reading the store after a kill: ", err)
	}
	var records []struct {
		ID, State, Spec, Quote string
		Revision               int
		Form                   map[string]string
	}
	if err := json.Unmarshal([]byte(text), &records); err != nil {
		p.Fatal(err)
	}
	remarks, issued := map[string]string{}, map[string]bool{}
	for _, r := range records {
		remarks[r.ID] = r.Form["quotation.remarks"]
		name := r.Form["quotation.number"] // as the files of its paper are called
		if r.Revision > 1 {
			name += fmt.Sprintf("-revision-%d", r.Revision)
		}
		issued[name] = issued[name] || r.State == "issued"
		if !json.Valid([]byte(r.Spec)) || (r.Quote != "") != (r.State == "issued") || r.Quote != "" &&
			!json.Valid([]byte(r.Quote)) {
			p.Errorf("the record %s is torn: %+v", r.ID, r)
		}
	}
	for _, h := range heard {
		// remarks only grow, so that what is there begins with all that was
		missing := !strings.HasPrefix(remarks[h.Deal], h.Remarks)
		switch {
		case h.What == "typed":
			edits++
			if missing && killed.Sub(h.at) > time.Second {
				p.Errorf("typed %v before the kill and not there: %q, there is %q", killed.Sub(h.at), h.Remarks,
					remarks[h.Deal])
			} else if missing {
				lost++
			}
		case missing:
			p.Errorf("called %s and not there: %q of %s, there is %q", h.What, h.Remarks, h.Deal, remarks[h.Deal])
		case h.What == "issued" && !issued[h.Number]:
			p.Errorf("the quotation %s was issued, and is not there", h.Number)
		}
	}
	return edits, lost
}
