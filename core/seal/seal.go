// Package seal closes private files with a pass phrase, and signs quotations with the yard's key: compact JWE by
// PBES2-HS512+A256KW and A256GCM, compact JWS by Ed25519 over canonical JSON, keys as JWK.
//
// It holds no state and asks for no randomness: what has to be random comes in as a reader. It runs natively only; the
// page does the same by WebCrypto (web/page/seal.ts), so that the engine carries no cryptography. It decides nothing
// of who may open what, and keeps no phrase longer than a call takes.
//
// Sources: RFC 7516 (JWE), RFC 7518 sections 4.8 and 5.3 (PBES2, A256GCM), RFC 3394 (key wrap), RFC 8018 (PBKDF2),
// RFC 1951 (DEFLATE), RFC 7515 (JWS), RFC 7517 (JWK), RFC 7638 (thumbprint), RFC 8037 (Ed25519), RFC 8785 (canonical
// JSON).
package seal

import (
	"encoding/base64"
	"errors"
	"fmt"

	"ribband/core/msg"
)

// What can be wrong with a sealed file or a signature: the codes of messages, which take no arguments, so that the page
// says the same words for what WebCrypto finds. [Is] asks an error for one of them.
const (
	// a wrong phrase and a damaged key or head look alike: that is the point of a key wrap
	WrongPhrase   msg.Code = "seal.wrong-phrase"
	Damaged       msg.Code = "seal.damaged"
	OtherFormat   msg.Code = "seal.other-format" // older or newer than this program
	OtherEdition  msg.Code = "seal.other-edition"
	TooManyRounds msg.Code = "seal.too-many-rounds"
	NotSigned     msg.Code = "seal.not-signed"
	OtherKey      msg.Code = "seal.other-key" // signed, but with none of the keys that were given
	Mismatch      msg.Code = "seal.mismatch"  // the key is known, and it did not sign this text
	NoKey         msg.Code = "seal.no-key"    // a key that cannot be read
)

// Is says whether an error says what a code stands for.
func Is(err error, code msg.Code) bool { return err != nil && msg.Of(err).Is(code) }

// The messages say what to do and no more: where a seal or a signature breaks helps somebody who tries to break it, and
// goes only to programmers, as the cause below.

// fault is an error that a person reads, with its reason for programmers.
func fault(code msg.Code, reason string, args ...any) error {
	return &msg.Error{Message: msg.New(code), Cause: fmt.Errorf(reason, args...)}
}

// base64url is what every part is written in. Strict: one text has one encoding, so that no bit of a file is idle.
var base64url = base64.RawURLEncoding.Strict()

// decoded reads one part, which must be whole: the decoder by itself passes over line ends.
func decoded(part string) ([]byte, error) {
	for i := range len(part) {
		if part[i] == '\n' || part[i] == '\r' {
			return nil, errors.New("a line end in base64url")
		}
	}
	return base64url.DecodeString(part)
}
