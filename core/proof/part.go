package proof

import (
	"fmt"
	"hash/fnv"

	"ribband/core/engine"
)

// Part answers one of so many parts of the questions, from 1, and gives the answers by key, for [How.Recall] on another
// machine. Which questions a part has follows from their names alone: it is the same on every machine, and an edit of
// the book moves none of the others. What follows from all boats together is in no part; it is little, and asked where
// the parts come together.
func Part(e *engine.Engine, how How, part, of int) (found map[string]*Finding, asked int, err error) {
	p, err := newProver(e, how)
	if err != nil {
		return nil, 0, err
	}
	// By a digest and not by turns: long questions stand beside each other in the list, and would all be of one part.
	var list []*ask
	for _, x := range p.questions().all() {
		h := fnv.New32a()
		fmt.Fprint(h, x.name)
		if int(h.Sum32()%uint32(of)) == part-1 {
			list = append(list, x)
		}
	}
	p.answer(list...)
	found = map[string]*Finding{}
	for _, x := range list {
		if x.is.err != nil {
			return nil, 0, fmt.Errorf("proving a part of the book: %w", x.is.err)
		}
		found[x.key()] = x.is
	}
	return found, p.asked, nil
}

// Which question lacks its answer is told by name: it says which part was made by another version of the program.

// missing is a question that has no answer although all should have one; nil where there is none.
func (p *prover) missing(list []*ask) *ask {
	for _, x := range list {
		if x.keys = p.digests.keys(x.name, x.more...); !p.recall(x) {
			return x
		}
	}
	return nil
}
