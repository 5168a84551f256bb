package main

import (
	"context"
	"errors"
	"fmt"
	"mime"
	"net"
	"net/http"
	"os"
	"path"
	"strings"

	"ribband/core/pack"
	"ribband/core/publish"
)

// serve builds the site in memory and serves all desks until it is stopped. It listens on this machine alone, because
// the yard's pack holds its costs, which are not sealed here.
func serve(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "serve", "[serve] [-addr HOST:PORT] [-book DIR] [-orders DIR [-day YYYY-MM-DD]]")
	addr := f.String("addr", "127.0.0.1:8642", "address to serve on; port 0 takes a free one")
	folder, day := ordersFlags(f)
	if err := f.parse(args); err != nil {
		return err
	}
	if err := onThisMachine(f, *addr); err != nil {
		return err
	}
	// The packs are those that publish would write: nothing on this machine is shown otherwise than on a host.
	packs, found, err := loadAll(c, f.book)
	if err != nil {
		return err
	}
	// the demo yard has orders, where this is its checkout
	if found, err := os.Stat(demoOrders); *folder == "" && f.book == demoBook && err == nil && found.IsDir() {
		*folder = demoOrders
	}
	// Everything is built before the port is taken: an address that answers has a page.
	program, err := makeProgram(ctx, c)
	if err != nil {
		return err
	}
	live := &liveBook{console: c, folder: f.book}
	live.desks = func(packs publish.Packs, line string) (site, error) {
		program.found = line
		return program.site(packs, packs.Desks(), nil)
	}
	// once for each book, as its packs are made: a page that is open tells of the orders with which it was served
	live.orders = func(packs publish.Packs) error {
		if *folder == "" {
			return nil
		}
		return tellOrders(c, f, packs, *folder, *day)
	}
	if err := live.serving(packs, found); err != nil {
		return err
	}
	// The port may be taken by an earlier start that was forgotten; the remedy is in the message.
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		return fmt.Errorf("serving on %s: %w; choose another with -addr, such as -addr 127.0.0.1:0", *addr, err)
	}
	base := "http://" + listener.Addr().String() + "/"
	yard := packs[pack.Yard]
	fmt.Fprintf(c.out, greeting, yard.Yard.Name, yard.Edition.Name)
	for _, d := range packs.Desks() {
		fmt.Fprintf(c.out, "  %-7s %s%s\n", d.Kind(), base, strings.TrimPrefix(mainPage(d), mainPage(pack.Buyer)))
	}
	fmt.Fprintf(c.out, "  %-7s %s: %s\n", "book", base+bookPage, found.verdict())
	go live.watch(ctx)
	server := newServer(guarded(ownNames(*addr, listener.Addr()), live))
	// Serve returns only when the server is closed, so that somebody else has to.
	go func() {
		<-ctx.Done()
		_ = server.Close() // whatever is under way may end
	}()
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("serving: %w", err)
	}
	return nil
}

// onThisMachine refuses addresses that others can reach: what is served here is not sealed.
func onThisMachine(f *flags, addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return f.wrong("-addr %q is no address; write HOST:PORT, such as 127.0.0.1:8642", addr)
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("serving on %s: others could reach it, and read costs and margins, which are not sealed "+
			"here; take 127.0.0.1, or publish a sealed site: go run ./web publish -desks all -out DIR", addr)
	}
	return nil
}

// greeting comes before what a person needs now: the addresses, and whether the book is sound.
const greeting = "%s, price book %s. Not sealed: for this machine alone. Stop with Ctrl-C.\n"

// ServeHTTP serves the site as any static host would. A page that works here works there: no path is computed, nothing
// is negotiated.
func (s site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	if name == "" || name == "." {
		name = "index.html"
	}
	text, ok := s[name]
	if !ok {
		http.NotFound(w, r)
		return
	}
	// The engine and the packs come as files that are compressed, and the worker unpacks them: not every static host
	// sends what a browser needs to do it by itself.
	kind := mime.TypeByExtension(path.Ext(name))
	if strings.HasSuffix(name, ".webmanifest") { // W3C Web Application Manifest, 5.1
		kind = "application/manifest+json"
	}
	if strings.HasSuffix(name, ".gz") || kind == "" {
		kind = "application/octet-stream"
	}
	w.Header().Set("Content-Type", kind)
	// A digest in the name makes the file what it is for good; pages name it and are asked for again.
	if strings.HasPrefix(name, "assets/") {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		w.Header().Set("Cache-Control", "no-cache")
	}
	_, _ = w.Write(text) // a reader that is gone needs no answer
}
