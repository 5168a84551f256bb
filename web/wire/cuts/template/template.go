// Package template stands in the engine for html/template, of which the page's HTML needs the escaping of text alone.
// The rest, with text/template, reflection on methods, addresses and regular expressions, is a twentieth of the engine.
//
// Source: text/template, HTMLEscape, to which a test compares it.
package template

import "strings"

// A character that means something in HTML, and what stands for it. A null, which HTML forbids, becomes U+FFFD.
var escape = strings.NewReplacer("\x00", "\uFFFD", `"`, "&#34;", "'", "&#39;", "&", "&amp;", "<", "&lt;", ">", "&gt;")

// HTMLEscapeString gives text as it can stand in an element or an attribute between quotes.
func HTMLEscapeString(s string) string { return escape.Replace(s) }
