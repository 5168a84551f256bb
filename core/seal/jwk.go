package seal

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
)

// Key is a yard's key as JWK: with D the private one, which signs; without it the public one, which anybody may have.
type Key struct {
	Type  string `json:"kty"`         // OKP
	Curve string `json:"crv"`         // Ed25519
	X     string `json:"x"`           // the public key, base64url
	D     string `json:"d,omitempty"` // the private one, base64url
}

// RFC 8037 has other curves under the same type; a yard has no use for a choice.
const (
	keyType = "OKP"
	curve   = "Ed25519"
	maxKey  = 4 << 10 // bytes of a file with a key
)

// NewKey makes a key of 32 bytes from a source for cryptography. Whoever has the same bytes has the same key.
func NewKey(random io.Reader) (Key, error) {
	bytes := make([]byte, ed25519.SeedSize)
	if _, err := io.ReadFull(random, bytes); err != nil {
		return Key{}, fmt.Errorf("making a key: no random bytes: %w", err)
	}
	return keyOf(ed25519.NewKeyFromSeed(bytes)), nil
}

// keyOf writes a key pair. D is the seed of 32 bytes, as RFC 8037 has it, not the 64 bytes that Go works with.
func keyOf(private ed25519.PrivateKey) Key {
	return Key{keyType, curve, base64url.EncodeToString(private.Public().(ed25519.PublicKey)),
		base64url.EncodeToString(private.Seed())}
}

// ReadKey reads a key from JSON: members of other uses are passed over, as RFC 7517 section 4 asks for. A private key
// whose public half is another's is refused, since what it signs nobody could verify.
func ReadKey(text []byte) (Key, error) {
	if len(text) > maxKey {
		return Key{}, fault(NoKey, "%d bytes", len(text))
	}
	var k Key
	if err := json.Unmarshal(bytes.TrimSpace(text), &k); err != nil {
		return Key{}, fault(NoKey, "%v", err)
	}
	if _, err := k.public(); err != nil {
		return Key{}, err
	}
	if k.D != "" {
		if _, err := k.private(); err != nil {
			return Key{}, err
		}
	}
	return k, nil
}

// Public is the key without what must stay with the yard.
func (k Key) Public() Key {
	k.D = ""
	return k
}

// Encode writes the key as JSON on one line.
func (k Key) Encode() []byte {
	text, err := json.Marshal(k)
	if err != nil { // four texts marshal
		panic(fmt.Sprintf("core/seal: writing a key: %v", err))
	}
	return append(text, '\n')
}

// ID is the key's name by its thumbprint: SHA-256 over the members that make it, in base64url.
//
// Source: RFC 7638, 3; RFC 8037, 2.
func (k Key) ID() string {
	members := fmt.Sprintf(`{"crv":%q,"kty":%q,"x":%q}`, k.Curve, k.Type, k.X)
	sum := sha256.Sum256([]byte(members))
	return base64url.EncodeToString(sum[:])
}

// public is the key to verify with. Any 32 bytes pass: which of them are a point on the curve shows in verifying.
func (k Key) public() (ed25519.PublicKey, error) {
	if k.Type != keyType || k.Curve != curve {
		return nil, fault(NoKey, "kty %.20q and crv %.20q; want %s and %s", k.Type, k.Curve, keyType, curve)
	}
	x, err := decoded(k.X)
	if err != nil || len(x) != ed25519.PublicKeySize {
		return nil, fault(NoKey, "x has %d bytes: %v", len(x), err)
	}
	return x, nil
}

// private is the key to sign with, checked against its public half.
func (k Key) private() (ed25519.PrivateKey, error) {
	if k.D == "" {
		return nil, fault(NoKey, "it is a public key, and signing needs the private one")
	}
	d, err := decoded(k.D)
	if err != nil || len(d) != ed25519.SeedSize {
		return nil, fault(NoKey, "d has %d bytes: %v", len(d), err)
	}
	private := ed25519.NewKeyFromSeed(d)
	if keyOf(private).X != k.X {
		return nil, fault(NoKey, "x is not the public half of d")
	}
	return private, nil
}
