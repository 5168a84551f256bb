package book

import "encoding/base64"

// Key is the public half of a key that signs quotations, as `web key` writes it: a JWK in one line of the book.
type Key struct {
	// Kind of key: OKP.
	Type Text `yaml:"kty,required"`
	// Curve: Ed25519.
	Curve Text `yaml:"crv,required"`
	// The public key itself, 32 bytes in base64url.
	Public Text `yaml:"x,required"`
}

// keys reports what nobody could verify a quotation with. The private half has no key in the book, since the book is
// where it is published from.
func (v *validation) keys() {
	const again = "copy the line anew that go run ./web key wrote; it begins with { and ends with }"
	seen := map[string]bool{}
	for _, k := range v.book.Yard.SigningKeys {
		x, err := base64.RawURLEncoding.Strict().DecodeString(k.Public.Value)
		switch {
		case k.Type.Value != "OKP":
			v.error(k.Type.At, again, "the kind of key %q is none that signs here: want OKP", k.Type)
		case k.Curve.Value != "Ed25519":
			v.error(k.Curve.At, again, "the curve %q is none that signs here: want Ed25519", k.Curve)
		case err != nil || len(x) != 32:
			v.error(k.Public.At, again, "the key %q is none: want 43 letters, digits, - and _", k.Public)
		case seen[k.Public.Value]:
			v.error(k.Public.At, "leave it out here", "the key %q is there twice", k.Public)
		}
		seen[k.Public.Value] = true
	}
	v.within(v.book.Yard.LockAfterMinutes, Limits.LockMinutes, "the time after which a desk is locked")
	v.count(v.book.Yard.LockAfterMinutes, 1, "the minutes after which a desk is locked")
}
