package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
)

// site is the published files by their path.
type site map[string][]byte

// add puts a file under assets with a digest in its name, so that it never changes, and gives its path.
func (s site) add(name string, text []byte) string {
	sum := sha256.Sum256(text)
	base, ext, _ := strings.Cut(name, ".")
	path := fmt.Sprintf("assets/%s-%s.%s", base, hex.EncodeToString(sum[:6]), ext)
	s[path] = text
	return path
}

// pageNames are the file names of the desks.
var pageNames = map[pack.Desk]string{pack.Buyer: "index.html", pack.Show: "show.html", pack.Yard: "yard.html"}

// buildSite assembles the static site for some desks. Nothing in it depends on where or when it is built.
func buildSite(ctx context.Context, c *console, packs publish.Packs, desks []pack.Desk) (site, error) {
	root, err := moduleRoot(ctx)
	if err != nil {
		return nil, err
	}
	c.progress("Building the engine …")
	wasm, err := buildEngine(ctx, root)
	if err != nil {
		return nil, err
	}
	s := site{}
	engine := s.add("engine.wasm.gz", compress(wasm))
	c.progress("Building the page …")
	goroot, err := goEnv(ctx, "GOROOT")
	if err != nil {
		return nil, err
	}
	assets, err := bundle(root, goroot)
	if err != nil {
		return nil, err
	}
	for _, d := range desks {
		text, err := packs[d].Encode()
		if err != nil {
			return nil, fmt.Errorf("building the site: %w", err)
		}
		page, err := renderPage(packs[d], pageParts{Desk: d, Engine: engine,
			Pack:   s.add(string(d)+".json.gz", compress(text)),
			Worker: s.add("worker.js", assets["worker.js"]), Script: s.add("app.js", assets["app.js"]),
			Style: s.add("style.css", assets["style.css"])})
		if err != nil {
			return nil, err
		}
		s[pageNames[d]] = page
	}
	if err := addSchemas(s); err != nil {
		return nil, err
	}
	return s, addServiceWorker(s, assets["sw.js"])
}

// addServiceWorker writes in what the service worker keeps.
func addServiceWorker(s site, script []byte) error {
	files := []string{"./"}
	hash := sha256.New()
	for _, path := range s.paths() {
		fmt.Fprintf(hash, "%s %x\n", path, sha256.Sum256(s[path]))
		if !strings.HasPrefix(path, "schema/") {
			files = append(files, path)
		}
	}
	list, err := json.Marshal(map[string]any{"version": hex.EncodeToString(hash.Sum(nil)[:8]), "files": files})
	if err != nil {
		return fmt.Errorf("building the site: %w", err)
	}
	s["sw.js"] = append([]byte("const SITE = "+string(list)+";\n"), script...)
	return nil
}

func (s site) paths() []string {
	paths := make([]string, 0, len(s))
	for p := range s {
		paths = append(paths, p)
	}
	sort.Strings(paths)
	return paths
}

// compress makes gzip without name or time, so that equal input gives equal bytes.
func compress(text []byte) []byte {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // the level is valid
	_, _ = w.Write(text)                                  // a bytes.Buffer never fails
	_ = w.Close()
	return b.Bytes()
}

// moduleRoot is the folder of this module: the page and the engine are built from its sources.
func moduleRoot(ctx context.Context) (string, error) {
	out, err := exec.CommandContext(ctx, "go", "list", "-m", "-f", "{{.Path}} {{.Dir}}").Output()
	path, dir, _ := strings.Cut(strings.TrimSpace(string(out)), " ")
	if err != nil || path != "ribband" {
		return "",
			errors.New("finding the sources: run this inside the ribband module, where Go is installed: go run " +
				"./web")
	}
	return dir, nil
}

func goEnv(ctx context.Context, name string) (string, error) {
	out, err := exec.CommandContext(ctx, "go", "env", name).Output()
	if err != nil {
		return "", fmt.Errorf("asking Go for %s: %w", name, err)
	}
	return strings.TrimSpace(string(out)), nil
}

// hot are the packages that keep inlining: it makes the engine faster where it counts, and larger everywhere else.
var hot = []string{"runtime", "internal/runtime/...", "math/big", "sort", "ribband/core/formula",
	"ribband/core/figures", "ribband/core/fit", "ribband/core/price",
	"ribband/core/cost", "ribband/core/hull", "ribband/core/bank", "ribband/core/money", "ribband/core/measure",
	"github.com/shopspring/decimal"}

func buildEngine(ctx context.Context, root string) ([]byte, error) {
	return buildWasm(ctx, root, "./wasm")
}

// buildWasm compiles a command as the engine is compiled.
func buildWasm(ctx context.Context, root, command string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "ribband-engine-")
	if err != nil {
		return nil, fmt.Errorf("building the engine: %w", err)
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "engine.wasm")
	args := []string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-gcflags=all=-l"}
	for _, p := range hot { // the last match wins
		args = append(args, "-gcflags="+p+"=")
	}
	cmd := exec.CommandContext(ctx, "go", append(args, "-o", out, command)...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if text, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("building the engine: %w\n%s", err, text)
	}
	return os.ReadFile(out)
}

// bundle makes the page's scripts and style.
func bundle(root, goroot string) (map[string][]byte, error) {
	dir := filepath.Join(root, "web", "page")
	result := api.Build(api.BuildOptions{
		EntryPoints:       []string{"app.ts", "worker.ts", "sw.ts", "style.css"},
		AbsWorkingDir:     dir,
		Outdir:            dir,
		Bundle:            true,
		Write:             false,
		Format:            api.FormatIIFE,
		Target:            api.ES2022,
		MinifyWhitespace:  true,
		MinifySyntax:      true,
		MinifyIdentifiers: true,
		LegalComments:     api.LegalCommentsNone,
		Alias:             map[string]string{"go-wasm-exec": filepath.Join(goroot, "lib", "wasm", "wasm_exec.js")},
	})
	if len(result.Errors) > 0 {
		return nil, fmt.Errorf("building the page:\n%s",
			strings.Join(api.FormatMessages(result.Errors, api.FormatMessagesOptions{}), ""))
	}
	assets := map[string][]byte{}
	for _, f := range result.OutputFiles {
		assets[filepath.Base(f.Path)] = f.Contents
	}
	return assets, nil
}

// pageParts is what the page's frame names.
type pageParts struct {
	Desk                                pack.Desk
	Lang, Title                         string // of the document, in the words of the desk's language
	Engine, Pack, Worker, Script, Style string
	Body                                template.HTML
}

// The page asks nothing of any other origin, and its policy says so. Papers are shown in a frame with their own style.
var pageFrame = template.Must(template.New("page").Parse(`<!doctype html>
<html lang="{{.Lang}}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'none'">
<title>{{.Title}}</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="{{.Style}}">
<script defer src="{{.Script}}"></script>
</head>
<body data-desk="{{.Desk}}" data-engine="{{.Engine}}" data-pack="{{.Pack}}" data-worker="{{.Worker}}">
{{.Body}}
</body>
</html>
`))

// renderPage renders a desk's first screen, so that it is there before the engine.
func renderPage(p *pack.Pack, parts pageParts) ([]byte, error) {
	e, err := engine.Compile(p)
	if err != nil {
		return nil, fmt.Errorf("rendering the page: %w", err)
	}
	d, err := desk.New(e)
	if err != nil {
		return nil, fmt.Errorf("rendering the page: %w", err)
	}
	parts.Lang, parts.Title = d.View().Tag(), d.View().Title()
	parts.Body = template.HTML(d.View().Page()) // rendered and escaped by core/screen
	var b bytes.Buffer
	if err := pageFrame.Execute(&b, parts); err != nil {
		return nil, fmt.Errorf("rendering the page: %w", err)
	}
	return b.Bytes(), nil
}
