package seal_test

import (
	"encoding/base64"
	"strings"
	"testing"

	"ribband/core/msg"
	"ribband/core/seal"
)

func base(s string) string { return base64.RawURLEncoding.EncodeToString([]byte(s)) }

func newKey(t testing.TB, n byte) seal.Key {
	t.Helper()
	k, err := seal.NewKey(chance(n))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func TestSignAndVerify(t *testing.T) {
	ours, others := newKey(t, 1), newKey(t, 2)
	keys := []seal.Key{newKey(t, 3).Public(), ours.Public()}
	payload := []byte(`{"total":"8220.00"}`)
	s, err := seal.Sign(ours, payload)
	if err != nil {
		t.Fatal(err)
	}
	if again, _ := seal.Sign(ours, payload); again != s {
		t.Error("signed again it is another")
	}
	theirs, err := seal.Sign(others, payload)
	if err != nil {
		t.Fatal(err)
	}
	head, signature, _ := strings.Cut(s, "..")
	_, foreign, _ := strings.Cut(theirs, "..")
	for name, c := range map[string]struct {
		signature, payload string
		want               msg.Code
	}{
		"as it was":             {s, string(payload), ""},
		"none":                  {"", string(payload), seal.NotSigned},
		"another payload":       {s, `{"total":"8220.01"}`, seal.Mismatch},
		"another key":           {theirs, string(payload), seal.OtherKey},
		"another key, our name": {head + ".." + foreign, string(payload), seal.Mismatch},
		"no algorithm":          {base(`{"alg":"none","kid":"`+ours.ID()+`"}`) + "..", string(payload), seal.Mismatch},
		"symmetric": {base(`{"alg":"HS256","kid":"`+ours.ID()+`"}`) + ".." + signature, string(payload),
			seal.Mismatch},
		"a key brought along": {base(`{"alg":"EdDSA","jwk":`+string(others.Public().Encode())+`}`) + ".." + foreign,
			string(payload), seal.OtherKey},
		"payload inside": {head + "." + base(string(payload)) + "." + signature, string(payload), seal.Mismatch},
		"rubbish":        {"rubbish", string(payload), seal.Mismatch},
		"long":           {strings.Repeat("x", 3000), string(payload), seal.Mismatch},
		"a space":        {s + " ", string(payload), seal.Mismatch},
		"a line end":     {s + "\n", string(payload), seal.Mismatch},
	} {
		t.Run(name, func(t *testing.T) {
			err := seal.Verify(keys, c.signature, []byte(c.payload))
			if c.want == "" && err != nil || c.want != "" && !seal.Is(err, c.want) {
				t.Errorf("%v, want %s", err, c.want)
			}
		})
	}
}

// No byte of a signature is idle.
func TestEveryByteOfASignatureCounts(t *testing.T) {
	k, payload := newKey(t, 1), []byte("payload")
	s, err := seal.Sign(k, payload)
	if err != nil {
		t.Fatal(err)
	}
	for i := range len(s) {
		for c := range 256 {
			if byte(c) == s[i] {
				continue
			}
			if seal.Verify([]seal.Key{k.Public()}, s[:i]+string([]byte{byte(c)})+s[i+1:], payload) == nil {
				t.Fatalf("byte %d is %#x for %q, and it verifies", i, c, s[i])
			}
		}
	}
}

func TestKeys(t *testing.T) {
	k := newKey(t, 5)
	back, err := seal.ReadKey(k.Encode())
	if err != nil || back != k {
		t.Errorf("read back it is %+v (%v)", back.Public(), err)
	}
	if public := k.Public(); public.D != "" || strings.Contains(string(public.Encode()), k.D) || public.ID() != k.ID() {
		t.Errorf("the public key is %s", public.Encode())
	}
	if _, err := seal.Sign(k.Public(), nil); err == nil || !strings.Contains(err.Error(), "signing") {
		t.Errorf("signed with a public key: %v", err)
	}
	other := newKey(t, 6)
	for name, text := range map[string]string{
		"nothing": "", "no JSON": "{", "a list": "[]", "another kind": `{"kty":"EC","crv":"P-256","x":"AA","y":"AA"}`,
		"another curve": strings.Replace(string(k.Encode()), "Ed25519", "X25519", 1),
		"a short x":     `{"kty":"OKP","crv":"Ed25519","x":"AAAA"}`,
		"no base64url":  strings.Replace(string(k.Encode()), k.X, k.X[:42]+"+", 1),
		"two halves":    strings.Replace(string(k.Encode()), k.X, other.X, 1),
		"a short d":     strings.Replace(string(k.Encode()), k.D, "AAAA", 1),
		"long":          string(k.Encode()) + strings.Repeat(" ", 5000),
	} {
		if _, err := seal.ReadKey([]byte(text)); !seal.Is(err, seal.NoKey) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
