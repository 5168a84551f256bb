// Package regexp stands in the engine for the package of that name, which is not in it: decimal numbers name it in a
// function that nobody calls, and no other package of the engine may import it.
package regexp

// Regexp is an expression that nobody compiles here.
type Regexp struct{}

// ReplaceAllString is not in the engine.
func (*Regexp) ReplaceAllString(string, string) string {
	panic("regular expressions are not in the engine")
}
