// Package wire makes the engine small for a slow line, in three steps that are independent of what the engine does.
//
// [Overlay] has the Go compiler leave out of the standard library and of modules what the engine does not need but
// links all the same. [Slim] takes out of the linked file what only traces read, and writes the rest shortly; the
// result is a WebAssembly file that runs as it is. [Pack] writes that file for the line: its code by a model of how Go
// writes code, its data by LZMA. web/page/unpack.ts gives the slim file back, to the bit.
//
// The three are apart since they may fail apart: with another Go there is no Slim, and the page takes what the linker
// wrote; where a browser or a proxy spoils what Pack wrote, the page takes the slim file as gzip. No step is trusted:
// the page compares a digest before anything runs.
//
// The package knows the tables of one series of Go, [KnownGo]. With another it refuses, and the file stays plain.
//
// Sources: WebAssembly Core Specification 2.0, chapter 5 (binary format); the Go runtime's symtab.go and stkframe.go,
// and cmd/link/internal/wasm (tables and numbering of functions); I. Pavlov, LZMA specification (2015); M. Mahoney,
// Data Compression Explained (2013), 4.3 (context mixing).
package wire
