//go:build buyer

package desk

// own is empty in the engine of the public page.
var own map[string]act
