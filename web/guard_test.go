package main

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
	"time"
)

// listens is where a server listens.
type listens string

func (a listens) Network() string { return "tcp" }
func (a listens) String() string  { return string(a) }

func TestServerAnswersToItsOwnNames(t *testing.T) {
	name, err := os.Hostname()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		given, at string
		own       []string
		foreign   []string
	}{
		{"127.0.0.1:0", "127.0.0.1:8642", []string{"127.0.0.1:8642", "localhost:8642", "LOCALHOST:8642", "[::1]:8642"},
			[]string{"", "127.0.0.1", "localhost:8643", "rebound.example:8642", "localhost.rebound.example:8642",
				"127.0.0.1:8642.rebound.example", "10.0.0.7:8642", name + ".example:8642"}},
		{"boats.lan:80", "192.0.2.7:80", []string{"192.0.2.7", "192.0.2.7:80", "boats.lan", "boats.lan:80"},
			[]string{"localhost", "192.0.2.8"}},
		{"[::1]:80", "[::1]:80", []string{"[::1]", "localhost"}, []string{"::1", "[::2]"}},
		{":8642", "[::]:8642", []string{"localhost:8642", "127.0.0.1:8642", name + ":8642"},
			[]string{"rebound.example:8642", "203.0.113.9:8642"}},
	} {
		names := ownNames(c.given, listens(c.at))
		h := guarded(names, site{"index.html": []byte("costs")})
		ask := func(host string) *http.Response {
			r := httptest.NewRequestWithContext(t.Context(), http.MethodGet, "/", nil)
			r.Host = host
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			return w.Result()
		}
		for _, host := range c.own {
			if got := ask(host).StatusCode; got != http.StatusOK {
				t.Errorf("at %s it answers %q with %d", c.at, host, got)
			}
		}
		for _, host := range c.foreign {
			answer := ask(host)
			text, _ := io.ReadAll(answer.Body)
			if answer.StatusCode != http.StatusMisdirectedRequest || strings.Contains(string(text), "costs") {
				t.Errorf("at %s it answers %q with %d and %q", c.at, host, answer.StatusCode, text)
			}
		}
	}
}

func TestServerIsOnlyReadFrom(t *testing.T) {
	h := guarded(map[string]bool{"example.com": true}, site{"index.html": []byte("a page")})
	for method, want := range map[string]int{"GET": 200, "HEAD": 200, "POST": 405, "PUT": 405, "DELETE": 405,
		"OPTIONS": 405, "TRACE": 405, "PROPFIND": 405, "get": 405} {
		w := httptest.NewRecorder()
		r := httptest.NewRequestWithContext(t.Context(), http.MethodGet, "/", strings.NewReader("body"))
		r.Method = method
		h.ServeHTTP(w, r)
		if w.Code != want || w.Code == 405 && w.Header().Get("Allow") != "GET, HEAD" {
			t.Errorf("%s: %d, Allow %q", method, w.Code, w.Header().Get("Allow"))
		}
		for _, name := range []string{"X-Content-Type-Options", "Cross-Origin-Resource-Policy", "Referrer-Policy"} {
			if w.Header().Get(name) == "" {
				t.Errorf("%s: no %s", method, name)
			}
		}
	}
}

// A client that never ends its header is put off, and one that sends too long a header too; HEAD has no body. Over a
// real connection.
func TestServerHasLimits(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := newServer(guarded(ownNames("", listener.Addr()), site{"index.html": []byte("a page")}))
	server.ReadHeaderTimeout, server.ReadTimeout = 200*time.Millisecond, 200*time.Millisecond // as a test has time
	go func() { _ = server.Serve(listener) }()
	t.Cleanup(func() { server.Close() })
	talk := func(text string) (answer string) {
		conn, err := net.Dial("tcp", listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		if err := conn.SetDeadline(time.Now().Add(5 * time.Second)); err != nil {
			t.Fatal(err)
		}
		_, _ = io.WriteString(conn, text)
		all, err := io.ReadAll(bufio.NewReader(conn))
		if e, ok := err.(net.Error); ok && e.Timeout() {
			t.Fatalf("it holds on to %.40q", text)
		}
		return string(all)
	}
	if got := talk("GET / HTTP/1.1\r\nHost: " + listener.Addr().String() + "\r\nX-Slow: "); strings.Contains(got,
		"200") {
		t.Errorf("a header without end is answered by %q", got)
	}
	long := "GET / HTTP/1.1\r\nHost: " + listener.Addr().String() + "\r\nX-Long: " + strings.Repeat("x", 64<<10) +
		"\r\n\r\n"
	if got := talk(long); !strings.HasPrefix(got, "HTTP/1.1 431 ") {
		t.Errorf("a long header is answered by %.60q", got)
	}
	head := fmt.Sprintf("HEAD / HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n\r\n", listener.Addr())
	if got := talk(head); !strings.HasPrefix(got, "HTTP/1.1 200 ") || strings.Contains(got, "a page") {
		t.Errorf("HEAD is answered by %q", got)
	}
	whole := newServer(nil)
	for name, d := range map[string]time.Duration{"header": whole.ReadHeaderTimeout, "request": whole.ReadTimeout,
		"answer": whole.WriteTimeout, "idle": whole.IdleTimeout} {
		if d <= 0 || d > 2*time.Minute {
			t.Errorf("the %s may take %v", name, d)
		}
	}
}
