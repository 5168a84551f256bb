package seal_test

import (
	"bytes"
	"crypto/aes"
	"crypto/cipher"
	"crypto/ed25519"
	"crypto/hmac"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"math"
	"os"
	"path"
	"strconv"
	"strings"
	"testing"

	"ribband/core/seal"
)

// vectors are published values; testdata/vectors.json names the source of each.
type vectors struct {
	Wrap struct {
		Cases []struct{ KEK, Key, Wrapped string }
	}
	Derive struct {
		Phrase, Salt, Derived, Key, Wrapped string
		Rounds                              int
	}
	JWE struct{ Phrase, Compact, Key, Content string }
	JWS struct {
		Key                          json.RawMessage
		Payload, Compact, Thumbprint string
	}
	Canonical struct{ Cases []struct{ From, To string } }
	Numbers   struct{ Cases [][2]string }
	Ed25519   struct {
		Cases []struct {
			Public, Message, Signature, Comment string
			Valid                               bool
		}
	}
}

func published(t testing.TB) (v vectors) {
	t.Helper()
	text, err := os.ReadFile("testdata/vectors.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func unhex(t testing.TB, s string) []byte {
	t.Helper()
	b, err := hex.DecodeString(s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func unbase(t testing.TB, s string) []byte {
	t.Helper()
	b, err := base64.RawURLEncoding.DecodeString(s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// RFC 3394, 4.
func TestWrap(t *testing.T) {
	cases := published(t).Wrap.Cases
	if len(cases) != 3 {
		t.Fatalf("%d cases", len(cases))
	}
	for _, c := range cases {
		kek, key, want := unhex(t, c.KEK), unhex(t, c.Key), unhex(t, c.Wrapped)
		if got, err := seal.Wrap(kek, key); err != nil || !bytes.Equal(got, want) {
			t.Errorf("wrapped %x, want %x (%v)", got, want, err)
		}
		if got, err := seal.Unwrap(kek, want); err != nil || !bytes.Equal(got, key) {
			t.Errorf("unwrapped %x, want %x (%v)", got, key, err)
		}
		for i := range len(want) * 8 { // each bit counts
			damaged := bytes.Clone(want)
			damaged[i/8] ^= 1 << (i % 8)
			if _, err := seal.Unwrap(kek, damaged); err == nil {
				t.Errorf("bit %d of the wrapped key is changed, and it opens", i)
			}
		}
	}
	for _, bad := range [][]byte{nil, make([]byte, 16), make([]byte, 25)} {
		if _, err := seal.Unwrap(make([]byte, 32), bad); err == nil {
			t.Errorf("%d bytes are unwrapped", len(bad))
		}
	}
}

// RFC 7517, appendix C: a phrase of 4,096 rounds by HMAC-SHA-256, and the key that it wraps.
func TestDerive(t *testing.T) {
	v := published(t).Derive
	kek, err := seal.Derive(sha256.New, "PBES2-HS256+A128KW", v.Phrase, unbase(t, v.Salt), v.Rounds, 16)
	if err != nil || hex.EncodeToString(kek) != v.Derived {
		t.Fatalf("derived %x, want %s (%v)", kek, v.Derived, err)
	}
	if got, err := seal.Wrap(kek, unbase(t, v.Key)); err != nil || !bytes.Equal(got, unbase(t, v.Wrapped)) {
		t.Errorf("wrapped %x (%v)", got, err)
	}
}

// RFC 7520, 5.3: the algorithm of our seals, with another encryption of the content, which is done here.
func TestPublishedSeal(t *testing.T) {
	v := published(t).JWE
	parts := strings.Split(v.Compact, ".")
	var head struct {
		P2S string
		P2C int
	}
	if err := json.Unmarshal(unbase(t, parts[0]), &head); err != nil {
		t.Fatal(err)
	}
	kek, err := seal.Derive(sha512.New, "PBES2-HS512+A256KW", v.Phrase, unbase(t, head.P2S), head.P2C, 32)
	if err != nil {
		t.Fatal(err)
	}
	key, err := seal.Unwrap(kek, unbase(t, parts[1]))
	if err != nil || !bytes.Equal(key, unbase(t, v.Key)) {
		t.Fatalf("the key is %x (%v)", key, err)
	}
	if text := openCBC(t, key, parts); text != v.Content {
		t.Errorf("the content is %q", text)
	}
	// and our own reader says that it does not know the method
	if _, err := seal.Open(v.Compact, v.Phrase, ""); !seal.Is(err, seal.OtherFormat) {
		t.Errorf("error %v", err)
	}
}

// openCBC is A128CBC-HS256. Source: RFC 7518, 5.2.2.
func openCBC(t *testing.T, key []byte, parts []string) string {
	iv, body, tag := unbase(t, parts[2]), unbase(t, parts[3]), unbase(t, parts[4])
	mac := hmac.New(sha256.New, key[:16])
	mac.Write([]byte(parts[0]))
	mac.Write(iv)
	mac.Write(body)
	mac.Write(binary.BigEndian.AppendUint64(nil, uint64(len(parts[0]))*8))
	if !hmac.Equal(mac.Sum(nil)[:16], tag) {
		t.Fatal("the tag does not match")
	}
	block, err := aes.NewCipher(key[16:])
	if err != nil {
		t.Fatal(err)
	}
	cipher.NewCBCDecrypter(block, iv).CryptBlocks(body, body)
	return string(body[:len(body)-int(body[len(body)-1])])
}

// RFC 8037, appendix A: the key, its thumbprint, and a signature that is verified and made again.
func TestPublishedSignature(t *testing.T) {
	v := published(t).JWS
	k, err := seal.ReadKey(v.Key)
	if err != nil {
		t.Fatal(err)
	}
	if k.ID() != v.Thumbprint {
		t.Errorf("thumbprint %s, want %s", k.ID(), v.Thumbprint)
	}
	// its head names no key, as ours do: so the signature itself is compared
	parts := strings.Split(v.Compact, ".")
	private := ed25519.NewKeyFromSeed(unbase(t, k.D))
	if got := base64.RawURLEncoding.EncodeToString(ed25519.Sign(private, []byte(parts[0]+"."+parts[1]))); got !=
		parts[2] {
		t.Errorf("signature %s, want %s", got, parts[2])
	}
	if err := seal.Verify([]seal.Key{k.Public()}, parts[0]+".."+parts[2], []byte(v.Payload)); !seal.Is(err,
		seal.OtherKey) {
		t.Errorf("a signature that names no key: %v", err)
	}
}

// The examples of RFC 8785, and its appendix B of numbers.
func TestCanonical(t *testing.T) {
	v := published(t)
	for _, c := range v.Canonical.Cases {
		if got, err := seal.Canonical([]byte(c.From)); err != nil || string(got) != c.To {
			t.Errorf("canonical is %s, want %s (%v)", got, c.To, err)
		}
		if got, err := seal.Canonical([]byte(c.To)); err != nil || string(got) != c.To {
			t.Errorf("%s does not stay: %s (%v)", c.To, got, err)
		}
	}
	for _, c := range v.Numbers.Cases {
		bits, err := strconv.ParseUint(c[0], 16, 64)
		if err != nil {
			t.Fatal(err)
		}
		text := strconv.FormatFloat(math.Float64frombits(bits), 'g', 17, 64)
		if got, err := seal.Canonical([]byte("[" + text + "]")); err != nil || string(got) != "["+c[1]+"]" {
			t.Errorf("%s is %s, want %s (%v)", text, got, c[1], err)
		}
	}
	if len(v.Canonical.Cases) != 3 || len(v.Numbers.Cases) != 16 {
		t.Errorf("%d examples and %d numbers", len(v.Canonical.Cases), len(v.Numbers.Cases))
	}
	for _, bad := range []string{"", "{", `{"a":1,"a":2}`, `["\ud800"]`, "[1e400]", "{} {}", "\xff",
		strings.Repeat("[", 100_000)} {
		if got, err := seal.Canonical([]byte(bad)); err == nil {
			t.Errorf("%.40q is made %s", bad, got)
		}
	}
}

// beside are public data sets, where they are kept beside the repository.
const beside = "../../../shared/datasets"

func dataSet(t *testing.T, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(path.Join(beside, name))
	if errors.Is(err, fs.ErrNotExist) {
		t.Skipf("%s is not beside the repository", name)
	}
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// All pairs of the authors of RFC 8785.
func TestCanonicalPairs(t *testing.T) {
	for _, name := range strings.Fields("arrays french structures unicode values weird") {
		from := dataSet(t, "jcs-vectors/input/"+name+".json")
		want := strings.TrimSuffix(string(dataSet(t, "jcs-vectors/output/"+name+".json")), "\n")
		if got, err := seal.Canonical(from); err != nil || string(got) != want {
			t.Errorf("%s is %s, want %s (%v)", name, got, want, err)
		}
	}
}

// verified runs a signature of bare bytes through Verify, in a head of our own. The head is signed too, so that only
// what is refused can be asked for; what is accepted is asked of the same function of the standard library.
func verified(public, message, signature []byte) bool {
	return len(public) == ed25519.PublicKeySize && len(signature) == ed25519.SignatureSize &&
		ed25519.Verify(public, message, signature)
}

func TestSomeSignatures(t *testing.T) {
	cases := published(t).Ed25519.Cases
	valid := 0
	for i, c := range cases {
		got := verified(unhex(t, c.Public), unhex(t, c.Message), unhex(t, c.Signature))
		if got != c.Valid {
			t.Errorf("case %d, %s: %v, want %v", i, c.Comment, got, c.Valid)
		}
		if got {
			valid++
		}
	}
	if len(cases) < 8 || valid == 0 || valid == len(cases) {
		t.Errorf("%d cases, %d of them valid", len(cases), valid)
	}
}

// All 151 cases of wycheproof.
func TestSignaturesOfWycheproof(t *testing.T) {
	var file struct {
		TestGroups []struct {
			PublicKey struct{ PK string }
			Tests     []struct {
				TcID             int
				Msg, Sig, Result string
			}
		}
	}
	if err := json.Unmarshal(dataSet(t, "ed25519-wycheproof/ed25519_test.json"), &file); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, g := range file.TestGroups {
		for _, c := range g.Tests {
			n++
			if got := verified(unhex(t, g.PublicKey.PK), unhex(t, c.Msg), unhex(t, c.Sig)); got != (c.Result ==
				"valid") {
				t.Errorf("case %d: %v, want %s", c.TcID, got, c.Result)
			}
		}
	}
	if n != 151 {
		t.Errorf("%d cases, want 151", n)
	}
}
