//go:build !js

package brief_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// BenchmarkBriefInWasm runs BenchmarkBrief as WebAssembly under node and reports its figures: the time that a page
// takes for a whole brief, without drawing it.
func BenchmarkBriefInWasm(b *testing.B) {
	if _, err := exec.LookPath("node"); err != nil {
		b.Skip("no node to run WebAssembly in: ", err)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		b.Skip("no Go to compile with: ", err)
	}
	runner := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "go_js_wasm_exec")
	cmd := exec.Command("go", "test", "-exec", runner, "-run", "^$", "-bench", "^BenchmarkBrief$", "-benchtime", "3x",
		".")
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
