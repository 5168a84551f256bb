package source

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"ribband/core/book"
	"ribband/core/photo"
	"ribband/core/suggest"
)

// What the page has of a picture is made while the book is read: only so is it known that the file is one. It takes
// a second for some large ones, and is kept for the next save.

// pictureTypes are how the files of pictures end; whoever waits for saves goes by them, too.
var pictureTypes = []string{".jpg", ".jpeg", ".png"}

// Names says whether a file of this name may belong to a book.
func Names(name string) bool {
	return slices.Contains(append([]string{".yaml", ".yml", ".csv"}, pictureTypes...), strings.ToLower(path.Ext(name)))
}

// madeOf is what was made of the file of a picture, or why nothing was.
type madeOf struct {
	size    int64
	changed time.Time
	files   []photo.File
	err     error
}

// workers bound how many files are read at the same time: each may take 200 MB while it is decoded.
const workers = 4

// pictures reads the files of all pictures of the book, each once, and gives what is to be kept of them.
func (d *decoder) pictures(b *book.Book, before map[string]madeOf) map[string]madeOf {
	// one picture may show several options; a file that is not named was reported as that
	var names []string
	for _, p := range b.Pictures() {
		if p.File.Value != "" {
			names = append(names, p.File.Value)
		}
	}
	slices.Sort(names)
	names = slices.Compact(names)
	// on all cores, but few at a time: a book may have some hundred
	made, next := make([]madeOf, len(names)), make(chan int)
	var all sync.WaitGroup
	for range min(workers, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for i := range next {
				made[i] = d.picture(names[i], before[names[i]])
			}
		})
	}
	for i := range names {
		next <- i
	}
	close(next)
	all.Wait()
	// in the order of the book, whichever was read first
	kept := map[string]madeOf{}
	for i, name := range names {
		kept[name] = made[i]
	}
	for _, p := range b.Pictures() {
		m := kept[p.File.Value]
		if p.Show(m.files); m.err == nil {
			continue
		}
		// what the file system says has a remedy of its own
		var wrong *photo.Error
		if !errors.As(m.err, &wrong) {
			wrong = &photo.Error{Message: m.err.Error(), Advice: "write its path from the folder of the book, like " +
				"photos/teak.jpg"}
		}
		d.error(p.File.At, fmt.Sprintf("the picture %q cannot be used: %s", suggest.Clip(p.File.Value, 60),
			wrong.Message), wrong.Advice)
	}
	return kept
}

// picture makes what the page has of a file, or gives what was made of it before.
func (d *decoder) picture(name string, before madeOf) madeOf {
	// within the folder of the book, as tables are
	if !fs.ValidPath(name) || !slices.Contains(pictureTypes, strings.ToLower(path.Ext(name))) {
		return madeOf{err: errors.New("it names no JPEG or PNG file in the folder of the book")}
	}
	info, err := fs.Stat(d.fsys, name)
	if err != nil {
		return madeOf{err: errors.Unwrap(err)}
	}
	m := madeOf{size: info.Size(), changed: info.ModTime()}
	// a folder in memory tells no time
	if m.size == before.size && m.changed.Equal(before.changed) && !m.changed.IsZero() {
		return before
	}
	// before it is read: what is far too large may be anything
	if err := photo.TooLarge(m.size); err != nil {
		m.err = err
		return m
	}
	text, err := fs.ReadFile(d.fsys, name)
	if err == nil {
		m.files, err = photo.Make(text)
	}
	m.err = err
	return m
}
