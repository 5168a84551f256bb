package seal

import (
	"crypto/aes"
	"crypto/subtle"
	"encoding/binary"
	"errors"
)

// wrapIV is the initial value by which a wrong key is found. RFC 3394, 2.2.3.1.
const wrapIV = 0xa6a6a6a6a6a6a6a6

// errUnwrap does not say why: there is nothing to know.
var errUnwrap = errors.New("the wrapped key does not come out whole")

// wrap encrypts a key of n times 8 bytes, n at least 2, with another of 16, 24 or 32 bytes.
//
// Source: RFC 3394, 2.2.1, in the form that works in place.
func wrap(kek, key []byte) ([]byte, error) {
	block, err := aes.NewCipher(kek)
	if err != nil {
		return nil, err
	}
	if len(key) < 16 || len(key)%8 != 0 {
		return nil, errors.New("a key to wrap has a multiple of 8 bytes, at least 16")
	}
	n := len(key) / 8
	out := make([]byte, 8+len(key))
	copy(out[8:], key)
	var b [16]byte
	binary.BigEndian.PutUint64(b[:8], wrapIV)
	for j := range 6 {
		for i := 1; i <= n; i++ {
			copy(b[8:], out[8*i:])
			block.Encrypt(b[:], b[:])
			t := binary.BigEndian.Uint64(b[:8]) ^ uint64(n*j+i)
			binary.BigEndian.PutUint64(b[:8], t)
			copy(out[8*i:8*i+8], b[8:])
		}
	}
	copy(out, b[:8])
	return out, nil
}

// unwrap is the inverse of [wrap]. It fails where the key or the wrapped text is not the one of before.
//
// Source: RFC 3394, 2.2.2.
func unwrap(kek, wrapped []byte) ([]byte, error) {
	block, err := aes.NewCipher(kek)
	if err != nil {
		return nil, err
	}
	if len(wrapped) < 24 || len(wrapped)%8 != 0 {
		return nil, errUnwrap
	}
	n := len(wrapped)/8 - 1
	out := make([]byte, len(wrapped))
	copy(out, wrapped)
	var b [16]byte
	copy(b[:8], out)
	for j := 5; j >= 0; j-- {
		for i := n; i >= 1; i-- {
			t := binary.BigEndian.Uint64(b[:8]) ^ uint64(n*j+i)
			binary.BigEndian.PutUint64(b[:8], t)
			copy(b[8:], out[8*i:])
			block.Decrypt(b[:], b[:])
			copy(out[8*i:8*i+8], b[8:])
		}
	}
	var want [8]byte
	binary.BigEndian.PutUint64(want[:], wrapIV)
	if subtle.ConstantTimeCompare(want[:], b[:8]) != 1 { // how far it agrees is nobody's business
		return nil, errUnwrap
	}
	return out[8:], nil
}
