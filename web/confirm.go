package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/seal"
)

// confirm signs a quotation. Desks do not sign: a key in a page would be in every salesperson's bag. What is signed is
// the frozen quotation as it stands, so that it can be confirmed when the deal is made, days after the show.
func confirm(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "confirm", "confirm -key FILE [-book DIR] [-out FILE] [-customer FILE] FILE")
	keyFile := f.String("key", "", "the yard's private key, as go run ./web key wrote it")
	out := f.String("out", "", "file for the signed quotation; without it FILE with -signed in its name")
	customer := f.String("customer", "", "file for another signed one without what is the yard's alone, for the "+
		"customer "+
		"to keep and bring back")
	f.about = "Signs a quotation that a desk has issued, so that the yard can prove months later what it offered. " +
		"FILE " +
		"is the one that the desk saves for the yard. It is signed only if the book gives exactly the same price and " +
		"boat today, within what a salesperson may give."
	name, err := f.parseFile(args)
	if err != nil {
		return err
	}
	if *keyFile == "" {
		return f.wrong("with which key? Give -key FILE")
	}
	// beside the other, so that both are found; never in its place
	if *out == "" {
		*out = strings.TrimSuffix(name, ".json") + "-signed.json"
	}
	k, err := readKey(*keyFile)
	if err != nil {
		return err
	}
	// computed by the same code as open does it, so that what was confirmed is found to be as quoted
	o, err := openQuotation(c, name, f.book)
	if err != nil {
		return err
	}
	if err := o.signable(k, f.book); err != nil {
		return fmt.Errorf("confirming %s: %w", name, err)
	}
	// the file that was opened is never written to: what the customer has seen stays as it was
	if err := signed(o.quote, k, *out); err != nil {
		return fmt.Errorf("confirming %s: %w", name, err)
	}
	if *customer != "" {
		if err := signed(o.quote.ForCustomer(), k, *customer); err != nil {
			return fmt.Errorf("confirming %s for the customer: %w", name, err)
		}
	}
	fmt.Fprintf(c.out, "Signed quotation %s, %s, and wrote it to %s.\n", o.quote.Number, o.quote.Customer.Name, *out)
	return nil
}

// signed writes a quotation with the yard's signature into a file that is not there yet.
func signed(q *quote.Quote, k seal.Key, name string) error {
	if err := putSignature(q, k); err != nil {
		return err
	}
	return writeNew(name, q.Encode(), 0o644)
}

// putSignature puts the yard's signature on a quotation.
func putSignature(q *quote.Quote, k seal.Key) error {
	payload, err := seal.Canonical(q.Unsigned())
	if err != nil {
		return err
	}
	q.Signature, err = seal.Sign(k, payload)
	return err
}

// readKey reads the yard's key.
func readKey(name string) (seal.Key, error) {
	text, err := readSecret(name)
	if err != nil {
		return seal.Key{}, fmt.Errorf("reading the yard's key: %w", err)
	}
	k, err := seal.ReadKey(text)
	if err != nil {
		return seal.Key{}, fmt.Errorf("reading the yard's key in %s: %w", name, err)
	}
	return k, nil
}

// signable says what keeps the yard from signing: a key that its pages do not know, a draft, anything that the book
// does not give today, and what no desk would have issued.
func (o *openedQuotation) signable(k seal.Key, folder string) error {
	if !slices.Contains(keysOf(o.pack), k.Public()) {
		return fmt.Errorf("the book in %s does not have this key, so that nobody could verify it; add to yard.yaml, "+
			"under yard:\n  signing_keys:\n    - %s", folder, k.Public().Encode())
	}
	if o.quote.Number == "" {
		return errors.New("it is a draft without a number; issue it on a desk first")
	}
	if o.fault != nil {
		return o.fault
	}
	if len(o.differences) > 0 {
		return fmt.Errorf("it is not what the book in %s gives:\n%s", folder, differenceLines(o.differences))
	}
	// a file can be put together that computes well and that no desk would issue: a discount beyond what a salesperson
	// may give, with nobody's approval
	frozen, err := quote.Freeze(o.engine, o.answer, o.quote.Details)
	if err != nil {
		return err
	}
	if string(frozen.Unsigned()) != string(o.quote.Unsigned()) {
		return errors.New("a desk would have issued it otherwise; issue it again")
	}
	return nil
}

// editionOf is the edition that a pack was made from, in words.
func editionOf(e pack.Edition) string {
	return fmt.Sprintf("%s of %s (%.12s)", e.Name, e.Date, e.Digest)
}
