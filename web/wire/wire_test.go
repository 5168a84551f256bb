package wire

import (
	"bytes"
	"context"
	cryptosha "crypto/sha256"
	htmltemplate "html/template"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/evanw/esbuild/pkg/api"
	"pgregory.net/rapid"

	"ribband/web/wire/cuts/sha256"
	"ribband/web/wire/cuts/template"
)

const root = "../.."

// sample is a program of some size with what the engine has: texts, sums, sorts, maps, panics that are caught, and
// collections of garbage on deep stacks.
const sample = "./web/wire/testdata/sample"

// build compiles the sample for the page, with an overlay or "".
func build(t *testing.T, overlay string) []byte {
	t.Helper()
	out := filepath.Join(t.TempDir(), "sample.wasm")
	args := []string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", out}
	if overlay != "" {
		args = append(args, "-overlay="+overlay)
	}
	cmd := exec.CommandContext(t.Context(), "go", append(args, sample)...)
	cmd.Dir, cmd.Env = root, append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	file, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

func goEnv(t *testing.T, name string) string {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), "go", "env", name).Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(string(out))
}

func needNode(t *testing.T) string {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node to run a module in: ", err)
	}
	return node
}

// says runs a module under node, as Go's own tests do, with a collection of garbage at every chance.
func says(t *testing.T, module []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "module.wasm")
	if err := os.WriteFile(file, module, 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), needNode(t), "--stack-size=8192",
		filepath.Join(goEnv(t, "GOROOT"), "lib", "wasm", "wasm_exec_node.js"), file)
	cmd.Env = append(os.Environ(), "GOGC=1")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return string(out)
}

// What is made small runs as before: the same program says the same, also where stacks are searched and panics caught.
func TestSlimRunsTheSame(t *testing.T) {
	version := goEnv(t, "GOVERSION")
	if !Known(version) {
		t.Skip("the tables of ", version, " are not known")
	}
	plain := build(t, "")
	want := says(t, plain)
	if len(want) < 100 {
		t.Fatalf("the sample says %q", want)
	}
	overlay, err := Overlay(context.Background(), root, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	slim, err := Slim(build(t, overlay), version)
	if err != nil {
		t.Fatal(err)
	}
	if got := says(t, slim); got != want {
		t.Errorf("made small it says %q, want %q", got, want)
	}
	if len(slim) >= len(plain) {
		t.Errorf("it has %d bytes, before %d", len(slim), len(plain))
	}
	t.Run("and comes back from the line", func(t *testing.T) {
		packed, err := Pack(slim)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("plain %d, slim %d, packed %d bytes", len(plain), len(slim), len(packed))
		if got := unpacked(t, packed); !bytes.Equal(got, slim) {
			t.Errorf("the page reads %d bytes, other than the %d that were packed", len(got), len(slim))
		}
	})
}

// unpackScript reads a packed module as the page's worker does, in pieces as they come.
const unpackScript = `
import { Line, unpack } from "./unpack";
declare const require: (name: string) => any;
declare const process: any;
const fs = require("fs");
const [from, to] = process.argv.slice(2);
const packed = new Uint8Array(fs.readFileSync(from));
let at = 0;
const stream = new ReadableStream<Uint8Array>({
  pull(c) {
    if (at < packed.length) c.enqueue(packed.slice(at, (at += 10_007)));
    else c.close();
  },
});
void unpack(new Line(stream.getReader(), () => undefined)).then((out) => fs.writeFileSync(to, out));
`

// unpacked is what the page's own script reads.
func unpacked(t *testing.T, packed []byte) []byte {
	t.Helper()
	page, err := filepath.Abs("../page")
	if err != nil {
		t.Fatal(err)
	}
	result := api.Build(api.BuildOptions{Stdin: &api.StdinOptions{Contents: unpackScript, ResolveDir: page,
		Loader: api.LoaderTS}, Bundle: true, Platform: api.PlatformNode, Target: api.ES2022})
	if len(result.Errors) > 0 {
		t.Fatal(result.Errors)
	}
	dir := t.TempDir()
	script, from, to := filepath.Join(dir, "s.js"), filepath.Join(dir, "from"), filepath.Join(dir, "to")
	for file, text := range map[string][]byte{script: result.OutputFiles[0].Contents, from: packed} {
		if err := os.WriteFile(file, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if out, err := exec.CommandContext(t.Context(), needNode(t), script, from, to).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	out, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A Go whose tables are not known, and a file that is no module of Go, are refused with what is wrong.
func TestSlimRefuses(t *testing.T) {
	empty := join([]section{{dataSection, dataBody(nil)}})
	for _, c := range []struct {
		file          []byte
		version, want string
	}{
		{empty, "go1.27.1", "comes from go1.27.1"},
		{empty, KnownGo + ".8", "tables of its functions"},
		{[]byte("GIF89a"), KnownGo, "no WebAssembly module"},
		{append(bytes.Clone(header), codeSection, 0x7f), KnownGo, "ends within"},
		{join([]section{{codeSection, []byte{1, 2, 0, opCall}}}), KnownGo, "ends within"},
	} {
		if _, err := Slim(c.file, c.version); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Slim(%q, %s): %v, want one with %q", c.file, c.version, err, c.want)
		}
	}
}

// Numbers are read as they were written, and segments give the memory that they were cut from.
func TestNumbersAndSegments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u, i := rapid.IntRange(0, 1<<40).Draw(t, "u"), rapid.Int64().Draw(t, "i")
		r := reader{b: appendInt(appendUint(nil, u), i)}
		if gotU, gotI := r.uint(), r.int(); gotU != u || gotI != i || r.err != nil || r.at != len(r.b) {
			t.Fatalf("%d and %d come back as %d and %d, %v", u, i, gotU, gotI, r.err)
		}
		var m []byte
		for range rapid.IntRange(1, 5).Draw(t, "stretches") {
			m = append(m, make([]byte, rapid.IntRange(0, 2*gap).Draw(t, "zeros"))...)
			m = append(m, rapid.SliceOfN(rapid.Byte(), 1, 40).Draw(t, "bytes")...)
		}
		list, err := segments(dataBody(segmented(m)))
		if err != nil {
			t.Fatal(err)
		}
		back, err := memory(list)
		if err != nil || !bytes.Equal(bytes.TrimRight(back, "\x00"), bytes.TrimRight(m, "\x00")) {
			t.Fatalf("memory comes back otherwise; %v", err)
		}
	})
}

// What stands in the engine for a package of Go gives what that gives.
func TestStandInsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SliceOf(rapid.Byte()).Draw(t, "text")
		if got, want := sha256.Sum256(text), cryptosha.Sum256(text); got != want {
			t.Fatalf("the digest of %q is %x, want %x", text, got, want)
		}
		s := rapid.StringOf(rapid.RuneFrom([]rune("\x00\"'&<>aé\U0001f6a4;#"))).Draw(t, "s")
		if got, want := template.HTMLEscapeString(s), htmltemplate.HTMLEscapeString(s); got != want {
			t.Fatalf("%q is escaped as %q, want %q", s, got, want)
		}
	})
}
