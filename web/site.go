package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/evanw/esbuild/pkg/api"

	"ribband/core/export"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/quote"
	"ribband/core/screen"
	"ribband/web/wire"
)

// site is the published files by their path. The same site is served from memory, written to a folder, and looked at by
// the tests.
type site map[string][]byte

// add puts a file under assets with a digest in its name, so that it never changes, and gives its path. Twelve digits
// of SHA-256 tell a few hundred files apart many times over.
func (s site) add(name string, text []byte) string {
	return s.addAs(name, text, text)
}

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

// mainPage is the file of a desk's page in the first language. The public page alone is what a host shows without a
// name; the others are for those who know them, which is no protection.
func mainPage(d pack.Desk) string {
	if d == pack.Buyer {
		return "index.html"
	}
	return string(d) + ".html"
}

// phrases are those with which desks are sealed; one without a phrase is published for whoever can reach it.
type phrases map[pack.Desk]string

// program is what a site consists of whatever the book: engines and page.
type program struct {
	buyers, own *built
	assets      map[string][]byte
	// what was found in the book, for a line on each desk of the owner's own machine; "" on every site
	found string
}

// built is an engine: as it runs, as gzip, and for a slow line packed; nil where that was not asked for.
type built struct {
	name                     string // of its files
	code, compressed, packed []byte
}

// engineOf is the engine of a desk. The public page has one without what only the yard's own desks do: most of a
// visit's bytes are the engine, and nobody should wait for what he cannot see.
func (p *program) engineOf(d pack.Desk) *built {
	if d == pack.Buyer {
		return p.buyers
	}
	return p.own
}

// pack writes the engine for a slow line, which takes some seconds; the engine itself stays as it is, since sites of
// this machine take it, too. Where that cannot be done the site has the plain form, and the owner is told.
func (b *built) pack(c *console) *built {
	own := *b
	packedLock.Lock()
	defer packedLock.Unlock()
	known, ok := packedBefore[digest(b.code)]
	if !ok {
		c.progress("Packing the engine …")
		var err error
		if known, err = wire.Pack(b.code); err != nil {
			c.progress("WARNING: %v. The page loads the engine in its plain form, which takes longer.", err)
		}
		// also where it failed: it would again
		packedBefore[digest(b.code)] = known
	}
	own.packed = known
	return &own
}

// packedBefore are the engines that this process has packed, by their digest: they are the same for every book.
var (
	packedBefore = map[string][]byte{}
	packedLock   sync.Mutex
)

// buildSite assembles the static site for some desks. Nothing in it depends on where or when it is built, but for the
// salts and keys of seals, which are new each time. The yard's own desks share an engine: what each can do follows from
// its pack. On this machine engines need not be packed.
func buildSite(ctx context.Context, c *console, packs publish.Packs, desks []pack.Desk, sealed phrases,
	forLine bool) (site, error) {
	p, err := makeProgram(ctx, c)
	if err != nil {
		return nil, err
	}
	if forLine {
		p.buyers = p.buyers.pack(c)
		// whoever publishes the public page alone need not wait for the other engine
		if slices.ContainsFunc(desks, func(d pack.Desk) bool { return d != pack.Buyer }) {
			p.own = p.own.pack(c)
		}
	}
	return p.site(packs, desks, sealed)
}

// makeProgram is buildProgram. The tests build once, and not for each site.
var makeProgram = buildProgram

// buildProgram compiles the engine and bundles the page, which takes long; a site for other packs can be made of it
// again.
func buildProgram(ctx context.Context, c *console) (p program, err error) {
	// The engine first: it takes longest, and what does not compile is found at once.
	root, err := moduleRoot(ctx)
	if err != nil {
		return p, err
	}
	c.progress("Building the engines …")
	version, err := goEnv(ctx, "GOVERSION")
	if err != nil {
		return p, err
	}
	if !c.knows(version) {
		version = ""
	}
	// most of the two is the same, and compiled once
	if p.buyers, err = buildEngine(ctx, c, root, version, "engine", "buyer"); err != nil {
		return p, err
	}
	if p.own, err = buildEngine(ctx, c, root, version, "engine-own", ""); err != nil {
		return p, err
	}
	c.progress("Building the page …")
	goroot, err := goEnv(ctx, "GOROOT")
	if err != nil {
		return p, err
	}
	p.assets, err = bundle(root, goroot)
	return p, err
}

// site puts packs beside the program.
func (p program) site(packs publish.Packs, desks []pack.Desk, sealed phrases) (site, error) {
	s := site{}
	for _, d := range desks {
		parts := pageParts{Desk: d, PriceBook: packs[d].Edition.Name, Found: p.found,
			Engine: s.addEngine(p.engineOf(d)),
			Worker: s.add("worker.js", p.assets["worker.js"]), Script: s.add("app.js", p.assets["main.js"]),
			Style: s.add("style.css", p.assets["style.css"])}
		if err := s.addPictures(&parts, packs[d]); err != nil {
			return nil, fmt.Errorf("building the site: %w", err)
		}
		// a buyer's desk has no phrase: there is nothing in it to seal
		add := s.addDesk
		if sealed[d] != "" {
			add = func(parts pageParts, p *pack.Pack) error { return s.addSealed(parts, p, sealed[d]) }
		}
		if err := add(parts, packs[d]); err != nil {
			return nil, fmt.Errorf("building the site: %w", err)
		}
	}
	if err := addSchemas(s); err != nil {
		return nil, err
	}
	if err := addServiceWorker(s, p.assets["sw.js"]); err != nil {
		return nil, err
	}
	return s, s.list()
}

// addEngine adds an engine, and gives the path that a page names. All its names have the digest of the engine as it
// runs, and not of the file: the page checks what comes out.
func (s site) addEngine(b *built) string {
	plain := s.addAs(b.name+".wasm.gz", b.compressed, b.code)
	if b.packed == nil {
		return plain
	}
	// the other lies beside it, for browsers in which this one cannot be read
	return s.addAs(b.name+".rwp", b.packed, b.code)
}

// addDesk adds a desk that whoever reaches the site can read.
func (s site) addDesk(parts pageParts, p *pack.Pack) error {
	p = spoken(p)
	bare, words := p.Apart()
	text, err := bare.Encode()
	if err != nil {
		return err
	}
	parts.Pack = s.addCompressed(string(parts.Desk)+".json", text)
	if err := s.addWords(&parts, p, words); err != nil {
		return err
	}
	parts.Posts = p.Yard.Enquiry != ""
	return s.addPages(parts, p, func(view *screen.View, own *pageParts) (page string, err error) {
		// search engines find the page that buyers do, and no other
		if own.Desk == pack.Buyer {
			own.Offer, err = offerOf(view)
		}
		if err != nil {
			return "", err
		}
		own.Hulls, err = s.addHulls(view)
		return view.First(), err
	})
}

// addHulls adds what the page shows of the other hulls before the engine is there, for web/page/hulls.ts: small enough
// to be there when somebody touches the first hull.
func (s site) addHulls(view *screen.View) (string, error) {
	type hulls struct {
		Language string                       `json:"language"`
		Hulls    map[string][]screen.Fragment `json:"hulls"`
		// where the choices of the slots are: named here and not in the page, they are not kept on a device, which has
		// the engine
		Folded string `json:"folded"`
	}
	// all slots in one file: who unfolds one unfolds others, and together they pack well
	folded, err := json.Marshal(view.Folded())
	if err != nil {
		return "", fmt.Errorf("rendering the slots: %w", err)
	}
	h := hulls{view.Tag(), map[string][]screen.Fragment{}, s.add("slots.json", folded)}
	for i, hull := range view.Engine.Public().Hulls {
		// the page has the first one itself, and puts it back where somebody touches it again
		if i == view.Answer.Hull {
			continue
		}
		if h.Hulls[hull.ID], err = view.OfHull(i); err != nil {
			return "", fmt.Errorf("rendering the page of %s: %w", hull.ID, err)
		}
	}
	text, err := json.Marshal(h)
	if err != nil {
		return "", fmt.Errorf("rendering the hulls: %w", err)
	}
	return s.add("hulls.json", text), nil
}

// offerOf is the boat that a page opens with as JSON-LD, with the sums of the page. Neither a browser nor its policy
// takes it for a script: it is data, in which nothing can end its element.
func offerOf(view *screen.View) (template.JS, error) {
	text, err := export.Offer(quote.Draft(view.Engine, view.Answer), view.Engine.Language())
	if err != nil {
		return "", fmt.Errorf("writing the offer of the page: %w", err)
	}
	return template.JS(text), nil // escaped by core/export
}

// paths are those of the files, sorted: whatever goes through them must come out alike every time.
func (s site) paths() []string { return slices.Sorted(maps.Keys(s)) }

// compress makes gzip without name or time, so that equal input gives equal bytes. A host that compresses by itself
// need not, and one that does not is as good.
func compress(text []byte) []byte {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // the level is valid
	_, _ = w.Write(text)                                  // a bytes.Buffer never fails
	_ = w.Close()
	return b.Bytes()
}

// moduleRoot is the folder of this module: the page and the engine are built from its sources. Go is asked, and not the
// working folder, so that the tool may be run from any folder of the module.
func moduleRoot(ctx context.Context) (string, error) {
	out, err := exec.CommandContext(ctx, "go", "list", "-m", "-f", "{{.Path}} {{.Dir}}").Output()
	path, dir, _ := strings.Cut(strings.TrimSpace(string(out)), " ")
	if err != nil || path != "ribband" {
		// The likely mistake is a tool that was built and copied elsewhere: it lacks the sources that it builds from.
		const where = "run this inside the ribband module, where Go is installed: go run ./web"
		return "", errors.New("finding the sources: " + where)
	}
	return dir, nil
}

// goEnv asks Go for one of its settings.
func goEnv(ctx context.Context, name string) (string, error) {
	out, err := exec.CommandContext(ctx, "go", "env", name).Output()
	if err != nil {
		return "", fmt.Errorf("asking Go for %s: %w", name, err)
	}
	return strings.TrimSpace(string(out)), nil
}

// hot are the packages that keep inlining: it makes the engine faster where it counts, and larger everywhere else.
// Without inlining anywhere the engine is smaller to download but the searches are slower; these packages are where a
// click spends its time.
var hot = []string{"runtime", "internal/runtime/...", "math/big", "sort", "ribband/core/formula",
	"ribband/core/figures", "ribband/core/fit", "ribband/core/price",
	"ribband/core/cost", "ribband/core/hull", "ribband/core/bank", "ribband/core/money", "ribband/core/measure",
	"github.com/shopspring/decimal"}

// buildEngine compiles an engine for the page under a build tag, and makes it small. A version "" is one of Go whose
// tables are not known: the engine stays as the linker leaves it, which works as well and takes longer to load.
func buildEngine(ctx context.Context, c *console, root, version, name, tag string) (*built, error) {
	overlay := ""
	if version != "" {
		dir, err := os.MkdirTemp("", "ribband-overlay-")
		if err != nil {
			return nil, fmt.Errorf("building the engine: %w", err)
		}
		defer os.RemoveAll(dir)
		if overlay, err = wire.Overlay(ctx, root, dir); err != nil {
			return nil, fmt.Errorf("building the engine: %w", err)
		}
	}
	code, err := buildWasm(ctx, root, "./wasm", overlay, tag)
	if err != nil {
		return nil, err
	}
	if version != "" {
		if slim, err := wire.Slim(code, version); err != nil {
			c.progress("WARNING: %v. The page loads the plain engine, which takes longer.", err)
		} else {
			code = slim
		}
	}
	return &built{name: name, code: code, compressed: compress(code)}, nil
}

// knows says whether the engine that a version of Go builds can be made small, and warns where it cannot.
func (c *console) knows(version string) bool {
	if !wire.Known(version) {
		c.progress("WARNING: this is %s. Only the engine that %s builds can be made small; the page loads the plain "+
			"one, which takes longer.", version, wire.KnownGo)
		return false
	}
	return true
}

// buildWasm compiles a command as the engine is compiled, with an overlay of files and a build tag where these are
// given. -trimpath and -buildvcs=false keep folders and commits out of it: the same sources give the same bytes on
// every machine, and so the same name.
func buildWasm(ctx context.Context, root, command, overlay, tag string) ([]byte, error) {
	// Go has to write a file; nothing of it stays.
	dir, err := os.MkdirTemp("", "ribband-engine-")
	if err != nil {
		return nil, fmt.Errorf("building the engine: %w", err)
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "engine.wasm")
	args := []string{"build", "-tags=" + tag, "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-gcflags=all=-l"}
	for _, p := range hot { // the last match wins
		args = append(args, "-gcflags="+p+"=")
	}
	if overlay != "" {
		args = append(args, "-overlay="+overlay)
	}
	cmd := exec.CommandContext(ctx, "go", append(args, "-o", out, command)...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if text, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("building the engine: %w\n%s", err, text)
	}
	return os.ReadFile(out)
}

// bundle makes the page's scripts and style. esbuild drops the types without looking at them; tsc checks them among the
// gates. The loader of Go's own distribution is taken, as it has to fit the compiler that built the engine.
func bundle(root, goroot string) (map[string][]byte, error) {
	dir := filepath.Join(root, "web", "page")
	result := api.Build(api.BuildOptions{
		EntryPoints:       []string{"main.ts", "worker.ts", "sw.ts", "style.css"},
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
		// Scripts import the loader by a name of its own, since its place belongs to the Go that is installed.
		Alias: map[string]string{"go-wasm-exec": filepath.Join(goroot, "lib", "wasm", "wasm_exec.js")},
	})
	if len(result.Errors) > 0 {
		return nil, fmt.Errorf("building the page:\n%s",
			strings.Join(api.FormatMessages(result.Errors, api.FormatMessagesOptions{}), ""))
	}
	assets := map[string][]byte{}
	for _, f := range result.OutputFiles {
		// The outputs are told apart by their names alone: each entry point makes one.
		assets[filepath.Base(f.Path)] = f.Contents
	}
	return assets, nil
}

// frames are the pages around what core renders. They are files of their own, which editors know as HTML.
//
//go:embed page/*.html
var frames embed.FS

// pageParts is what the page's frame names. All but body and title are addresses relative to the page, so that the site
// works below any path.
type pageParts struct {
	Desk                                pack.Desk
	Lang, Title                         string // of the document, in the words of the desk's language
	Languages, Page                     string // tags of all, the first one first; the name of the first one's page
	Alternates                          []alternate
	File, PriceBook                     string // the page's own name; the edition of the book, for a person
	Manifest                            string
	Icons                               []webIcon
	Head                                template.JS
	Policy                              string
	Engine, Pack, Worker, Script, Style string
	Hulls                               string            // what is shown of the other hulls first; "" on a sealed desk
	Pictures                            string            // the list of those that are kept for a place without network
	Words                               template.HTMLAttr // where the words of other languages are
	// of a sealed desk, in the place of the pack: its file, and of what edition
	Sealed, Book string
	Idle         int  // seconds without use, after which a sealed desk is locked
	Posts        bool // a form may be posted to the host of the page
	Body         template.HTML
	Offer        template.JS // the boat for search engines, on the buyer's page
	Found        string      // in the book, on the owner's own machine
}

//go:embed page/head.js
var head string

//go:embed page/early.js
var early string

// headScript is the one script inside the page: which language it is in comes first, since another page may take the
// place of this one, and then the start of the engine, before all that it does not need.
var headScript = early + head

// policy asks nothing of any other origin. Of scripts it allows the site's own files, the one inside the page by its
// digest, and compiling the engine; a form is sent where the yard's own host takes it, and else nowhere.
func policy(posts bool) string {
	sum, to := sha256.Sum256([]byte(headScript)), "'none'"
	if posts {
		to = "'self'"
	}
	return "default-src 'self'; script-src 'self' 'wasm-unsafe-eval' 'sha256-" +
		base64.StdEncoding.EncodeToString(sum[:]) + "'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; " +
		"object-src 'none'; base-uri 'none'; form-action " + to
}

// The page asks nothing of any other origin, and its policy says so. Papers are shown in a frame with their own style.
// It allows styles within elements, as drawings and papers have them, and compiling the engine; everything else has to
// be a file of this site.
var pageFrame = template.Must(template.ParseFS(frames, "page/desk.html"))

// renderPage puts a body, rendered and escaped by core/screen, into the page's frame.
func renderPage(parts pageParts, lang, body string) ([]byte, error) {
	// in the foot, beside the edition, where it stands in nobody's way
	if parts.Found != "" {
		line := fmt.Sprintf(`<p lang="en"><a href="%s">Price book: %s</a></p></footer>`, bookPage, parts.Found)
		body = strings.Replace(body, "</footer>", line, 1)
	}
	parts.Lang, parts.Body = lang, template.HTML(body)
	parts.Head, parts.Policy = template.JS(headScript), policy(parts.Posts)
	var b bytes.Buffer
	if err := pageFrame.Execute(&b, parts); err != nil {
		return nil, fmt.Errorf("rendering the page: %w", err)
	}
	return b.Bytes(), nil
}
