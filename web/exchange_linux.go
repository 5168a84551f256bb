package main

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// exchange has two folders of a parent change their names in one step. Some file systems cannot.
func exchange(parent *os.File, a, b string) error {
	fd := int(parent.Fd())
	err := unix.Renameat2(fd, a, fd, b, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.ENOSYS) || errors.Is(err, unix.EINVAL) || errors.Is(err, unix.EOPNOTSUPP) {
		return errors.ErrUnsupported
	}
	if err != nil {
		return &os.LinkError{Op: "exchange", Old: a, New: b, Err: err}
	}
	return nil
}

// lockFolder keeps a second publication out as long as this process lives or has the folder open.
func lockFolder(parent *os.File) error {
	return unix.Flock(int(parent.Fd()), unix.LOCK_EX|unix.LOCK_NB)
}
