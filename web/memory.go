package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sync"

	"ribband/core/proof"
)

// memory is what is kept of the proofs of a book between one check and the next, in a file of the user's cache
// directory. Each answer is kept under all that it follows from (see [proof.How]), so that it holds as long as nothing
// of that has changed. A file that was damaged, or written by another version of the program, is as good as none.
type memory struct {
	file    string // "" for none
	program string
	kept    remembered
	changed bool
}

// remembered is what the file holds behind its first line.
type remembered struct {
	Findings map[string]keptFinding `json:"findings"`
	Last     *lastProved            `json:"last,omitempty"`
}

// keptFinding is an answer with how many proofs ago it was last asked for.
type keptFinding struct {
	Age  int             `json:"age,omitempty"`
	Says json.RawMessage `json:"says"`
}

// The file is two lines: what vouches for it, and all that is kept. So it is found whole or not without being read
// twice.

// foreword is the first line of the file.
type foreword struct {
	Program string `json:"program"`
	Sum     string `json:"sum"` // of all that follows
}

// oldest is for how many proofs an answer is kept that none of them asked for: as long as somebody may take an edit
// back.
const oldest = 4

// version is the digest of the running program. A new version may answer otherwise.
//
// It is the program as it was built that counts, and not a number that somebody has to remember to raise.
var version = sync.OnceValue(func() string {
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return ""
	}
	return digest(text)
})

// userCache is where a user's programs keep what they can do without; the tests have it elsewhere.
var userCache = os.UserCacheDir

// openMemory reads what is kept of the book in a folder; dir is where, "" for the user's cache directory, off for
// nowhere.
func openMemory(dir, folder string) (*memory, error) {
	m := &memory{program: version(), kept: remembered{Findings: map[string]keptFinding{}}}
	if dir == "off" || m.program == "" {
		return m, nil
	}
	if dir == "" {
		user, err := userCache()
		if err != nil {
			return m, nil // a machine without one has no memory
		}
		dir = filepath.Join(user, "ribband")
	}
	whole, err := filepath.Abs(folder)
	if err != nil {
		return nil, fmt.Errorf("finding the memory of %s: %w", folder, err)
	}
	m.file = filepath.Join(dir, "proof-"+digest([]byte(whole))[:16]+".json")
	if text, err := os.ReadFile(m.file); err == nil {
		m.kept = readMemory(text, m.program)
	}
	return m, nil
}

// The sum finds damage, not somebody who means harm: whoever can write there can change the program as well.

// readMemory reads what a file holds: nothing where it is not whole, or of another program.
func readMemory(text []byte, program string) remembered {
	none := remembered{Findings: map[string]keptFinding{}}
	first, rest, found := bytes.Cut(text, []byte("\n"))
	var h foreword
	if !found || json.Unmarshal(first, &h) != nil || h.Program != program || h.Sum != digest(rest) {
		return none
	}
	var kept remembered
	if json.Unmarshal(rest, &kept) != nil || kept.Findings == nil {
		return none
	}
	return kept
}

// how asks the questions of a proof with the memory. With it everything that is kept is one proof older, until it is
// asked for.
func (m *memory) how() proof.How {
	for key, f := range m.kept.Findings {
		f.Age++
		m.kept.Findings[key] = f
	}
	return proof.How{Recall: m.recall, Keep: m.keep}
}

// recall reads an answer when it is asked for: of those that are kept of other editions most never are.
func (m *memory) recall(key string) *proof.Finding {
	f, known := m.kept.Findings[key]
	if !known {
		return nil
	}
	var is proof.Finding
	if json.Unmarshal(f.Says, &is) != nil {
		return nil
	}
	m.changed = m.changed || f.Age > 1
	f.Age = 0
	m.kept.Findings[key] = f
	return &is
}

// keep notes an answer. As text it is what the next check will read, and nothing of this proof can change it.
func (m *memory) keep(key string, is *proof.Finding) {
	text, err := json.Marshal(is)
	if err != nil {
		return // it is asked again next time
	}
	m.changed = true
	m.kept.Findings[key] = keptFinding{Says: text}
}

// Nothing is written by a check that asked nothing anew: whoever looks at a book often should not wear out a disk.

// close writes the file anew where something has changed, whole or not at all. What cannot be written is asked again
// next time.
func (m *memory) close() error {
	if m.file == "" || !m.changed {
		return nil
	}
	for key, f := range m.kept.Findings {
		if f.Age > oldest {
			delete(m.kept.Findings, key)
		}
	}
	rest, err := json.Marshal(m.kept)
	if err != nil {
		return fmt.Errorf("keeping the answers of the proof: %w", err)
	}
	first, err := json.Marshal(foreword{m.program, digest(rest)})
	if err != nil {
		return fmt.Errorf("keeping the answers of the proof: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(m.file), 0o700); err != nil {
		return fmt.Errorf("keeping the answers of the proof: %w", err)
	}
	// Two checks of one book at the same time each write a file of their own, and the last one stays.
	f, err := os.CreateTemp(filepath.Dir(m.file), "proof-*.tmp")
	if err != nil {
		return fmt.Errorf("keeping the answers of the proof: %w", err)
	}
	_, err = f.Write(append(append(first, '\n'), rest...))
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), m.file)
	}
	if err != nil {
		os.Remove(f.Name())
		return fmt.Errorf("keeping the answers of the proof: %w", err)
	}
	return nil
}
