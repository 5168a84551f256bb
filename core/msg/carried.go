//go:build !js

package msg

import "embed"

// The files of all languages are part of native programs. The page gets English with its engine, and of the others the
// one that is read: see [Learn].
//
//go:embed *.json
var carried embed.FS

// File is the file of a language as it is published for the page.
func File(tag string) ([]byte, bool) {
	file, err := carried.ReadFile(tag + ".json")
	return file, err == nil
}
