package engine

// Anew is an answer whose alternatives are not known yet.
func Anew(a *Answer) *Answer {
	fresh := *a
	fresh.alternatives = nil
	return &fresh
}
