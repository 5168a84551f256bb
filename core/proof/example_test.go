package proof_test

import (
	"fmt"
	"os"

	"ribband/core/book/source"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

func ExampleProve() {
	folder := os.DirFS("../../testdata/books/small")
	packs, _, _, err := publish.Load(folder)
	if err != nil {
		fmt.Println(err)
		return
	}
	p, refuted, err := publish.Prove(folder, new(source.Cache), packs[pack.Yard], proof.How{})
	if err != nil {
		fmt.Println(err)
		return
	}
	h := p.Hulls[0]
	fmt.Printf("%s: %s boats, %d options can be had\n", h.ID, h.Boats, len(h.Options))
	fmt.Printf("%d rules have an effect; %s is shown by %v\n", len(p.Rules.Effective), p.Rules.Effective[0].Rule,
		p.Rules.Effective[0].Spec.Choices["cloth"])
	fmt.Println(len(refuted), "faults")
	// Output:
	// teasel-48: 25 boats, 6 options can be had
	// 2 rules have an effect; heavy-cloth-needs-a-fixed-top is shown by map[cloth-heavy:1]
	// 0 faults
}

func ExampleShort() {
	fmt.Println(proof.Short("451149799624358081407743247737157582848000"))
	// Output: 4.51 × 10^41
}
