package amend

import (
	"bytes"
	"io"
	"io/fs"
	"time"
)

// After is the book as it is with the edit, to be read before anybody writes it.
func (e *Edit) After() fs.FS { return &after{e.folder, e.Apply()} }

// after is a folder of which some files have other contents.
type after struct {
	fs.FS
	files map[string][]byte
}

// Open opens a file of the edit, or one of the folder.
func (a *after) Open(name string) (fs.File, error) {
	text, changed := a.files[name]
	if !changed {
		return a.FS.Open(name)
	}
	return &changedFile{Reader: bytes.NewReader(text), name: name, size: int64(len(text))}, nil
}

// changedFile is a file of the edit. It has no time of its own: nothing here asks for one.
type changedFile struct {
	*bytes.Reader
	name string
	size int64
}

var _ io.Reader = (*changedFile)(nil)

func (f *changedFile) Stat() (fs.FileInfo, error) { return f, nil }
func (f *changedFile) Close() error               { return nil }
func (f *changedFile) Name() string               { return f.name }
func (f *changedFile) Size() int64                { return f.size }
func (f *changedFile) Mode() fs.FileMode          { return 0o444 }
func (f *changedFile) ModTime() time.Time         { return time.Time{} }
func (f *changedFile) IsDir() bool                { return false }
func (f *changedFile) Sys() any                   { return nil }
