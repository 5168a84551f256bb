package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"ribband/core/pack"
	"ribband/core/seal"
)

// makeKey makes the yard's key. It asks for no phrase: the file is for a machine that signs many quotations, and its
// mode keeps others on that machine away. Whoever can read the owner's files can read the book with all its costs as
// well.
func makeKey(_ context.Context, c *console, args []string) error {
	f := newBookless(c, "key", "key [-out FILE]")
	out := f.String("out", "yard-key.json", "file for the private key; it must not be there yet")
	f.about = "Makes the key with which the yard signs its quotations, once and for all. The file that it writes is " +
		"the yard's seal: whoever has it can sign in the yard's name. Keep it on the yard's own machine, with a copy " +
		"in a safe place, and never beside the published site. The line that it prints is for everybody: put it into " +
		"the book, and publish."
	if err := f.parse(args); err != nil {
		return err
	}
	k, err := seal.NewKey(rand.Reader)
	if err != nil {
		return err
	}
	// never over another: what that has signed could not be signed again, and nobody would know why
	if err := writeNew(*out, k.Encode(), 0o600); err != nil {
		return fmt.Errorf("making the yard's key: %w", err)
	}
	fmt.Fprintf(c.out, "Wrote the private key to %s; keep it to yourself. Add its public half to the book, in "+
		"yard.yaml "+
		"under yard:, and publish:\n  signing_keys:\n    - %s", *out, k.Public().Encode())
	return nil
}

// writeNew writes a file that must not be there yet: nothing is ever overwritten. What it wrote is on the disk when it
// comes back.
func writeNew(name string, text []byte, mode fs.FileMode) error {
	file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already, and is left as it is; choose another with -out FILE", name)
	}
	if err != nil {
		return err
	}
	// on the disk, and not only on its way there: a key that is gone with the next power cut cannot be made again
	_, err = file.Write(text)
	if err == nil {
		err = file.Sync()
	}
	if closed := file.Close(); err == nil {
		err = closed
	}
	if err != nil { // a half of a file is worse than none
		_ = os.Remove(name)
	}
	return err
}

// The pack has its own type of a key, since the engine in the page carries no package of cryptography.

// keysOf are the keys by which a pack's quotations are verified.
func keysOf(p *pack.Pack) (list []seal.Key) {
	for _, k := range p.SigningKeys {
		list = append(list, seal.Key{Type: k.Type, Curve: k.Curve, X: k.X})
	}
	return list
}
