package seal

import (
	"crypto/ed25519"
	"encoding/json"
	"fmt"
	"strings"
)

// maxSignature bounds a signature with its head, in bytes: a sound one has some 200.
const maxSignature = 2 << 10

// signedBy is the protected head of a signature.
type signedBy struct {
	Algorithm string `json:"alg"`
	Key       string `json:"kid"` // [Key.ID]
}

// edDSA is the one algorithm: "none", and a public key that is taken for a secret one, are how such checks were broken.
const edDSA = "EdDSA"

// Sign signs a payload as a compact JWS whose payload is left out, since it stands beside it: "head..signature". The
// same key and payload give the same bytes.
//
// Source: RFC 7515, 5.1 and appendix F; RFC 8037, 3.1.
func Sign(k Key, payload []byte) (string, error) {
	private, err := k.private()
	if err != nil {
		return "", fmt.Errorf("signing: %w", err)
	}
	text, err := json.Marshal(signedBy{edDSA, k.ID()})
	if err != nil {
		return "", fmt.Errorf("signing: %w", err)
	}
	head := base64url.EncodeToString(text)
	signature := ed25519.Sign(private, signingInput(head, payload))
	return head + ".." + base64url.EncodeToString(signature), nil
}

// signingInput is what is signed: head and payload as they stand in a compact JWS.
func signingInput(head string, payload []byte) []byte {
	return []byte(head + "." + base64url.EncodeToString(payload))
}

// Verify says whether a payload was signed with one of some keys: nil, or an error with the code [NotSigned],
// [OtherKey] or [Mismatch]. The keys are the yard's, not the signature's: a key that a file brings along proves
// nothing, and neither does an algorithm that it names.
func Verify(keys []Key, signature string, payload []byte) error {
	if signature == "" {
		return fault(NotSigned, "there is no signature")
	}
	parts := strings.Split(signature, ".")
	if len(signature) > maxSignature || len(parts) != 3 || parts[1] != "" {
		return fault(Mismatch, "%d parts in %d bytes", len(parts), len(signature))
	}
	text, err := decoded(parts[0])
	if err != nil {
		return fault(Mismatch, "the head: %v", err)
	}
	var head signedBy
	if err := json.Unmarshal(text, &head); err != nil || head.Algorithm != edDSA {
		return fault(Mismatch, "alg %.20q: %v", head.Algorithm, err)
	}
	bytes, err := decoded(parts[2])
	if err != nil || len(bytes) != ed25519.SignatureSize {
		return fault(Mismatch, "a signature of %d bytes: %v", len(bytes), err)
	}
	// a yard that has changed its key keeps the old one in the book, so that old papers are still proved
	for _, k := range keys {
		if k.ID() != head.Key {
			continue
		}
		public, err := k.public()
		if err != nil {
			return err
		}
		if !ed25519.Verify(public, signingInput(parts[0], payload), bytes) {
			return fault(Mismatch, "by the key %.12s", head.Key)
		}
		return nil
	}
	return fault(OtherKey, "the key %.12s is none of %d", head.Key, len(keys))
}
