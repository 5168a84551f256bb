package main

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// benchScript runs the engine under node as the worker does: it seats the desk and chooses two banks in turn, so many
// times.
const benchScript = `
const fs = require("fs");
const [shim, engine, pack, times] = process.argv.slice(2);
require(shim);
(async () => {
  const go = new Go();
  const { instance } = await WebAssembly.instantiate(fs.readFileSync(engine), go.importObject);
  void go.run(instance);
  const say = (message) => {
    const reply = JSON.parse(ribbandEngine(message));
    if (reply.error) throw new Error(reply.error);
    return reply;
  };
  say(new Uint8Array(fs.readFileSync(pack)));
  const act = (request) => say(JSON.stringify({ v: 1, id: 1, ...request }));
  act({ act: "hull", value: "reed-65" });
  const choose = (i) => act({ act: "choose", option: i % 2 ? "bank-lfp-15" : "bank-lfp-20" });
  for (let i = 0; i < 4; i++) choose(i);
  const start = performance.now();
  for (let i = 0; i < Number(times); i++) choose(i);
  console.log(performance.now() - start);
  process.exit(0);
})().catch((fault) => { console.error(fault); process.exit(1); });
`

// BenchmarkWasm is the time of one answer of the compiled engine to the choice of an option: verdicts on every option,
// prices, and the HTML that changed.
func BenchmarkWasm(b *testing.B) {
	node, err := exec.LookPath("node")
	if err != nil {
		b.Skip("no node to run the engine in: ", err)
	}
	s := siteOf(b)
	dir := b.TempDir()
	goroot, err := goEnv(b.Context(), "GOROOT")
	if err != nil {
		b.Fatal(err)
	}
	script := write(b, filepath.Join(dir, "bench.js"), benchScript)
	for _, desk := range []string{"buyer", "show", "yard"} {
		engine := write(b, filepath.Join(dir, "engine.wasm"), string(inflated(b, s.asset(b, "engine-"))))
		pack := write(b, filepath.Join(dir, desk+".json"), string(inflated(b, s.asset(b, desk+"-"))))
		b.Run(desk, func(b *testing.B) {
			const answers = 20 // for each start of node
			out, err := exec.CommandContext(b.Context(), node, script,
				filepath.Join(goroot, "lib", "wasm", "wasm_exec.js"), engine, pack,
				fmt.Sprint(answers*b.N)).CombinedOutput()
			if err != nil {
				b.Fatalf("%v: %s", err, out)
			}
			ms, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportMetric(ms/float64(answers*b.N), "ms/answer")
			b.ReportMetric(0, "ns/op") // that would count the start of node
		})
	}
}

// asset finds a file by the beginning of its name.
func (s site) asset(t testing.TB, name string) []byte {
	t.Helper()
	for path, text := range s {
		if strings.HasPrefix(path, "assets/"+name) {
			return text
		}
	}
	t.Fatalf("there is no asset %s…", name)
	return nil
}
