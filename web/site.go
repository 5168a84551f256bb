package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"ribband/core/desk"
	"ribband/core/pack"
	"ribband/core/publish"
)

// site is the published files by their path.
type site map[string][]byte

// add puts a file under assets with the begin of its digest in its name, so that it never changes, and gives its path.
func (s site) add(name string, text []byte) string { return s.addAs(name, text, text) }

// addCompressed adds a file as gzip. The digest is that of the text, since some hosts inflate what they hand out.
func (s site) addCompressed(name string, text []byte) string {
	return s.addAs(name+".gz", compress(text), text)
}

func (s site) addAs(name string, stored, text []byte) string {
	base, ext, _ := strings.Cut(name, ".")
	path := fmt.Sprintf("assets/%s-%s.%s", base, digest(text)[:12], ext)
	s[path] = stored
	return path
}

// digest is SHA-256 in hexadecimal.
func digest(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// pageNames are the file names of the desks.
var pageNames = map[pack.Desk]string{pack.Buyer: "index.html", pack.Show: "show.html", pack.Yard: "yard.html"}

// program is what every edition of the site shares: the engine, and the page's scripts and style.
type program struct {
	engine, compressed []byte
	assets             map[string][]byte
}

func buildProgram(ctx context.Context, c *console) (p program, err error) {
	root, err := moduleRoot(ctx)
	if err != nil {
		return p, err
	}
	c.progress("Building the engine …")
	if p.engine, err = buildEngine(ctx, root); err != nil {
		return p, err
	}
	p.compressed = compress(p.engine)
	c.progress("Building the page …")
	goroot, err := goEnv(ctx, "GOROOT")
	if err != nil {
		return p, err
	}
	p.assets, err = bundle(root, goroot)
	return p, err
}

// buildSite assembles the static site for some desks. Nothing in it depends on where or when it is built.
func buildSite(ctx context.Context, c *console, packs publish.Packs, desks []pack.Desk) (site, error) {
	p, err := buildProgram(ctx, c)
	if err != nil {
		return nil, err
	}
	return p.site(packs, desks)
}

func (p program) site(packs publish.Packs, desks []pack.Desk) (site, error) {
	s := site{}
	engine := s.addAs("engine.wasm.gz", p.compressed, p.engine)
	var pages []builtPage
	for _, d := range desks {
		page, err := buildPage(s, packs[d], d, engine, p.assets)
		if err != nil {
			return nil, err
		}
		pages = append(pages, page)
	}
	if err := addSchemas(s); err != nil {
		return nil, err
	}
	if err := addServiceWorker(s, pages, packs[desks[0]].Edition.Name, p.assets["sw.js"]); err != nil {
		return nil, err
	}
	return s, s.list()
}

// builtPage is a desk's page in the site: its file, and the files that it needs.
type builtPage struct {
	file  string
	needs []string
}

func buildPage(s site, p *pack.Pack, d pack.Desk, engine string, assets map[string][]byte) (b builtPage, err error) {
	text, err := p.Encode()
	if err != nil {
		return b, fmt.Errorf("building the site: %w", err)
	}
	parts := pageParts{Desk: d, File: pageNames[d], Engine: engine, Pack: s.addCompressed(string(d)+".json", text),
		Worker: s.add("worker.js", assets["worker.js"]), Script: s.add("app.js", assets["app.js"]),
		Style: s.add("style.css", assets["style.css"])}
	var icons []string
	if parts.Manifest, icons, err = addInstallable(s, d, p.Yard.Name); err != nil {
		return b, err
	}
	parts.Icon = icons[0]
	s[parts.File], err = renderPage(p, parts)
	needs := append(icons, parts.Manifest, parts.Style, parts.Script, parts.Worker, parts.Pack, parts.Engine)
	return builtPage{parts.File, needs}, err
}

// editionMark stands in a page for its edition, which is known once the page is there.
const editionMark = "edition-7c1e0f8a5b2d4c69"

// addServiceWorker tells each page its edition, and writes into the service worker what it keeps: a page's edition is
// the digest of the page and of all that it needs.
func addServiceWorker(s site, pages []builtPage, edition string, script []byte) error {
	type entry struct {
		Version string   `json:"version"`
		Files   []string `json:"files"`
	}
	entries, digests := map[string]entry{}, map[string]string{}
	for _, p := range pages {
		hash := sha256.New()
		for _, file := range append(p.needs, p.file) {
			fmt.Fprintf(hash, "%s %x\n", file, sha256.Sum256(s[file]))
		}
		version := hex.EncodeToString(hash.Sum(nil)[:8])
		s[p.file] = bytes.ReplaceAll(s[p.file], []byte(editionMark), []byte(version))
		entries[p.file] = entry{version, p.needs}
		for _, file := range append(p.needs, p.file) {
			text, err := inflate(s[file])
			if err != nil {
				return fmt.Errorf("building the site: %s: %w", file, err)
			}
			digests[file] = digest(text)
		}
	}
	whole := map[string]any{"edition": edition, "pages": entries, "digests": digests}
	text, err := json.Marshal(whole)
	if err != nil {
		return fmt.Errorf("building the site: %w", err)
	}
	whole["version"] = digest(append(text, script...))[:16]
	if text, err = json.Marshal(whole); err != nil {
		return fmt.Errorf("building the site: %w", err)
	}
	s["sw.js"] = append([]byte("const SITE = "+string(text)+";\n"), script...)
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

// inflate gives the text of a file, out of gzip where it is in it.
func inflate(text []byte) ([]byte, error) {
	if !bytes.HasPrefix(text, []byte{0x1f, 0x8b}) {
		return text, nil
	}
	r, err := gzip.NewReader(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
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
	File, Title, Edition, Book          string // of the site, of the price book
	Engine, Pack, Worker, Script, Style string
	Manifest, Icon                      string
	Watch                               template.JS
	Policy                              string
	Body                                template.HTML
}

// watchFiles is the one script inside the page: it names a file of the page that did not come, also where that is the
// page's own script. The policy allows it by its digest.
const watchFiles = `addEventListener("error",function(e){` +
	`var f=e.target.src||e.target.href;if(!f)return;` +
	`function say(){var s=document.getElementById("state"),w=document.getElementById("edition").dataset.missing;` +
	`s.textContent=w.replace("{file}",new URL(f).pathname).replace(" ({reason})","");s.dataset.kind=s.dataset.missing="error"}` +
	`if(document.readyState==="loading")addEventListener("DOMContentLoaded",say);else say()},true)`

// policy asks nothing of any other origin.
var policy = func() string {
	sum := sha256.Sum256([]byte(watchFiles))
	return "default-src 'self'; script-src 'self' 'wasm-unsafe-eval' 'sha256-" +
		base64.StdEncoding.EncodeToString(sum[:]) + "'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; " +
		"object-src 'none'; base-uri 'none'; form-action 'none'"
}()

// The page asks nothing of any other origin, and its policy says so. Papers are shown in a frame with their own style.
var pageFrame = template.Must(template.New("page").Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{{.Policy}}">
<title>{{.Title}}</title>
<script>{{.Watch}}</script>
<link rel="icon" href="{{.Icon}}">
<link rel="apple-touch-icon" href="{{.Icon}}">
<link rel="manifest" href="{{.Manifest}}">
<meta name="theme-color" content="#efece2" media="(prefers-color-scheme: light)">
<link rel="stylesheet" href="{{.Style}}">
<script defer src="{{.Script}}"></script>
</head>
<body data-desk="{{.Desk}}" data-file="{{.File}}" data-edition="{{.Edition}}" data-book="{{.Book}}" data-engine="{{.Engine}}" data-pack="{{.Pack}}" data-worker="{{.Worker}}">
{{.Body}}
</body>
</html>
`))

// renderPage renders a desk's first screen, so that it is there before the engine.
func renderPage(p *pack.Pack, parts pageParts) ([]byte, error) {
	d, err := desk.New(p)
	if err != nil {
		return nil, fmt.Errorf("rendering the page: %w", err)
	}
	parts.Title, parts.Book, parts.Edition = p.Yard.Name, p.Edition.Digest, editionMark
	parts.Watch, parts.Policy = watchFiles, policy
	parts.Body = template.HTML(d.View().Page()) // rendered and escaped by core/screen
	var b bytes.Buffer
	if err := pageFrame.Execute(&b, parts); err != nil {
		return nil, fmt.Errorf("rendering the page: %w", err)
	}
	return b.Bytes(), nil
}
