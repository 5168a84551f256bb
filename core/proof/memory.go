package proof

import (
	"sync"

	"ribband/core/figures"
)

// memory is what the searches of all questions remember of stability together: two boats in five that they judge float
// exactly as one before did. What is remembered is what would be computed, so that it makes no difference to an answer.
type memory struct {
	sync.RWMutex
	known map[figures.StabilityKey][figures.MaxOutputs]float64
}

// mostRemembered bounds it, at half a kilobyte each. Beyond it everything is forgotten.
const mostRemembered = 100_000

// Recall is of [figures.Memory]. Readers do not wait for each other: most boats are asked for and not kept.
func (m *memory) Recall(key *figures.StabilityKey) ([figures.MaxOutputs]float64, bool) {
	m.RLock()
	defer m.RUnlock()
	values, known := m.known[*key]
	return values, known
}

// Keep is of [figures.Memory].
func (m *memory) Keep(key *figures.StabilityKey, values [figures.MaxOutputs]float64) {
	m.Lock()
	defer m.Unlock()
	if m.known == nil || len(m.known) >= mostRemembered {
		m.known = map[figures.StabilityKey][figures.MaxOutputs]float64{}
	}
	m.known[*key] = values
}
