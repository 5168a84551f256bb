package desk_test

import (
	"fmt"
	"os"
	"strings"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
)

// A person opens the page of a small invented yard, and takes another top.
func ExampleDesk_Handle() {
	packs, _, problems, err := publish.Load(os.DirFS("../../testdata/books/small"))
	if err != nil || len(problems) > 0 {
		fmt.Println(err, problems)
		return
	}
	e, err := engine.Compile(packs[pack.Buyer])
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := desk.New(e)
	if err != nil {
		fmt.Println(err)
		return
	}
	d.Handle(desk.Request{Version: desk.Version, ID: 1, Act: "open"})
	reply := d.Handle(desk.Request{Version: desk.Version, ID: 2, Act: "choose", Option: "top-fixed"})
	fmt.Println(strings.ReplaceAll(reply.Announcement, "\u00a0", " "))
	fmt.Println(reply.Link)
	for _, f := range reply.Fragments {
		fmt.Println("changed:", f.ID)
	}
	// Output:
	// Total EUR 8 100.00.
	// 1/teasel-48/top=top-fixed/ed30756c
	// changed: differences
	// changed: title-block
	// changed: ledger
	// changed: revisions
	// changed: figures
	// changed: bar
	// changed: nav-shelter
	// changed: line-top
	// changed: choices-top
	// changed: choices-cloth
	// changed: choices-stowage
}
