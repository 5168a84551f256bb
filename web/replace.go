package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// A site is published whole: it is written to a folder beside, which then takes the place of the old one in one step.
// Whatever stops that on the way, a full disk, an interrupt, a kill or a failure of the power, leaves either the old
// site or the new one. What publish wrote before is known by a list in the site; everything else in the folder is
// somebody's, and comes along untouched. Nothing is ever written or removed through a symbolic link.

// What is left of a kill, and what the next publication does with it, by step:
//
//	the new folder is being written    the old site, and a new folder that nobody can look into; it is discarded
//	both change names                  in one step: the old site or the new one
//	the old folder is being removed    the new site, and an old folder that nobody can look into; it is discarded
//
// Every file is on the disk before the names change, so that a power failure is like a kill. A host to which the
// folder is copied afterwards has no such step; what a visitor's device keeps of it is whole all the same, since the
// service worker takes an edition by its digests or not at all.

// listName is the file of a site that lists the others.
const listName = "published.json"

// publishedList is what publish wrote: SHA-256 by path. It lies in the site and is public: it names no more than the
// pages do. The digests tell a file that somebody has changed from one that may be replaced.
type publishedList struct {
	Files map[string]string `json:"published_files"`
}

// list adds to a site the list of its files. It is the last to be added, and does not list itself.
func (s site) list() error {
	delete(s, listName) // of before
	l := publishedList{map[string]string{}}
	for file, text := range s {
		l.Files[file] = digest(text)
	}
	text, err := json.MarshalIndent(l, "", "  ")
	if err != nil {
		return fmt.Errorf("listing the site's files: %w", err)
	}
	s[listName] = append(text, '\n')
	return nil
}

// replacement is a publication on its way. Names count from the parent folder.
type replacement struct {
	site         site
	root         *os.Root // the parent folder
	parent       *os.File
	name, beside string            // the site's folder, and the new one
	before       map[string]string // what publish wrote before, by path
	carried      []string          // files of somebody else
	folders      []string          // and folders, the outer ones first
	fresh        bool              // there is no folder yet
	mode         fs.FileMode
}

// replaced says what became of a folder: how many files of the edition before are gone or written anew, and how many of
// others are still there.
type replaced struct{ removed, left int }

// publish puts a site in the place of what an earlier publication left in a folder. The error says what stopped it and
// what there is now. Folders above the site's may be links, as a home folder often is; the site's own may not, since
// the swap would put a folder in the place of the link.
func (s site) publish(ctx context.Context, dir string) (done replaced, err error) {
	defer func() {
		if err != nil {
			err = fmt.Errorf("publishing to %s: %w", dir, err)
		}
	}()
	if dir, err = filepath.Abs(dir); err != nil {
		return done, err
	}
	// Every name from here on counts from the parent folder, which is held open: a link that somebody puts there
	// meanwhile leads nowhere.
	r := &replacement{site: s, name: filepath.Base(dir), mode: 0o755}
	r.beside = "." + r.name + ".publishing"
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return done, err
	}
	if r.root, err = os.OpenRoot(filepath.Dir(dir)); err != nil {
		return done, err
	}
	defer r.root.Close()
	if r.parent, err = r.root.Open("."); err != nil {
		return done, err
	}
	defer r.parent.Close()
	// Two at a time would clear away each other's new folder.
	if err := lockFolder(r.parent); err != nil {
		return done, fmt.Errorf("another publication is under way beside it; wait for its end: %w", err)
	}
	if err := r.recover(); err != nil {
		return done, err
	}
	if err := r.survey(); err != nil {
		return done, err
	}
	if err := r.write(ctx); err != nil {
		return done, errors.Join(fmt.Errorf("%w; what was there is as it was", err), r.discard(r.beside))
	}
	old, err := r.swap()
	if err != nil {
		return done, errors.Join(fmt.Errorf("%w; what was there is as it was", err), r.discard(r.beside))
	}
	return replaced{len(r.before), len(r.carried)}, r.clear(old)
}

// recover clears away what a publication that was killed left beside: a new folder that is not whole, or an old one
// that is not gone. Both hold the list, by which they are known; a folder of the same name without it is somebody's.
func (r *replacement) recover() error {
	if _, err := r.root.Lstat(r.name); errors.Is(err, fs.ErrNotExist) { // it was killed between two renames
		if err := r.root.Rename(r.name+movedAway, r.name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	for _, name := range []string{r.beside, r.name + movedAway} {
		entries, err := fs.ReadDir(r.root.FS(), name)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		} else if err != nil {
			return err
		}
		ours := func(e fs.DirEntry) bool { return e.Name() == listName }
		if len(entries) > 0 && !slices.ContainsFunc(entries, ours) {
			return fmt.Errorf("%s lies beside it, and has another use; rename that", name)
		}
		if err := r.discard(name); err != nil {
			return err
		}
	}
	return nil
}

// discard removes a folder that lies beside, its list last: until then a publication that is killed at it is known.
// Nothing in it is the only name of somebody's file: those that were carried along have theirs in the site, too.
func (r *replacement) discard(name string) error {
	entries, err := fs.ReadDir(r.root.FS(), name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for _, e := range entries {
		if e.Name() != listName {
			err = errors.Join(err, r.root.RemoveAll(path.Join(name, e.Name())))
		}
	}
	if err != nil {
		return err
	}
	return r.root.RemoveAll(name)
}

// survey finds what is in the folder: what publish wrote, which is unchanged since, and what somebody else put there,
// which must not have a name of the site's.
func (r *replacement) survey() error {
	info, err := r.root.Lstat(r.name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		r.fresh = true
		return nil
	case err != nil:
		return err
	case info.Mode().Type() == fs.ModeSymlink:
		return errors.New("it is a symbolic link; name the folder itself")
	case !info.IsDir():
		return errors.New("it is a file; name a folder")
	}
	r.mode = info.Mode().Perm() // who may look into the site is the owner's choice
	if r.before, err = readList(r.root, r.name); err != nil {
		return err
	}
	// Folders that hold what publish wrote come by themselves; others are carried along, empty ones too.
	holds := map[string]bool{".": true}
	for file := range r.before {
		for dir := path.Dir(file); dir != "."; dir = path.Dir(dir) {
			holds[dir] = true
		}
	}
	var faults []error // all at once: who tidies up wants the whole list
	err = fs.WalkDir(r.root.FS(), r.name, func(at string, entry fs.DirEntry, err error) error {
		if err != nil || at == r.name {
			return err
		}
		file := strings.TrimPrefix(at, r.name+"/")
		if entry.IsDir() && holds[file] {
			return nil // what is in it is judged one by one
		}
		switch fault := r.judge(file, entry); {
		case fault != nil:
			faults = append(faults, fault)
		case entry.IsDir():
			r.folders = append(r.folders, file)
		case r.before[file] == "":
			r.carried = append(r.carried, file)
		}
		return nil
	})
	return errors.Join(append(faults, err)...)
}

// readList reads what publish wrote into a folder: SHA-256 by path, nothing where there is no list. The list is a file
// in a folder that others may write to, so that its paths are held to lie within the site: files are removed by it.
func readList(root *os.Root, dir string) (map[string]string, error) {
	text, err := root.ReadFile(path.Join(dir, listName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	var l publishedList
	err = json.Unmarshal(text, &l)
	for file := range l.Files {
		if !fs.ValidPath(file) {
			err = fmt.Errorf("%q is no path within the site", file)
		}
	}
	if err != nil || len(l.Files) == 0 {
		return nil, fmt.Errorf("%s, which lists what publish wrote, cannot be read; empty the folder or choose "+
			"another: "+
			"%v", listName, err)
	}
	l.Files[listName] = digest(text)
	return l.Files, nil
}

// judge says why a file or folder cannot be replaced or carried along. Pages, assets and schemas are publish's own:
// what lies there without being listed may be private, and from a publication whose list is lost.
func (r *replacement) judge(file string, entry fs.DirEntry) error {
	want, listed := r.before[file]
	if !listed {
		_, taken := r.site[file]
		top, _, _ := strings.Cut(file, "/")
		if taken || top == "assets" || top == "schema" || pagePattern.MatchString(file) {
			return fmt.Errorf("%s was not written by publish and has a name of the site's; move it away", file)
		}
		if kind := entry.Type(); !kind.IsRegular() && !kind.IsDir() && kind != fs.ModeSymlink {
			return fmt.Errorf("%s is no file, folder or link; move it away", file)
		}
		return nil
	}
	if !entry.Type().IsRegular() {
		return fmt.Errorf("%s is no longer the file that publish wrote; move it away", file)
	}
	text, err := r.root.ReadFile(path.Join(r.name, file))
	if err == nil && digest(text) != want {
		err = fmt.Errorf("%s was changed since publish wrote it; move it away, so that the change is not lost", file)
	}
	return err
}

// write makes the new folder. Nobody else can look into it before it is whole: a killed one may hold what is private.
func (r *replacement) write(ctx context.Context) error {
	if err := r.root.Mkdir(r.beside, 0o700); err != nil {
		return err
	}
	paths := r.site.paths()
	list := slices.Index(paths, listName)
	if list < 0 { // then the next publication would know nothing of this one
		return errors.New("the site has no list of its files")
	}
	paths[0], paths[list] = paths[list], paths[0] // first, so that what is left of a kill is known
	// Between two files it can be stopped; one file takes no time that anybody would notice.
	for _, file := range paths {
		if ctx.Err() != nil {
			return errInterrupted
		}
		if err := r.writeFile(path.Join(r.beside, file), r.site[file]); err != nil {
			return err
		}
	}
	for _, dir := range r.folders {
		if err := r.root.MkdirAll(path.Join(r.beside, dir), 0o755); err != nil {
			return err
		}
	}
	for _, file := range r.carried {
		if ctx.Err() != nil {
			return errInterrupted
		}
		if err := r.carry(path.Join(r.name, file), path.Join(r.beside, file)); err != nil {
			return err
		}
	}
	if ctx.Err() != nil {
		return errInterrupted
	}
	// Whole: from here only names change.
	return r.root.Chmod(r.beside, r.mode)
}

var errInterrupted = errors.New("it was interrupted")

// writeFile writes a file to the disk itself: a rename must not be there before what it names. It is new in a folder
// that nobody else writes to, so that a file that is there already is a fault of ours.
func (r *replacement) writeFile(name string, text []byte) error {
	if err := r.root.MkdirAll(path.Dir(name), 0o755); err != nil {
		return err
	}
	f, err := r.root.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Sync(), f.Close()) // a full disk may be told by any of them
}

// carry gives a file of somebody else its place in the new folder, too: as a second name of the same file, or as a copy
// where the disk knows none. A link is made again and not followed.
func (r *replacement) carry(from, to string) error {
	info, err := r.root.Lstat(from)
	if err != nil {
		return err
	}
	if info.Mode().Type() == fs.ModeSymlink {
		target, err := r.root.Readlink(from)
		if err != nil {
			return err
		}
		return r.root.Symlink(target, to)
	}
	// A second name takes no room, keeps owner and dates, and leaves the file itself alone.
	if r.root.Link(from, to) == nil {
		return nil
	}
	in, err := r.root.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := r.root.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, info.Mode().Perm())
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close(), r.root.Chtimes(to, info.ModTime(), info.ModTime()))
}

// movedAway ends the name of an old folder where the system cannot exchange two.
const movedAway = ".before-publishing"

// swap puts the new folder in the place of the old one, and says where the old one is then; "" where there was none.
// Where the system can, both change names in one step. Else the site is gone for a moment between two renames, and a
// publication that was killed right there is put right by the next.
func (r *replacement) swap() (old string, err error) {
	switch {
	case r.fresh:
		err = r.root.Rename(r.beside, r.name)
	default:
		old = r.beside
		if err = exchange(r.parent, r.beside, r.name); errors.Is(err, errors.ErrUnsupported) {
			old = r.name + movedAway
			if err = r.root.Rename(r.name, old); err == nil {
				if err = r.root.Rename(r.beside, r.name); err != nil {
					err = errors.Join(err, r.root.Rename(old, r.name))
				}
			}
		}
	}
	// From here the new site is what visitors get.
	_ = r.parent.Sync() // some systems cannot; then the names reach the disk in their own time
	return old, err
}

// clear removes the old folder: what publish wrote, and the second names of what was carried along. Whatever else came
// into it meanwhile stays, and is named.
func (r *replacement) clear(old string) error {
	if old == "" {
		return nil
	}
	// What was public until now may be private from now on: nobody is to look into it while it goes.
	err := r.root.Chmod(old, 0o700)
	remove := func(name string) {
		if e := r.root.Remove(name); !errors.Is(e, fs.ErrNotExist) { // somebody may have removed it before
			err = errors.Join(err, e)
		}
	}
	files := append([]string{}, r.carried...)
	for file := range r.before {
		if file != listName {
			files = append(files, file)
		}
	}
	folders := map[string]bool{}
	for _, dir := range r.folders {
		folders[dir] = true
	}
	for _, file := range files {
		remove(path.Join(old, file))
		for dir := path.Dir(file); dir != "."; dir = path.Dir(dir) {
			folders[dir] = true
		}
	}
	// Only empty folders go; one that is not has something that came meanwhile.
	var inner []string
	for dir := range folders {
		inner = append(inner, path.Join(old, dir))
	}
	slices.Sort(inner)
	for _, dir := range slices.Backward(inner) { // what is inside comes behind
		remove(dir)
	}
	remove(path.Join(old, listName)) // the last of all, as discard does
	remove(old)
	if err != nil {
		// Under a name that the next publication leaves alone.
		aside := r.name + ".left-over"
		err = fmt.Errorf("the new site is there; what was left of the old folder is in %s: %w", aside, err)
		err = errors.Join(err, r.root.Rename(old, aside))
	}
	return err
}
