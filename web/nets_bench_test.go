package main

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// netsWorker runs testdata/nets in a worker; netsPage starts it and keeps what it says.
const (
	netsWorker = `
importScripts("wasm_exec.js");
onmessage = async (event) => {
  try {
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(fetch("nets.wasm"), go.importObject);
    void go.run(instance);
    const pack = new Uint8Array(await (await fetch("pack.json")).arrayBuffer());
    postMessage(nets(pack, event.data));
  } catch (fault) {
    postMessage("error: " + fault);
  }
};`
	netsPage = `<!doctype html><title>Net effects</title><link rel="icon" href="data:,"><script>
window.said = "";
const worker = new Worker("worker.js");
worker.onmessage = (event) => { window.said = event.data; };
worker.postMessage(Number(new URLSearchParams(location.search).get("rounds")));
</script>`
)

// BenchmarkEffects is the time of verdicts and effects of all options of the demo book on the standard build of each
// hull, in a worker of Chromium, on the buyer's and the yard's desk. The program is built as the engine of the page is.
func BenchmarkEffects(b *testing.B) {
	needBrowser(b)
	goroot, err := goEnv(b.Context(), "GOROOT")
	if err != nil {
		b.Fatal(err)
	}
	shim, err := os.ReadFile(filepath.Join(goroot, "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		b.Fatal(err)
	}
	engine, err := buildWasm(b.Context(), "..", "./web/testdata/nets")
	if err != nil {
		b.Fatal(err)
	}
	s := siteOf(b)
	for _, desk := range []string{"buyer", "yard"} {
		mux := http.NewServeMux()
		give := func(path, kind string, text []byte) {
			mux.HandleFunc(path, func(w http.ResponseWriter, _ *http.Request) {
				w.Header().Set("Content-Type", kind)
				_, _ = w.Write(text)
			})
		}
		give("/", "text/html", []byte(netsPage))
		give("/worker.js", "text/javascript", []byte(netsWorker))
		give("/wasm_exec.js", "text/javascript", shim)
		give("/nets.wasm", "application/wasm", engine)
		give("/pack.json", "application/json", inflated(b, s.asset(b, desk+"-")))
		b.Run(desk, func(b *testing.B) {
			rounds := 20 * b.N
			for hull, ms := range netsIn(b, serveHandler(b, mux).URL, rounds) {
				b.ReportMetric(ms/float64(rounds), hull+"-ms")
			}
			b.ReportMetric(0, "ns/op") // that would count the start of the page
		})
	}
}

// netsIn gives the milliseconds of all rounds by hull.
func netsIn(b *testing.B, url string, rounds int) map[string]float64 {
	p := newTab(b)
	if _, err := chromedp.Run(p.ctx, chromedp.Navigate(fmt.Sprint(url, "/?rounds=", rounds))); err != nil {
		b.Fatal(err)
	}
	said := ""
	for said == "" {
		time.Sleep(50 * time.Millisecond)
		var err error
		if said, err = chromedp.Run(p.ctx, chromedp.Evaluate[string](`window.said`)); err != nil {
			b.Fatal(err)
		}
	}
	out := map[string]float64{}
	for line := range strings.Lines(said) {
		hull, number, _ := strings.Cut(strings.TrimSpace(line), " ")
		ms, err := strconv.ParseFloat(number, 64)
		if err != nil {
			b.Fatalf("the worker says %q", said)
		}
		out[hull] = ms
	}
	return out
}
