package main

import (
	"os"
	"runtime/debug"
	"time"

	"ribband/core/book/source"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

// prove proves the book of a report in a folder, with what is kept in a cache; lasting takes over what was found by
// other rules and holds. The proof itself is of package core/proof; here stands what a command adds to it.
func (r *CheckReport) prove(c *console, folder string, files *source.Cache, yard *pack.Pack, cache string,
	lasting bool) error {
	return remembering(c, folder, cache, func(m *memory) (asked int, err error) {
		s, err := sinceLast(folder, files, m.kept.Last)
		if err != nil {
			return 0, err
		}
		how := m.how()
		how.First, how.Lasting = s.first, lasting
		if asked, err = r.proved(folder, files, yard, how); err != nil {
			return 0, err
		}
		s.tell(c.err, folder, r.Proof)
		if m.kept.Last = s.proved(r); len(s.changed)+len(s.gone) > 0 || s.last == nil {
			m.changed = true
		}
		return asked, nil
	})
}

// remembering proves with what is kept of a book, and keeps what is found. The time is for whoever waits for it; it
// stands on standard error, so that a report is the same every time.
func remembering(c *console, folder, cache string, prove func(*memory) (asked int, err error)) error {
	// Ten thousands of boats are made and forgotten, and little of them stays: it is swept up a fourth as often, for
	// some hundred megabytes. What the owner set himself (GOGC) holds.
	if os.Getenv("GOGC") == "" {
		defer debug.SetGCPercent(debug.SetGCPercent(400))
	}
	begin := time.Now()
	m, err := openMemory(cache, folder)
	if err != nil {
		return err
	}
	asked, err := prove(m)
	if err != nil {
		return err
	}
	// A full disk or a folder that is not the user's makes the next check longer and this one no less right: it is
	// said, and the report stands.
	if err := m.close(); err != nil {
		c.progress("%v", err)
	}
	c.progress("proved over all boats in %.1f s, %d questions anew", time.Since(begin).Seconds(), asked)
	return nil
}

// Whatever of the answers was kept, the report is the same: how many were not is told beside the time, since it says
// what an edit has touched.

// proved adds to the report what is proved, and says how many questions no memory answered.
func (r *CheckReport) proved(folder string, files *source.Cache, yard *pack.Pack, how proof.How) (asked int,
	err error) {
	var found []publish.Diagnostic
	if r.Proof, found, err = publish.Prove(os.DirFS(folder), files, yard, how); err != nil {
		return 0, err
	}
	for _, d := range found {
		r.add(folder, d)
	}
	return r.Proof.Asked, nil
}
