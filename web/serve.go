package main

import (
	"context"
	"errors"
	"fmt"
	"mime"
	"net"
	"net/http"
	"path"
	"strings"
	"time"

	"ribband/core/book"
	"ribband/core/pack"
)

func serve(ctx context.Context, c *console, args []string) error {
	f := flags(c, "serve", "[serve] [-addr HOST:PORT] [-book DIR]")
	addr := f.String("addr", "127.0.0.1:8642", "address to serve on; port 0 takes a free one")
	folder := f.String("book", "rules", "folder of the book")
	if err := parse(f, args); err != nil {
		return err
	}
	if err := onThisMachine(*addr); err != nil {
		return err
	}
	packs, found, err := loadAll(c, *folder)
	if err != nil {
		return err
	}
	s, err := buildSite(ctx, c, packs, pack.Desks, nil)
	if err != nil {
		return err
	}
	if s[bookPage], err = renderBookPage(*folder, packs[pack.Yard], found); err != nil {
		return err
	}
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		return fmt.Errorf("serving on %s: %w; choose another with -addr, such as -addr 127.0.0.1:0", *addr, err)
	}
	base := "http://" + listener.Addr().String() + "/"
	yard := packs[pack.Yard]
	fmt.Fprintf(c.out, greeting, yard.Yard.Name, yard.Edition.Name, base, base, base, base+bookPage,
		verdict(found.of(book.Error), found.of(book.Warning)))
	server := &http.Server{Handler: s, ReadHeaderTimeout: 10 * time.Second}
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
func onThisMachine(addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return usageError{fmt.Errorf("serving on %q: it is no address; write HOST:PORT, such as 127.0.0.1:8642", addr)}
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("serving on %s: others could reach it, and read costs and margins, which are not sealed "+
			"here; "+
			"take 127.0.0.1, or publish a sealed site: go run ./web publish -desks all -out DIR", addr)
	}
	return nil
}

const greeting = `%s, price book %s. Not sealed: for this machine alone. Stop with Ctrl-C.
  buyer  %s
  show   %sshow.html
  yard   %syard.html
  book   %s: %s
`

// ServeHTTP serves the site as any static host would.
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
	kind := mime.TypeByExtension(path.Ext(name))
	if strings.HasSuffix(name, ".gz") || kind == "" {
		kind = "application/octet-stream"
	}
	w.Header().Set("Content-Type", kind)
	if strings.HasPrefix(name, "assets/") {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		w.Header().Set("Cache-Control", "no-cache")
	}
	_, _ = w.Write(text) // a reader that is gone needs no answer
}
