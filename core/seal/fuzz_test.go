package seal_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"ribband/core/seal"
)

// FuzzHeader: whatever stands at the head of a sealed file, reading it ends in a header within bounds or an error.
func FuzzHeader(f *testing.F) {
	f.Add(sealed(f, "private"))
	f.Add("....")
	f.Add(base(`{"alg":"PBES2-HS512+A256KW","enc":"A256GCM","zip":"DEF","p2c":1000,"format":1}`) + "....")
	f.Fuzz(func(t *testing.T, text string) {
		if head, err := seal.HeaderOf(text); err == nil && (head.Rounds < 1000 || head.Rounds > seal.MaxRounds) {
			t.Errorf("%d rounds", head.Rounds)
		}
	})
}

// FuzzOpen: no sealed file makes opening panic. Run it with few workers: each input makes a key of 1,000 rounds.
func FuzzOpen(f *testing.F) {
	f.Add(sealed(f, "private"), phrase)
	f.Add("....", "")
	f.Fuzz(func(t *testing.T, text, secret string) {
		if head, err := seal.HeaderOf(text); err == nil && head.Rounds > 2000 {
			t.Skip("it takes too long here")
		}
		content, err := seal.Open(text, secret, "")
		if err == nil && secret != phrase {
			t.Errorf("opened to %q with the phrase %q", content, secret)
		}
	})
}

// FuzzVerify: nothing but the signature of the key verifies.
func FuzzVerify(f *testing.F) {
	k := newKey(f, 1)
	s, err := seal.Sign(k, []byte("payload"))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(s, []byte("payload"))
	f.Add(base(`{"alg":"EdDSA","kid":"`+k.ID()+`"}`)+"..", []byte("payload"))
	f.Fuzz(func(t *testing.T, signature string, payload []byte) {
		err := seal.Verify([]seal.Key{k.Public()}, signature, payload)
		if (err == nil) != (signature == s && string(payload) == "payload") {
			t.Errorf("%q over %q: %v", signature, payload, err)
		}
	})
}

// FuzzKey: what is read as a key is written and read again the same.
func FuzzKey(f *testing.F) {
	f.Add(newKey(f, 1).Encode())
	f.Add(newKey(f, 1).Public().Encode())
	f.Add([]byte(`{"kty":"OKP","crv":"Ed25519","x":""}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		k, err := seal.ReadKey(text)
		if err != nil {
			return
		}
		if again, err := seal.ReadKey(k.Encode()); err != nil || again != k || again.ID() != k.ID() {
			t.Errorf("%q reads as %+v and then as %+v (%v)", text, k, again, err)
		}
	})
}

// FuzzCanonical: the canonical form is JSON of the same meaning, and its own canonical form.
func FuzzCanonical(f *testing.F) {
	f.Add([]byte(`{"b":[1e2,-0.0,true,null],"a":"\u20ac\ud83d\ude00"}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		once, err := seal.Canonical(text)
		if err != nil {
			return
		}
		if !json.Valid(once) {
			t.Fatalf("%q becomes %q, which is no JSON", text, once)
		}
		if twice, err := seal.Canonical(once); err != nil || !bytes.Equal(once, twice) {
			t.Errorf("%q becomes %q and then %q (%v)", text, once, twice, err)
		}
	})
}
