package main

import (
	"net"
	"net/http"
	"net/netip"
	"os"
	"strings"
	"time"
)

// What keeps the server on the owner's machine to itself. It hands out costs, and any page that is open in a browser on
// this machine can have that browser ask it: under a name that an attacker has made point here (DNS rebinding), the
// answer would be the attacker's to read. So it answers only where it is called by its own name.

// ownNames are the names and addresses, with the port, by which a server that listens somewhere is called. Given is
// what the person asked for, which may be a name.
func ownNames(given string, at net.Addr) map[string]bool {
	names := map[string]bool{}
	host, port, err := net.SplitHostPort(at.String())
	if err != nil {
		return names
	}
	add := func(name string) {
		name = strings.ToLower(name)
		names[net.JoinHostPort(name, port)] = true
		if port == "80" { // browsers leave it out
			names[strings.TrimSuffix(net.JoinHostPort(name, ""), ":")] = true
		}
	}
	// As the listener says it: a port 0 that was asked for is a real one there.
	add(host)
	if asked, _, err := net.SplitHostPort(given); err == nil && asked != "" {
		add(asked)
	}
	// A listener's address is numbers; what it is on this machine follows from them.
	address, err := netip.ParseAddr(host)
	if err != nil {
		return names
	}
	if address.IsLoopback() || address.IsUnspecified() {
		for _, name := range []string{"localhost", "127.0.0.1", "::1"} {
			add(name)
		}
	}
	if address.IsUnspecified() { // on every address of this machine
		if name, err := os.Hostname(); err == nil {
			add(name)
		}
		list, _ := net.InterfaceAddrs() // without them it answers to fewer names
		for _, a := range list {
			if n, ok := a.(*net.IPNet); ok {
				add(n.IP.String())
			}
		}
	}
	return names
}

// guarded lets through to a handler what is asked of one of these names, and only to be read. A name that is not its
// own gets 421 (RFC 9110, 15.5.20), and not a word of what is here.
func guarded(names map[string]bool, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Cross-Origin-Resource-Policy", "same-origin") // no page of elsewhere embeds what is here
		h.Set("Referrer-Policy", "no-referrer")
		switch {
		case !names[strings.ToLower(r.Host)]:
			http.Error(w, "This server answers only to its own address.", http.StatusMisdirectedRequest)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "This server is only read from.", http.StatusMethodNotAllowed)
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// It does not ask who is there: whoever can reach the address by its name sees all desks. That is for the network that
// the owner chose with -addr to settle.

// newServer serves with limits of time and size: a client that sends or takes nothing holds nothing up for long. The
// engine, some megabytes, is the largest answer: it has the time that a slow wireless line takes for it.
func newServer(h http.Handler) *http.Server {
	return &http.Server{Handler: h, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second,
		WriteTimeout: 2 * time.Minute, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10}
}
