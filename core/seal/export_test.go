package seal

// What the tests of vectors ask: parts that are sealed by other methods, or with few rounds.
var (
	Wrap      = wrap
	Unwrap    = unwrap
	Derive    = derive
	SealAfter = sealRounds
)
