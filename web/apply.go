package main

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"ribband/core/book/amend"
)

// An edit of the book is written whole or not at all: every file is looked at before the first is written, each is
// replaced in one step, and where one cannot be, those before it get their old bytes back. A power cut between two
// files leaves some of them new, each whole; the same command then does the rest.

// An owner may keep his book in a folder that others share: what they have written since is theirs.

// applyEdit writes an edit into the folder of its book. It refuses a file that is not what the edit was made from, and
// one that lies outside of the folder behind a symbolic link.
func applyEdit(dir string, e *amend.Edit) (names []string, err error) {
	// sorted, so that what is told of a failure is the same each time
	after := e.Apply()
	names = slices.Sorted(maps.Keys(after))
	files := map[string]string{} // where they lie
	for _, name := range names {
		if files[name], err = inFolder(dir, name); err != nil {
			return nil, err
		}
		// by its bytes: a time of a file says little, and an editor may be open for hours
		now, err := os.ReadFile(files[name])
		if err != nil {
			return nil, err
		}
		if !bytes.Equal(now, e.Was(name)) {
			return nil, fmt.Errorf("writing %s: it was changed since it was read; begin anew", files[name])
		}
	}
	// all were looked at: from here on only the disk can refuse
	for i, name := range names {
		if err := replaceFile(files[name], after[name]); err != nil {
			// those before get their old bytes back; what fails then, too, is told with the first failure
			for _, done := range names[:i] {
				err = errors.Join(err, replaceFile(files[done], e.Was(done)))
			}
			return nil, fmt.Errorf("writing %s: %w; the book is as it was", files[name], err)
		}
	}
	return names, nil
}

// A link within the folder is followed and stays: two files of a book may be one.

// inFolder is where a file of a folder lies, which is in the folder.
func inFolder(dir, name string) (string, error) {
	// the folder itself may be a link: whoever names it has seen it
	folder, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return "", err
	}
	file, err := filepath.EvalSymlinks(filepath.Join(folder, filepath.FromSlash(name)))
	if err != nil {
		return "", err
	}
	if !strings.HasPrefix(file, folder+string(filepath.Separator)) {
		return "", fmt.Errorf("writing %s: it is a symbolic link to %s, outside of the book; write there by hand, or "+
			"put the file into the book", filepath.Join(dir, name), file)
	}
	return file, nil
}
