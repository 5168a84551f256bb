package publish

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"ribband/core/pack"
)

// takeDigests gives each part of the yard's pack the digest of what a desk with that part may read, and of nothing
// else.
//
// A digest of the whole book on a public page would let anybody test guesses of what stands in it: an authority of 0.08
// or a margin floor of 0.27 is found by trying a few hundred. So the edition's digest, which stands on pages, papers
// and files for customers, is that of the public part alone. Those of the private parts stay in the parts.
func takeDigests(p *pack.Pack) {
	// what is left changes with every order, and the edition does not
	left := p.Left
	p.Left, p.Edition.Digest, p.Costs.Digest, p.Work.Digest = nil, "", "", ""
	public, costs, work := digestOf(p.Public), digestOf(p.Public, p.Selling, p.Costs),
		digestOf(p.Public, p.Selling, p.Costs, p.Work)
	p.Left, p.Edition.Digest, p.Costs.Digest, p.Work.Digest = left, public, costs, work
}

// digestOf is the SHA-256 of parts as they are encoded, in hexadecimal.
func digestOf(parts ...any) string {
	text, err := json.Marshal(parts)
	if err != nil { // every type of a pack marshals
		panic(fmt.Sprintf("core/publish: taking the digest of a pack: %v", err))
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
