package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"flag"
	"fmt"
	"net/http"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"ribband/core/book/source"
	"ribband/core/pack"

	"github.com/chromedp/chromedp"
)

// probe measures what the page's worker is asked and answers, and walks through choices.
//
//go:embed testdata/probe.js
var probe []byte

var siteToMeasure = flag.String("site", "", "a folder with a published site, to be measured in place of this tree's")

// change is one choice of an open option: the milliseconds of each part, and of all until nothing is left to do.
type change struct {
	Took      map[string]float64 `json:"took"` // within the engine, until the first reply
	Reply     float64            `json:"reply"`
	Patch     float64            `json:"patch"`
	All       float64            `json:"all"`
	Fragments int                `json:"fragments"` // in the first reply
	Rest      int                `json:"rest"`      // in those after it
	Why       bool               `json:"why"`       // no choice, but a press on "why not"
}

// BenchmarkChange walks through 15 open choices on every hull, drawn by a fixed sequence, in a page of Chromium. It
// gives the median and the 95th percentile of the milliseconds of each part of a click; after each choice also of an
// option that cannot be had, drawn likewise, until its reason and the ways out are on the page.
func BenchmarkChange(b *testing.B) {
	fullBrowser.need(b)
	var served http.Handler = siteOf(b)
	if *siteToMeasure != "" {
		served = http.FileServerFS(os.DirFS(*siteToMeasure))
	}
	server := serveHandler(b, probed(served))
	book, _, err := source.Read(os.DirFS(rulesFolder))
	if err != nil {
		b.Fatal(err)
	}
	for desk, path := range map[pack.Desk]string{pack.Buyer: "", pack.Show: "show.html", pack.Yard: "yard.html"} {
		b.Run(string(desk), func(b *testing.B) {
			var all []change
			for walk := range b.N {
				for _, hull := range book.Hulls {
					p := newTab(b)
					p.open(server.URL + "/" + path)
					p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf("probe.walk(%q, %d, 15)", hull.ID.Value, walk+1)))
					for !of[bool](p, `probe.walked !== ""`) {
						time.Sleep(100 * time.Millisecond)
					}
					var list []change
					if err := json.Unmarshal([]byte(of[string](p, "probe.walked")), &list); err != nil {
						b.Fatal(err)
					}
					all = append(all, list...)
				}
			}
			report(b, all)
		})
	}
}

func report(b *testing.B, all []change) {
	series := map[string][]float64{}
	changes := 0
	for _, c := range all {
		if c.Why {
			series["why"] = append(series["why"], c.Reply+c.Patch)
			continue
		}
		changes++
		engine := 0.0
		for part, ms := range c.Took {
			series[part] = append(series[part], ms)
			engine += ms
		}
		series["engine"] = append(series["engine"], engine)
		series["reply"] = append(series["reply"], c.Reply)
		series["patch"] = append(series["patch"], c.Patch)
		series["all"] = append(series["all"], c.All)
		series["fragments"] = append(series["fragments"], float64(c.Fragments))
		series["rest"] = append(series["rest"], float64(c.Rest))
	}
	for part, list := range series {
		slices.Sort(list)
		b.ReportMetric(list[len(list)/2], part+"-median")
		b.ReportMetric(list[(len(list)*95)/100], part+"-p95")
	}
	b.ReportMetric(float64(changes)/float64(b.N), "changes")
	b.ReportMetric(0, "ns/op") // that would count the start of the page
}

// probed puts the probe before the page's own script.
func probed(site http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/probe.js" {
			w.Header().Set("Content-Type", "text/javascript")
			_, _ = w.Write(probe)
			return
		}
		if r.URL.Path != "/" && !strings.HasSuffix(r.URL.Path, ".html") {
			site.ServeHTTP(w, r)
			return
		}
		r.Header.Del("Accept-Encoding")
		page := &kept{header: http.Header{}}
		site.ServeHTTP(page, r)
		page.header.Del("Content-Length")
		for name, values := range page.header {
			w.Header()[name] = values
		}
		text := bytes.Replace(page.body.Bytes(), []byte("<head>"), []byte(`<head><script src="probe.js"></script>`), 1)
		_, _ = w.Write(text)
	})
}

// kept is a response to be changed.
type kept struct {
	header http.Header
	body   bytes.Buffer
}

func (k *kept) Header() http.Header            { return k.header }
func (k *kept) Write(text []byte) (int, error) { return k.body.Write(text) }
func (k *kept) WriteHeader(int)                {}
