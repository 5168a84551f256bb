package seal_test

import (
	"crypto/ed25519"
	"strings"
	"testing"

	"github.com/go-jose/go-jose/v4"

	"ribband/core/seal"
)

// A library of somebody else opens what is sealed here, and seals what is opened here.
func TestPeerSeals(t *testing.T) {
	content := "what an hour costs: 61.50"
	object, err := jose.ParseEncryptedCompact(sealed(t, content), []jose.KeyAlgorithm{jose.PBES2_HS512_A256KW},
		[]jose.ContentEncryption{jose.A256GCM})
	if err != nil {
		t.Fatal(err)
	}
	if text, err := object.Decrypt([]byte(phrase)); err != nil || string(text) != content {
		t.Errorf("the peer opens %q (%v)", text, err)
	}
	if _, err := object.Decrypt([]byte("another phrase")); err == nil {
		t.Error("the peer opens it with another phrase")
	}
	options := (&jose.EncrypterOptions{Compression: jose.DEFLATE}).WithHeader("format", seal.Format).
		WithHeader("edition", edition).WithHeader("desk", "show")
	encrypter, err := jose.NewEncrypter(jose.A256GCM, jose.Recipient{Algorithm: jose.PBES2_HS512_A256KW,
		Key: phrase, PBES2Count: few, PBES2Salt: []byte("sixteen bytes ok")}, options)
	if err != nil {
		t.Fatal(err)
	}
	theirs, err := encrypter.Encrypt([]byte(content))
	if err != nil {
		t.Fatal(err)
	}
	compact, err := theirs.CompactSerialize()
	if err != nil {
		t.Fatal(err)
	}
	if text, err := seal.Open(compact, phrase, edition); err != nil || string(text) != content {
		t.Errorf("of the peer's we open %q (%v)", text, err)
	}
}

func TestPeerSignatures(t *testing.T) {
	k, payload := newKey(t, 9), []byte(`{"total":"8220.00"}`)
	s, err := seal.Sign(k, payload)
	if err != nil {
		t.Fatal(err)
	}
	object, err := jose.ParseDetached(s, payload, []jose.SignatureAlgorithm{jose.EdDSA})
	if err != nil {
		t.Fatal(err)
	}
	var jwk jose.JSONWebKey
	if err := jwk.UnmarshalJSON(k.Public().Encode()); err != nil {
		t.Fatal(err)
	}
	if _, err := object.Verify(jwk.Key); err != nil || object.Signatures[0].Header.KeyID != k.ID() {
		t.Errorf("the peer does not verify: %v, key %s", err, object.Signatures[0].Header.KeyID)
	}
	if err := object.DetachedVerify([]byte(`{"total":"8220.01"}`), jwk.Key); err == nil {
		t.Error("the peer verifies another payload")
	}
	private := jose.JSONWebKey{Key: ed25519.NewKeyFromSeed(unbase(t, k.D)), KeyID: k.ID()}
	signer, err := jose.NewSigner(jose.SigningKey{Algorithm: jose.EdDSA, Key: private}, nil)
	if err != nil {
		t.Fatal(err)
	}
	theirs, err := signer.Sign(payload)
	if err != nil {
		t.Fatal(err)
	}
	compact, err := theirs.DetachedCompactSerialize()
	if err != nil {
		t.Fatal(err)
	}
	if err := seal.Verify([]seal.Key{k.Public()}, compact, payload); err != nil {
		t.Errorf("we do not verify the peer's: %v", err)
	}
}

// A content sealed with the phrase of the RFC's own vector, whose dashes are no ASCII, is opened by both alike.
func TestPeerPhraseBeyondASCII(t *testing.T) {
	secret := published(t).JWE.Phrase
	if !strings.Contains(secret, "–") {
		t.Fatalf("the phrase is %q", secret)
	}
	text, err := seal.SealAfter(chance(4), secret, edition, "show", []byte("private"), few)
	if err != nil {
		t.Fatal(err)
	}
	object, err := jose.ParseEncryptedCompact(text, []jose.KeyAlgorithm{jose.PBES2_HS512_A256KW},
		[]jose.ContentEncryption{jose.A256GCM})
	if err != nil {
		t.Fatal(err)
	}
	if opened, err := object.Decrypt([]byte(secret)); err != nil || string(opened) != "private" {
		t.Errorf("the peer opens %q (%v)", opened, err)
	}
}
