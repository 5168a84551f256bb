package main

import (
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// The line and the device of a first visit: a slow mobile line, and a processor that runs a quarter of the time.
const (
	lineRate    = 1_600_000 / 8 // bytes in a second
	lineLatency = 150 * time.Millisecond
	slowdown    = 4
)

// line is a listener whose connections share a slow line. What is asked takes a round trip, the first time another one
// for the connection; what is answered takes its turn with all else that is on the line.
type line struct {
	net.Listener
	mu   sync.Mutex
	free time.Time // when the line has sent what it was given
	sent atomic.Int64
}

func (l *line) Accept() (net.Conn, error) {
	c, err := l.Listener.Accept()
	if err != nil {
		return nil, err
	}
	return &slowConn{Conn: c, line: l, opened: time.Now()}, nil
}

type slowConn struct {
	net.Conn
	*line
	opened time.Time
	asked  bool
}

func (c *slowConn) Read(b []byte) (int, error) {
	n, err := c.Conn.Read(b)
	if n > 0 {
		wait := lineLatency
		if !c.asked { // the handshake of TCP
			c.asked, wait = true, 2*lineLatency
		}
		time.Sleep(wait)
	}
	return n, err
}

// Write sends in packets of an Ethernet frame's size, so that connections take turns.
func (c *slowConn) Write(b []byte) (int, error) {
	const packet = 1460
	done := 0
	for done < len(b) {
		n := min(packet, len(b)-done)
		c.mu.Lock()
		now := time.Now()
		if c.free.Before(now) {
			c.free = now
		}
		c.free = c.free.Add(time.Duration(n) * time.Second / lineRate)
		wait := c.free.Sub(now)
		c.mu.Unlock()
		time.Sleep(wait)
		m, err := c.Conn.Write(b[done : done+n])
		c.sent.Add(int64(m))
		done += m
		if err != nil {
			return done, err
		}
	}
	return done, nil
}

// asHost serves a site as most hosts do: texts as gzip.
func asHost(s site) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		rec := httptest.NewRecorder()
		s.ServeHTTP(rec, r)
		body := rec.Body.Bytes()
		for k, v := range rec.Header() {
			w.Header()[k] = v
		}
		kind := w.Header().Get("Content-Type")
		if strings.HasPrefix(kind, "text/") || strings.Contains(kind, "json") {
			body = compress(body)
			w.Header().Set("Content-Encoding", "gzip")
		}
		w.Header().Set("Content-Length", strconv.Itoa(len(body)))
		w.WriteHeader(rec.Code)
		_, _ = w.Write(body)
	})
}

// slowed lets the pages of this test's browser run a part of the time only, with their workers, until it is stopped.
func slowed(b *testing.B) (stop func()) {
	b.Helper()
	done := make(chan struct{})
	var wait sync.WaitGroup
	wait.Go(func() {
		const turn = 4 * time.Millisecond
		var pages []int
		for i := 0; ; i++ {
			if i%50 == 0 {
				pages = renderers()
			}
			for _, pid := range pages {
				_ = syscall.Kill(pid, syscall.SIGSTOP)
			}
			time.Sleep(turn * (slowdown - 1))
			for _, pid := range pages {
				_ = syscall.Kill(pid, syscall.SIGCONT)
			}
			select {
			case <-done:
				return
			case <-time.After(turn):
			}
		}
	})
	return func() { close(done); wait.Wait() }
}

// renderers are the processes in which the pages of this test's browser run.
func renderers() (pids []int) {
	parents := map[int]int{}
	kinds := map[int]string{}
	files, _ := filepath.Glob("/proc/[0-9]*/stat")
	for _, f := range files {
		pid, _ := strconv.Atoi(filepath.Base(filepath.Dir(f)))
		text, err := os.ReadFile(f)
		if err != nil {
			continue
		}
		rest := strings.Fields(string(text[strings.LastIndexByte(string(text), ')')+1:]))
		parents[pid], _ = strconv.Atoi(rest[1])
		words, _ := os.ReadFile(filepath.Join(filepath.Dir(f), "cmdline"))
		kinds[pid] = string(words)
	}
	for pid, words := range kinds {
		if !strings.Contains(words, "--type=renderer") {
			continue
		}
		for at := pid; at > 1; at = parents[at] {
			if at == os.Getpid() {
				pids = append(pids, pid)
			}
		}
	}
	return pids
}

// visitScript notes what a visit is measured by, before anything of the page runs.
const visitScript = `
window.shift = 0; window.painted = 0;
new PerformanceObserver((list) => { for (const e of list.getEntries()) window.shift += e.value; })
  .observe({ type: "layout-shift", buffered: true });
new PerformanceObserver((list) => { for (const e of list.getEntries())
  if (e.name === "first-contentful-paint") window.painted = e.startTime; }).observe({ type: "paint", buffered: true });
new MutationObserver(() => {
  if (document.documentElement?.dataset.answered && !window.answeredAt) window.answeredAt = performance.now();
}).observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ["data-answered"] });
`

// BenchmarkFirstVisit prints what a first visit on a slow line comes to, and a return. The readme has the table.
func BenchmarkFirstVisit(b *testing.B) {
	s := packedSite(b)
	for name, text := range s {
		if strings.HasSuffix(name, ".rwp") {
			noted(b, "engine, bytes", float64(len(text)), mostOfEngine)
		}
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		b.Fatal(err)
	}
	slow := &line{Listener: listener}
	server := httptest.NewUnstartedServer(asHost(s))
	server.Listener.Close()
	server.Listener = slow
	server.Start()
	b.Cleanup(server.Close)
	fullBrowser.need(b)
	for b.Loop() {
		measureVisits(b, server.URL, slow)
	}
}

func measureVisits(b *testing.B, address string, slow *line) {
	stop := slowed(b)
	defer stop()
	open := func(p *tab) {
		if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument,
			page.AddScriptToEvaluateOnNewDocumentParams{Source: visitScript}); err != nil {
			b.Fatal(err)
		}
		p.do(chromedp.Navigate(address + "/"))
	}
	slow.sent.Store(0)
	p := newTab(b)
	open(p)
	eventuallyIn(p, time.Minute, "Boolean("+answerMark+")")
	noted(b, "first load, bytes on the line", float64(slow.sent.Load()), mostInAll)
	noted(b, "readable, ms", of[float64](p,
		`Math.max(painted, performance.getEntriesByType("navigation")[0].domInteractive)`), 1500)
	noted(b, "first answer of the engine, ms", of[float64](p, answerMark+".startTime"), 9000)
	eventuallyIn(p, time.Minute, "Boolean(window.answeredAt)")
	noted(b, "all of the page up to date, ms", of[float64](p, "answeredAt"), 0)
	eventuallyIn(p, 2*time.Minute, `Boolean(document.getElementById("kept")?.dataset.kept)`)
	noted(b, "layout shift", of[float64](p, "shift"), mostOfShift)

	back := p.second()
	open(back)
	eventuallyIn(back, time.Minute, "Boolean(window.answeredAt)")
	noted(b, "first answer on return, ms", of[float64](back, answerMark+".startTime"), 1500)

	q := newTab(b)
	open(q)
	eventuallyIn(q, time.Minute, "performance.now() > 1500")
	took := of[float64](q, `new Promise((done) => {
		if (window.answeredAt) return done(-1);
		const was = document.getElementById("total").textContent, from = performance.now();
		document.getElementById("hull-reed-65").click();
		requestAnimationFrame(() => setTimeout(() =>
			done(document.getElementById("total").textContent === was ? -2 : performance.now() - from)));
	})`)
	noted(b, "a hull touched before the engine, ms", took, 100)
	early := q.total()
	narrow := newTab(b)
	narrow.do(chromedp.EmulateViewport(390, 844))
	open(narrow)
	eventuallyIn(narrow, time.Minute, "Boolean(window.answeredAt)")
	noted(b, "layout shift on a telephone", of[float64](narrow, "shift"), mostOfShift)
	eventuallyIn(q, time.Minute, "Boolean(window.answeredAt)")
	if got := q.total(); took < 0 || got != early {
		b.Errorf("a hull touched early took %v ms and showed %s; the engine says %s", took, early, got)
	}
}

// mostOfShift is how much of the page may move under a reader's eyes, as browsers count it (Layout Instability API of
// the WICG; "good" is 0.1 by common practice).
const mostOfShift = 0.02

// answerMark is when the engine's first answer was in place.
const answerMark = `performance.getEntriesByName("answered")[0]`

// noted prints a line of the table: what was measured, its goal or none, and whether it is missed.
func noted(b *testing.B, what string, got, goal float64) {
	b.Helper()
	text, missed := "", ""
	if goal > 0 {
		text = strconv.FormatFloat(goal, 'f', -1, 64)
	}
	if goal > 0 && got > goal {
		missed = " missed"
	}
	fmt.Printf("| %-36s | %9s | %9s |%s\n", what, strconv.FormatFloat(got, 'f', decimals(got), 64), text, missed)
}

// decimals are those that a figure is worth.
func decimals(v float64) int {
	if v < 1 {
		return 4
	}
	return 0
}
