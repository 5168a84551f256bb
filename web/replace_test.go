package main

import (
	"bufio"
	"context"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// tinySite is a site of some files, for some desks.
func tinySite(t testing.TB, edition string, desks ...string) site {
	s := site{"index.html": []byte("buyer " + edition), "sw.js": []byte("worker " + edition),
		"assets/app-1.js": []byte("the same in every edition"), "schema/spec.json": []byte("{}")}
	s.add("buyer.json", []byte("prices "+edition))
	for _, d := range desks {
		s[d+".html"] = []byte(d + edition)
		s.add(d+".json", []byte("costs "+edition))
	}
	if err := s.list(); err != nil {
		t.Fatal(err)
	}
	return s
}

// foreign puts files of somebody else into a folder, and gives what must stay of them.
func foreign(t *testing.T, dir string) site {
	t.Helper()
	s := site{"CNAME": []byte("boats.example"), ".well-known/security.txt": []byte("mail us"),
		"blog/2027/launch.html": []byte("a launch")}
	for file, text := range s {
		if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(file)), 0o755); err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(dir, file), string(text))
	}
	return s
}

// holds fails the test unless a folder holds these files and no others, and nothing lies beside it.
func holds(t *testing.T, dir string, sites ...site) {
	t.Helper()
	want := site{}
	for _, s := range sites {
		maps.Copy(want, s)
	}
	got := published(t, dir)
	if g, w := strings.Join(got.paths(), " "), strings.Join(want.paths(), " "); g != w {
		t.Errorf("the folder holds %s\nwant %s", g, w)
	}
	for file, text := range want {
		if string(got[file]) != string(text) {
			t.Errorf("%s is %q, want %q", file, got[file], text)
		}
	}
	for _, e := range entries(t, filepath.Dir(dir)) {
		if e != filepath.Base(dir) {
			t.Errorf("%s lies beside it", e)
		}
	}
}

func entries(t *testing.T, dir string) (names []string) {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		names = append(names, e.Name())
	}
	return names
}

// newFolder is a folder of its own in a folder of its own.
func newFolder(t *testing.T) string { return filepath.Join(t.TempDir(), "site") }

func mustPublish(t *testing.T, s site, dir string) {
	t.Helper()
	if _, err := s.publish(t.Context(), dir); err != nil {
		t.Fatal(err)
	}
}

// The buyer's site alone takes the place of one that held more: nothing private is left, what is not publish's own
// stays.
func TestPublishRemovesWhatItWroteAndNothingElse(t *testing.T) {
	dir := newFolder(t)
	all, buyer := tinySite(t, "1", "show", "yard"), tinySite(t, "2")
	mustPublish(t, all, dir)
	holds(t, dir, all)
	others := foreign(t, dir)
	if err := os.Mkdir(filepath.Join(dir, "empty"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o750); err != nil {
		t.Fatal(err)
	}
	done, err := buyer.publish(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	holds(t, dir, buyer, others)
	if done != (replaced{len(all), len(others)}) {
		t.Errorf("it says %+v", done)
	}
	info, err := os.Stat(dir)
	if err != nil || info.Mode().Perm() != 0o750 {
		t.Errorf("the folder has mode %v, %v", info.Mode(), err)
	}
	if _, err := os.Stat(filepath.Join(dir, "empty")); err != nil {
		t.Error("an empty folder of somebody else is gone")
	}
}

// Somebody's own file under a name of the site's, a file changed by hand, and links are refused by name; nothing is
// touched, and nothing behind a link.
func TestPublishRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(dir, elsewhere string) error
		says  string
	}{
		{"a page of somebody else", func(dir, _ string) error {
			return os.WriteFile(filepath.Join(dir, "yard.html"), []byte("mine"), 0o644)
		}, "yard.html was not written by publish"},
		{"an asset of an older program", func(dir, _ string) error {
			return os.WriteFile(filepath.Join(dir, "assets", "yard-00.json.gz"), []byte("costs"), 0o644)
		}, "assets/yard-00.json.gz was not written by publish"},
		{"a file changed by hand", func(dir, _ string) error {
			return os.WriteFile(filepath.Join(dir, "index.html"), []byte("mine"), 0o644)
		}, "index.html was changed since publish wrote it"},
		{"a link in the place of a file", func(dir, elsewhere string) error {
			_ = os.Remove(filepath.Join(dir, "index.html"))
			return os.Symlink(filepath.Join(elsewhere, "precious"), filepath.Join(dir, "index.html"))
		}, "index.html is no longer the file that publish wrote"},
		{"a link in the place of a folder", func(dir, elsewhere string) error {
			_ = os.RemoveAll(filepath.Join(dir, "assets"))
			return os.Symlink(elsewhere, filepath.Join(dir, "assets"))
		}, "assets was not written by publish"},
		{"a list that cannot be read", func(dir, _ string) error {
			return os.WriteFile(filepath.Join(dir, listName), []byte("{"), 0o644)
		}, "published.json, which lists what publish wrote, cannot be read"},
		{"a list that names what lies outside", func(dir, _ string) error {
			return os.WriteFile(filepath.Join(dir, listName), []byte(`{"published_files": {"../precious": "00"}}`), 0o644)
		}, "published.json, which lists what publish wrote, cannot be read"},
		{"a link in the place of the whole", func(dir, elsewhere string) error {
			return os.Rename(dir, filepath.Join(elsewhere, "moved"))
		}, "it is a symbolic link"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir, elsewhere := newFolder(t), t.TempDir()
			mustPublish(t, tinySite(t, "1", "show"), dir)
			write(t, filepath.Join(elsewhere, "precious"), "precious")
			if err := c.spoil(dir, elsewhere); err != nil {
				t.Fatal(err)
			}
			if _, err := os.Lstat(dir); err != nil {
				if err := os.Symlink(filepath.Join(elsewhere, "moved"), dir); err != nil {
					t.Fatal(err)
				}
			}
			before := []site{regular(t, filepath.Dir(dir)), regular(t, elsewhere)}
			_, err := tinySite(t, "2").publish(t.Context(), dir)
			if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), dir) {
				t.Errorf("it says %v, want %s", err, c.says)
			}
			for i, where := range []string{filepath.Dir(dir), elsewhere} {
				if after := regular(t, where); !maps.EqualFunc(after, before[i], same) {
					t.Errorf("%s holds %v, and held %v", where, after.paths(), before[i].paths())
				}
			}
		})
	}
}

// regular reads the files of a folder, and follows no link.
func regular(t *testing.T, dir string) site {
	t.Helper()
	s := site{}
	err := filepath.WalkDir(dir, func(file string, d fs.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() {
			s[file], err = os.ReadFile(file)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func same(a, b []byte) bool { return string(a) == string(b) }

// A link of somebody else comes along as a link.
func TestPublishCarriesLinksAsLinks(t *testing.T) {
	dir, elsewhere := newFolder(t), t.TempDir()
	mustPublish(t, tinySite(t, "1"), dir)
	write(t, filepath.Join(elsewhere, "precious"), "precious")
	if err := os.Symlink(elsewhere, filepath.Join(dir, "pictures")); err != nil {
		t.Fatal(err)
	}
	mustPublish(t, tinySite(t, "2"), dir)
	if target, err := os.Readlink(filepath.Join(dir, "pictures")); err != nil || target != elsewhere {
		t.Errorf("the link goes to %q, %v", target, err)
	}
	if got := entries(t, elsewhere); len(got) != 1 {
		t.Errorf("behind the link there is %v", got)
	}
}

// stopsAfter is a context that is done after it was asked so many times.
type stopsAfter struct {
	context.Context
	left int
}

func (c *stopsAfter) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// An interrupt at any step leaves the old site, with what others put there, and nothing beside it.
func TestInterruptLeavesTheOldSite(t *testing.T) {
	dir := newFolder(t)
	old := tinySite(t, "1", "show", "yard")
	mustPublish(t, old, dir)
	others := foreign(t, dir)
	for n := 0; ; n++ {
		next := tinySite(t, "2")
		_, err := next.publish(&stopsAfter{t.Context(), n}, dir)
		if err == nil {
			holds(t, dir, next, others)
			if n < len(next)+len(others) {
				t.Errorf("it could be interrupted at %d steps only", n)
			}
			return
		}
		if !strings.Contains(err.Error(), "interrupted; what was there is as it was") {
			t.Fatal(err)
		}
		holds(t, dir, old, others)
	}
}

// A disk that fills up leaves the old site as it was. It is tried on a small disk in memory, where the test may mount
// one.
func TestFullDiskLeavesTheOldSite(t *testing.T) {
	disk := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", disk).CombinedOutput(); err != nil {
		t.Skipf("no disk to fill: mounting one needs the rights for it: %v %s", err, out)
	}
	t.Cleanup(func() {
		if out, err := exec.Command("umount", disk).CombinedOutput(); err != nil {
			t.Errorf("%v %s", err, out)
		}
	})
	dir := filepath.Join(disk, "site")
	old := tinySite(t, "1", "show", "yard")
	mustPublish(t, old, dir)
	others := foreign(t, dir)
	large := tinySite(t, "2")
	large["assets/large"] = make([]byte, 2<<20)
	if err := large.list(); err != nil {
		t.Fatal(err)
	}
	_, err := large.publish(t.Context(), dir)
	if err == nil || !strings.Contains(err.Error(), "no space left") || !strings.Contains(err.Error(), "as it was") {
		t.Errorf("it says %v", err)
	}
	holds(t, dir, old, others)
	next := tinySite(t, "3")
	mustPublish(t, next, dir) // there is room for a smaller one
	holds(t, dir, next, others)
}

// publishesIn names, to a process that is there to be killed, the folder in which it publishes for ever.
const publishesIn = "RIBBAND_TEST_PUBLISHES_IN"

// publishForEver publishes two editions in turn, the one with all desks, the other for the buyer alone.
func publishForEver() {
	dir := os.Getenv(publishesIn)
	if dir == "" {
		return
	}
	for n := 0; ; n++ {
		if _, err := killedEdition(nil, n).publish(context.Background(), dir); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		fmt.Println("published")
	}
}

func killedEdition(t testing.TB, n int) site {
	if n%2 == 0 {
		return tinySite(t, "even", "show", "yard")
	}
	return tinySite(t, "odd")
}

// Killed at any moment, publishing leaves one edition or the other, whole, with what others put there; and the next
// publication clears away what the killed one left beside.
func TestKilledPublicationLeavesAWholeSite(t *testing.T) {
	dir := newFolder(t)
	mustPublish(t, killedEdition(t, 0), dir)
	others := foreign(t, dir)
	random := rand.New(rand.NewPCG(2027, 3)) // when it is killed differs from run to run all the same
	seen := map[string]int{}
	for range 100 {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), publishesIn+"="+dir)
		out, err := cmd.StdoutPipe()
		if err == nil {
			err = cmd.Start()
		}
		if err != nil {
			t.Fatal(err)
		}
		if line, err := bufio.NewReader(out).ReadString('\n'); line != "published\n" {
			t.Fatalf("it says %q, %v", line, err)
		}
		time.Sleep(time.Duration(random.IntN(20_000)) * time.Microsecond)
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		got := published(t, dir)
		for n, name := range []string{"even", "odd"} {
			if want := killedEdition(t, n); string(got["index.html"]) == string(want["index.html"]) {
				maps.Copy(want, others)
				if !maps.EqualFunc(got, want, same) {
					t.Fatalf("killed in %s it left %v", name, got.paths())
				}
				seen[name]++
			}
		}
		for _, e := range entries(t, filepath.Dir(dir)) {
			if e != "site" {
				seen[e]++
				info, err := os.Stat(filepath.Join(filepath.Dir(dir), e))
				if err == nil && info.Mode().Perm()&0o077 != 0 {
					seen["open to others"]++
				}
			}
		}
	}
	if seen["even"]+seen["odd"] != 100 || seen["even"] == 0 || seen["odd"] == 0 {
		t.Errorf("it left %v", seen)
	}
	t.Log(seen)
	next := tinySite(t, "next")
	mustPublish(t, next, dir)
	holds(t, dir, next, others)
}

// A folder beside that has another use is not cleared away.
func TestPublishLeavesOtherFoldersBeside(t *testing.T) {
	dir := newFolder(t)
	beside := filepath.Join(filepath.Dir(dir), ".site.publishing")
	if err := os.Mkdir(beside, 0o755); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(beside, "precious"), "precious")
	if _, err := tinySite(t, "1").publish(t.Context(), dir); err == nil || !strings.Contains(err.Error(),
		"has another use") {
		t.Errorf("it says %v", err)
	}
	if _, err := fs.Stat(os.DirFS(beside), "precious"); err != nil {
		t.Error(err)
	}
}

// Two publications at a time do not meet.
func TestPublishKeepsASecondOut(t *testing.T) {
	dir := newFolder(t)
	f, err := os.Open(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := lockFolder(f); err != nil {
		t.Fatal(err)
	}
	if _, err := tinySite(t, "1").publish(t.Context(), dir); err == nil || !strings.Contains(err.Error(), "under way") {
		t.Errorf("it says %v", err)
	}
}
