package main

import (
	"bytes"
	"strings"
	"testing"

	"ribband/core/pack"
)

// The report tells from the public packs alone what moved between two editions, in both directions, and of one edition
// beside itself that nothing did.
func TestReportOfTwoEditions(t *testing.T) {
	demo := siteOf(t)
	other := otherEditionOf(t)
	a, b := newFolder(t), newFolder(t)
	mustPublish(t, demo, a)
	mustPublish(t, other, b)
	old, err := publicPack(a)
	if err != nil {
		t.Fatal(err)
	}
	next, err := publicPack(b)
	if err != nil {
		t.Fatal(err)
	}
	if old.Desk != pack.Buyer || old.Costs != nil {
		t.Fatal("the report reads more than a buyer's pack")
	}
	var said bytes.Buffer
	tellPublic(&said, next, old)
	moved, still := movements(next, old)
	if len(moved) < 100 {
		t.Errorf("a margin that moved is seen in %d options, and not in %d", len(moved), still)
	}
	for _, m := range moved {
		if m.by.Sign() <= 0 {
			t.Errorf("%s went down under a higher margin", m.title)
		}
	}
	for _, want := range []string{"2029.7", "Spring 2027", "stations", "price step of 50 would hide", "+13."} {
		if !strings.Contains(said.String(), want) {
			t.Errorf("the report lacks %q: %s", want, said.String())
		}
	}
	if moved, _ := movements(old, old); len(moved) != 0 {
		t.Errorf("%d options moved beside themselves", len(moved))
	}
	if _, err := publicPack(t.TempDir()); err == nil {
		t.Error("an empty folder is read as a site")
	}
}
