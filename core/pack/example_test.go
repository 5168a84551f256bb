package pack_test

import (
	"fmt"
	"os"

	"ribband/core/pack"
	"ribband/core/publish"
)

// A pack travels as JSON and is checked when it is read.
func ExampleDecode() {
	packs, _, _, err := publish.Load(os.DirFS("../../testdata/books/small"))
	if err != nil {
		fmt.Println(err)
		return
	}
	text, err := packs[pack.Buyer].Encode()
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := pack.Decode(text)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Desk, p.Edition.Name, p.Hulls[0].Title, len(p.Options), "options")
	_, err = pack.Decode([]byte(`{"format":2}`))
	fmt.Println(err)
	// Output:
	// buyer Test Teasel 48 6 options
	// reading a pack: it is of format 2, this engine reads format 1; publish the book again
}
