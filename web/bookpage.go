package main

import (
	"bytes"
	"fmt"
	"html/template"

	"ribband/core/book"
	"ribband/core/pack"
)

// bookPage is what the owner's own machine serves beside the desks, and what no published site has: what was found in
// the price book when it was read. The proofs over all boats take longer than a page may; the command check has them.
const bookPage = "book.html"

// bookFrame stands by itself: the style of the desks has another name with each change.
var bookFrame = template.Must(template.New("book").Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Price book {{.Edition}}: {{.Verdict}}</title>
<link rel="icon" href="data:,">
<style>
body { margin: 2rem auto; max-width: 50rem; padding: 0 1rem; font: 1rem/1.45 system-ui, sans-serif }
h1 { font: 600 1.4rem/1.2 Georgia, serif }
li { margin: .9rem 0 }
code { overflow-wrap: anywhere }
pre { margin: .3rem 0; padding: .4rem .6rem; overflow-x: auto; background: #f2efe6 }
strong { color: #86481c }
.error { color: #9c241c }
</style>
</head>
<body>
<h1>Price book {{.Edition}}</h1>
<p>{{.Size}}: {{.Verdict}}</p>
{{if .Diagnostics}}<ol>
{{range .Diagnostics}}<li><strong class="{{.Grade}}">{{.Grade}}</strong> <code>{{.File}}:{{.Line}}:{{.Column}}</code><br>
{{.Message}}{{if .Source}}<pre>{{.Shown ""}}</pre>{{else}}<br>
{{end}}{{.Advice}}</li>
{{end}}</ol>
{{end}}<p>As it was read at the start; change a file, then start again. The proofs over all boats:
<code>go run ./web check -book {{.Folder}}</code></p>
<p><a href="/">Buyer</a> · <a href="show.html">Quotation desk</a> · <a href="yard.html">Yard</a></p>
</body>
</html>
`))

// renderBookPage renders what was found in a book.
func renderBookPage(folder string, p *pack.Pack, r *CheckReport) ([]byte, error) {
	var b bytes.Buffer
	err := bookFrame.Execute(&b, struct {
		*CheckReport
		Folder, Edition, Size, Verdict string
	}{r, folder, p.Edition.Name, sizeOf(r), verdict(r.of(book.Error), r.of(book.Warning))})
	if err != nil {
		return nil, fmt.Errorf("rendering what was found in the book: %w", err)
	}
	return b.Bytes(), nil
}
