//go:build !js

package engine_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// BenchmarkAnswerInWasm runs BenchmarkAnswer of the buyer's desk as WebAssembly under node and reports its figures, so
// that one run shows both: the time of one Answer natively, and in the form that the page runs.
func BenchmarkAnswerInWasm(b *testing.B) { benchmarkInWasm(b, "^BenchmarkAnswer$/^buyer$", "300x") }

// BenchmarkEffectsInWasm does the same for the verdicts and effects of all options.
func BenchmarkEffectsInWasm(b *testing.B) { benchmarkInWasm(b, "^BenchmarkEffects$", "20x") }

// BenchmarkGrowthInWasm does the same for the books that are made in WebAssembly in reasonable time.
func BenchmarkGrowthInWasm(b *testing.B) { benchmarkInWasm(b, "^BenchmarkGrowth$/^(1|10)$", "5x") }

func benchmarkInWasm(b *testing.B, pattern, times string) {
	if _, err := exec.LookPath("node"); err != nil {
		b.Skip("no node to run WebAssembly in: ", err)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		b.Skip("no Go to compile with: ", err)
	}
	runner := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "go_js_wasm_exec")
	cmd := exec.Command("go", "test", "-exec", runner, "-run", "^$", "-bench", pattern, "-benchtime", times, ".")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := cmd.CombinedOutput()
	if err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	lines := regexp.MustCompile(`Benchmark\w+/(\S+?)(?:-\d+)?\s+\d+\s+(\d+(?:\.\d+)?) ns/op`).FindAllStringSubmatch(string(out), -1)
	if len(lines) == 0 {
		b.Fatalf("no figures in\n%s", out)
	}
	for _, l := range lines {
		b.Run(l[1], func(b *testing.B) {
			ns, err := strconv.ParseFloat(l[2], 64)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportMetric(0, "ns/op") // the time of this process says nothing
			b.ReportMetric(ns, "wasm-ns/op")
		})
	}
}
