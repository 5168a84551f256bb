//go:build !js

package fit_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// BenchmarkRulesInWasm runs BenchmarkRules as WebAssembly under node and reports its figures.
func BenchmarkRulesInWasm(b *testing.B) {
	if _, err := exec.LookPath("node"); err != nil {
		b.Skip("no node to run WebAssembly in: ", err)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		b.Skip("no Go to compile with: ", err)
	}
	runner := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "go_js_wasm_exec")
	cmd := exec.Command("go", "test", "-exec", runner, "-run", "^$", "-bench", "^BenchmarkRules$", "-benchtime", "100x",
		".")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := cmd.CombinedOutput()
	if err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	figures := regexp.MustCompile(`(\d+(?:\.\d+)?) (VM/\S+|\S+-ns/rule)`).FindAllStringSubmatch(string(out), -1)
	if len(figures) == 0 {
		b.Fatalf("no figures in\n%s", out)
	}
	for _, f := range figures {
		v, err := strconv.ParseFloat(f[1], 64)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(v, "wasm-"+f[2])
	}
	b.ReportMetric(0, "ns/op") // the time of this process says nothing
}
