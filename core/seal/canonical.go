package seal

import (
	"errors"
	"fmt"

	"github.com/gowebpki/jcs"
)

// maxJSON bounds what is made canonical, in bytes: as much as a quotation may have (core/quote).
const maxJSON = 4 << 20

// Canonical writes a JSON text in the one way that RFC 8785 leaves: keys by their UTF-16, numbers as ECMAScript writes
// them, no space. What a signature covers is this, so that no indentation breaks it. A text with a key twice, or with
// half a character, has no such form.
func Canonical(text []byte) ([]byte, error) {
	if len(text) > maxJSON {
		return nil, fmt.Errorf("making JSON canonical: %d bytes are too many; at most %d", len(text), maxJSON)
	}
	if len(text) == 0 {
		return nil, errors.New("making JSON canonical: the text is empty")
	}
	out, err := jcs.Transform(text)
	if err != nil {
		return nil, fmt.Errorf("making JSON canonical: %w", err)
	}
	return out, nil
}
