package seal

import (
	"bytes"
	"compress/flate"
	"crypto/aes"
	"crypto/cipher"
	"crypto/pbkdf2"
	"crypto/sha512"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"strings"
)

// Rounds of PBKDF2. Sealing takes Rounds, a tenth of a second of a browser's work. Opening stays within bounds, so that
// a file from elsewhere cannot keep a browser at work for hours.
//
// Source: OWASP password storage cheat sheet, PBKDF2-HMAC-SHA512 (from memory: at least 210,000); RFC 7518, 4.8.1.2: at
// least 1,000.
const (
	Rounds    = 600_000
	leastOpen = 1_000
	MaxRounds = 10_000_000 // some two seconds of a browser's work
)

// Sizes in bytes. A pack is at most 64 MB (core/pack), and its seal a third more.
const (
	maxContent = 64 << 20
	maxSealed  = 96 << 20
	maxHeader  = 4 << 10
	saltBytes  = 16
	keyBytes   = 32
	ivBytes    = 12
	tagBytes   = 16
)

// Format is the version of what is sealed. Another one is refused.
const Format = 1

// The one way in which files are sealed. A reader that takes what the head names would let whoever wrote the head
// choose the weakest that it knows.
const (
	algorithm  = "PBES2-HS512+A256KW"
	encryption = "A256GCM"
	zipped     = "DEF"
)

// Header is what stands unsealed at the head of a sealed file, protected: it cannot be changed without the phrase.
type Header struct {
	Algorithm  string `json:"alg"`
	Encryption string `json:"enc"`
	Zip        string `json:"zip"`
	Salt       string `json:"p2s"` // base64url
	Rounds     int    `json:"p2c"`
	Format     int    `json:"format"`  // [Format]
	Edition    string `json:"edition"` // the digest of the edition whose private parts are inside
	Desk       string `json:"desk"`    // for whom
}

// Seal closes a content with a phrase, as a compact JWE. The content is deflated first, as RFC 7516 section 4.1.3 has
// it: its length says a little of it, and a pack has no part that a stranger could choose to learn more by.
//
// Random gives salt, key and nonce, 60 bytes, and must be a source for cryptography: two seals with the same of them
// give their content away. Salt and key are new each time, so that sealing the same again gives another text.
func Seal(random io.Reader, phrase, edition, desk string, content []byte) (string, error) {
	return sealRounds(random, phrase, edition, desk, content, Rounds)
}

func sealRounds(random io.Reader, phrase, edition, desk string, content []byte, rounds int) (string, error) {
	switch {
	case phrase == "":
		return "", errors.New("sealing a file: the pass phrase is empty")
	case len(content) > maxContent:
		return "", fmt.Errorf("sealing a file: %d bytes are too many; at most %d", len(content), maxContent)
	}
	// one read for all of it: a source that ends too early leaves nothing half made
	chance := make([]byte, saltBytes+keyBytes+ivBytes)
	if _, err := io.ReadFull(random, chance); err != nil {
		return "", fmt.Errorf("sealing a file: no random bytes: %w", err)
	}
	salt, key, iv := chance[:saltBytes], chance[saltBytes:saltBytes+keyBytes], chance[saltBytes+keyBytes:]
	text, err := json.Marshal(Header{algorithm, encryption, zipped, base64url.EncodeToString(salt), rounds, Format,
		edition, desk})
	if err != nil {
		return "", fmt.Errorf("sealing a file: %w", err)
	}
	kek, err := derive(sha512.New, algorithm, phrase, salt, rounds, keyBytes)
	if err != nil {
		return "", fmt.Errorf("sealing a file: %w", err)
	}
	wrapped, err := wrap(kek, key)
	if err != nil {
		return "", fmt.Errorf("sealing a file: %w", err)
	}
	aead, err := gcm(key)
	if err != nil {
		return "", fmt.Errorf("sealing a file: %w", err)
	}
	head := base64url.EncodeToString(text)
	// the head goes in as it is written, so that edition and desk are proved with the content
	sealed := aead.Seal(nil, iv, deflate(content), []byte(head))
	body, tag := sealed[:len(sealed)-tagBytes], sealed[len(sealed)-tagBytes:]
	parts := []string{head}
	for _, part := range [][]byte{wrapped, iv, body, tag} {
		parts = append(parts, base64url.EncodeToString(part))
	}
	return strings.Join(parts, "."), nil
}

// Open gives what [Seal] closed. Edition, unless it is "", must be that of the seal. The error is one of the codes
// above; a wrong phrase and a damaged head cannot be told apart, a damaged body can.
func Open(sealed, phrase, edition string) ([]byte, error) {
	head, parts, err := parse(sealed)
	if err != nil {
		return nil, err
	}
	// asked before the work of a key: whoever has the phrase is then told the right thing at once
	if edition != "" && head.Edition != edition {
		return nil, fault(OtherEdition, "edition %.12s, want %.12s", head.Edition, edition)
	}
	salt, err := decoded(head.Salt)
	if err != nil || len(salt) < 8 { // RFC 7518, 4.8.1.1
		return nil, fault(Damaged, "the salt: %v", err)
	}
	kek, err := derive(sha512.New, algorithm, phrase, salt, head.Rounds, keyBytes)
	if err != nil {
		return nil, fault(Damaged, "making the key: %v", err)
	}
	key, err := unwrap(kek, parts[1])
	if err != nil {
		return nil, fault(WrongPhrase, "%v", err)
	}
	aead, err := gcm(key)
	if err != nil || len(parts[2]) != ivBytes || len(parts[4]) != tagBytes {
		return nil, fault(Damaged, "key, nonce or tag of a wrong length: %v", err)
	}
	// not written anew: a head of the same meaning in other bytes is another head
	asSealed, _, _ := strings.Cut(sealed, ".")
	text, err := aead.Open(nil, parts[2], append(parts[3], parts[4]...), []byte(asSealed))
	if err != nil {
		return nil, fault(Damaged, "%v", err)
	}
	return inflate(text)
}

// HeaderOf reads the head of a sealed file. Without the phrase nobody knows whether it is true.
func HeaderOf(sealed string) (Header, error) {
	head, _, err := parse(sealed)
	return head, err
}

// parse takes the five parts apart. The first of them is returned as its header, parts[0] stays empty.
func parse(sealed string) (head Header, parts [5][]byte, err error) {
	if len(sealed) > maxSealed {
		return head, parts, fault(Damaged, "%d bytes", len(sealed))
	}
	list := strings.Split(strings.TrimSuffix(sealed, "\n"), ".")
	if len(list) != 5 || len(list[0]) > maxHeader {
		return head, parts, fault(Damaged, "%d parts", len(list))
	}
	text, err := decoded(list[0])
	if err != nil {
		return head, parts, fault(Damaged, "the head: %v", err)
	}
	if err := json.Unmarshal(text, &head); err != nil {
		return head, parts, fault(Damaged, "the head: %v", err)
	}
	switch {
	case head.Algorithm != algorithm || head.Encryption != encryption || head.Zip != zipped || head.Format != Format:
		return head, parts, fault(OtherFormat, "format %d by %.40s, %.40s", head.Format, head.Algorithm,
			head.Encryption)
	case head.Rounds > MaxRounds:
		return head, parts, fault(TooManyRounds, "%d rounds", head.Rounds)
	case head.Rounds < leastOpen: // below zero too
		return head, parts, fault(Damaged, "%d rounds", head.Rounds)
	}
	for i := 1; i < 5; i++ {
		if parts[i], err = decoded(list[i]); err != nil {
			return head, parts, fault(Damaged, "part %d: %v", i+1, err)
		}
	}
	return head, parts, nil
}

// derive makes a key of a phrase. The name of the algorithm goes into the salt, so that a key serves one alone.
//
// Source: RFC 7518, 4.8.1.1; RFC 8018, 5.2.
func derive(h func() hash.Hash, alg, phrase string, salt []byte, rounds, length int) ([]byte, error) {
	return pbkdf2.Key(h, phrase, append([]byte(alg+"\x00"), salt...), rounds, length)
}

// gcm is AES-256 in the mode that encrypts and proves in one. Each content has a key of its own, so that no nonce is
// ever used twice with one.
func gcm(key []byte) (cipher.AEAD, error) {
	block, err := aes.NewCipher(key)
	if err != nil {
		return nil, err
	}
	return cipher.NewGCM(block)
}

// deflate gives the same bytes for the same content, as everything that is published does.
func deflate(text []byte) []byte {
	var b bytes.Buffer
	w, _ := flate.NewWriter(&b, flate.BestCompression) // the level is valid
	_, _ = w.Write(text)                               // a bytes.Buffer never fails
	_ = w.Close()
	return b.Bytes()
}

// inflate stops at what a pack may have, since a few bytes can stand for gigabytes. What it reads was proved to be of
// somebody with the phrase.
func inflate(text []byte) ([]byte, error) {
	out, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(text)), maxContent+1))
	if err != nil {
		return nil, fault(Damaged, "inflating: %v", err)
	}
	if len(out) > maxContent {
		return nil, fault(Damaged, "more than %d bytes", maxContent)
	}
	return out, nil
}
