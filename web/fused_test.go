package main

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"testing"
)

var fused = flag.Bool("fused", false, "compile the core for processors that multiply and add at once, to find where")

// Where a processor can, the compiler makes of a product and a sum one instruction that rounds once. The last digit is
// then another than on other processors, and a length that lies half-way between two millimetres is rounded the other
// way. An explicit conversion forbids it (The Go Programming Language Specification, "Floating-point operators"), also
// across statements and calls that are inlined, and so do all products, halves and quotients by a power of two that
// stand in a sum. Here the compiler itself says where one is missing.
//
// What differs even so is the mathematical library, which the processors compute by other ways: what comes of a sine
// or a power is rounded before it is written (core/paper/steady.go, engine.In).
func TestNoFusedArithmetic(t *testing.T) {
	if !*fused {
		t.Skip("compiles the core twice; asked for by -fused")
	}
	place := regexp.MustCompile(`\(([^()]*\.go:\d+)\).*\bV?FN?M(?:ADD|SUB)\d*S?[DS]\b`)
	for _, env := range []string{"GOARCH=arm64", "GOAMD64=v3"} {
		// the go command keeps what the compiler printed with what it built
		build := exec.Command("go", "build", "-gcflags=-S", "./core/...")
		build.Dir, build.Env = "..", append(os.Environ(), env)
		text, err := build.CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v\n%.2000s", env, err, text)
		}
		if !bytes.Contains(text, []byte("TEXT")) {
			t.Fatalf("%s: the compiler printed no instructions", env)
		}
		var places []string
		for line := range bytes.Lines(text) { // hundreds of megabytes, of which few are worth a second look
			if bytes.Contains(line, []byte("MADD")) || bytes.Contains(line, []byte("MSUB")) {
				if m := place.FindSubmatch(line); m != nil {
					places = append(places, string(m[1]))
				}
			}
		}
		slices.Sort(places)
		for _, p := range slices.Compact(places) {
			t.Errorf("%s: a product and a sum are one at %s; convert the product: float64(a*b)", env, p)
		}
	}
}
