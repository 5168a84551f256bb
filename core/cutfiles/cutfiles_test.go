package cutfiles_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ribband/core/cutfiles"
	"ribband/core/engine/enginetest"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// cutSheet is a file of the cutting table with what the sheet of the boat says of it.
type cutSheet struct {
	name          string
	dxf, svg      []byte
	length, width float64          // mm of the stock
	pieces        []sheet.CutPiece // on this sheet
}

// cutSheets are the files of every demo boat.
func cutSheets(t *testing.T) (list []cutSheet) {
	t.Helper()
	e, specs := enginetest.Demo()[pack.Yard], enginetest.DemoSpecs(t)
	for _, name := range slices.Sorted(maps.Keys(specs)) {
		y := sheet.ForYard(e, enginetest.Answer(t, e, specs[name]), quote.Details{})
		files, err := cutfiles.Files(msg.English, y.Cuts, y.Hull)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		at := 0
		for _, c := range y.Cuts {
			for n := range max(1, c.Sheets) {
				x := cutSheet{name: name + "/" + files[at].Name, dxf: files[at].Content, svg: files[at+1].Content,
					length: c.LengthMm, width: c.WidthMm}
				if at += 2; c.Sheets == 0 {
					x.length = c.UsedMm
				}
				for _, p := range c.Pieces {
					if p.Sheet == n+1 {
						x.pieces = append(x.pieces, p)
					}
				}
				list = append(list, x)
			}
		}
		if at != len(files) {
			t.Errorf("%s: %d files, want %d", name, len(files), at)
		}
		// no order of a map, no clock
		again, err := cutfiles.Files(msg.English, y.Cuts, y.Hull)
		for i := range files {
			if err != nil || !bytes.Equal(files[i].Content, again[i].Content) {
				t.Errorf("%s: written again, %s has other bytes", name, files[i].Name)
			}
		}
	}
	if len(list) < 20 {
		t.Fatalf("only %d rolls and sheets", len(list))
	}
	return list
}

// entity is what the independent reader gives of one.
type entity struct {
	Type, Layer, Text string
	Shape             bool // closed
	Vertices          []struct{ X, Y, Bulge float64 }
	StartPoint        struct{ X, Y float64 }
	TextHeight        float64
}

// readScript reads files by the npm package dxf-parser (MIT) and prints what it found.
const readScript = `const m = require(process.argv[2]), Parser = m.default || m, fs = require("fs"), out = {};
for (const f of process.argv.slice(3)) out[f] = new Parser().parseSync(fs.readFileSync(f, "utf8"));
console.log(JSON.stringify(out));`

// What a program of another hand reads in the files is what the sheet of the boat says: as many pieces, each with its
// area, inside of the stock, none mirrored. It is skipped where there is no such program: give its folder by
// RIBBAND_DXF (npm install dxf-parser).
func TestCuttingTableReadsWhatTheSheetSays(t *testing.T) {
	reader := os.Getenv("RIBBAND_DXF")
	if reader == "" {
		t.Skip("nobody to read DXF: give the folder of the npm package dxf-parser by RIBBAND_DXF")
	}
	list, folder := cutSheets(t), t.TempDir()
	script := filepath.Join(folder, "read.cjs")
	if err := os.WriteFile(script, []byte(readScript), 0o666); err != nil {
		t.Fatal(err)
	}
	args := []string{script, reader}
	for i, c := range list {
		file := filepath.Join(folder, strconv.Itoa(i))
		if err := os.WriteFile(file, c.dxf, 0o666); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	text, err := exec.Command("node", args...).Output()
	if err != nil {
		t.Fatalf("reading the files: %v", err)
	}
	var read map[string]struct {
		Header map[string]any
		Tables struct {
			Layer struct{ Layers map[string]any }
		}
		Entities []entity
	}
	if err := json.Unmarshal(text, &read); err != nil {
		t.Fatal(err)
	}
	// rounded panes and seats: were arcs lost, the areas below would hardly tell
	arcs := 0
	for i, c := range list {
		d := read[filepath.Join(folder, strconv.Itoa(i))]
		if len(d.Tables.Layer.Layers) != 3 || d.Header["$ACADVER"] != "AC1009" {
			t.Errorf("%s: layers %v, release %v", c.name, d.Tables.Layer.Layers, d.Header["$ACADVER"])
		}
		arcs += checkEntities(t, c, d.Entities)
	}
	if arcs < 100 {
		t.Errorf("only %d arcs in all files", arcs)
	}
}

// checkEntities compares the entities of a file with the pieces, and gives how many of its edges are arcs.
func checkEntities(t *testing.T, c cutSheet, entities []entity) (arcs int) {
	t.Helper()
	cuts, texts := 0, 0
	for _, e := range entities {
		if e.Type == "TEXT" {
			texts++
			if e.Layer != "TEXT" || e.Text == "" || e.TextHeight < 3 {
				t.Errorf("%s: text %+v", c.name, e)
			}
			if p := e.StartPoint; p.X < 0 || p.Y < 0 || p.X > c.length || p.Y > c.width {
				t.Errorf("%s: the text %q stands beside the stock", c.name, e.Text)
			}
			continue
		}
		area := 0.0
		for i, v := range e.Vertices {
			w := e.Vertices[(i+1)%len(e.Vertices)]
			area += (v.X*w.Y - w.X*v.Y) / 2
			x, y := v.X, v.Y
			if v.Bulge != 0 {
				arcs++
				// by the sagitta s and the chord c: radius (c²/4 + s²)/2s, angle 4 atan b; the top of the arc
				chord := math.Hypot(w.X-v.X, w.Y-v.Y)
				rise := v.Bulge * chord / 2
				r, angle := (chord*chord/4+rise*rise)/(2*rise), 4*math.Atan(v.Bulge)
				area += r * r * (angle - math.Sin(angle)) / 2
				x, y = (v.X+w.X)/2+rise*(w.Y-v.Y)/chord, (v.Y+w.Y)/2-rise*(w.X-v.X)/chord
			}
			if x < -0.002 || y < -0.002 || x > c.length+0.002 || y > c.width+0.002 {
				t.Errorf("%s: a line reaches to %v, %v beside a stock of %v × %v mm", c.name, x, y, c.length, c.width)
			}
		}
		if e.Layer == "CUT" {
			// a mirrored piece would run the other way round
			if want := c.pieces[cuts].AreaM2; !e.Shape || math.Abs(area/1e6-want) > 0.0006 {
				t.Errorf("%s: piece %d, %s, has %.4f m², want %v", c.name, cuts+1, c.pieces[cuts].Name, area/1e6, want)
			}
			cuts++
		} else if e.Layer != "MARK" {
			t.Errorf("%s: a line on the layer %q", c.name, e.Layer)
		}
	}
	if cuts != len(c.pieces) || texts != 2*len(c.pieces) {
		t.Errorf("%s: %d pieces with %d texts, want %d with two each", c.name, cuts, texts, len(c.pieces))
	}
	return arcs
}

// number is one of a path.
var number = regexp.MustCompile(`-?[0-9.]+|[MLAZ]`)

// The picture has the stock's own size in mm, and each path stays inside of it and has the area of its piece: arcs as
// the standard constructs them from their radius and flags.
// Source: SVG 1.1, appendix F.6.5.
func TestPictureHasItsOwnSize(t *testing.T) {
	for _, c := range cutSheets(t) {
		var d struct {
			Width   string `xml:"width,attr"`
			Height  string `xml:"height,attr"`
			ViewBox string `xml:"viewBox,attr"`
			Paths   []struct {
				Class string `xml:"class,attr"`
				D     string `xml:"d,attr"`
			} `xml:"path"`
			Texts []string `xml:"text"`
		}
		if err := xml.Unmarshal(c.svg, &d); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		length, width := strconv.FormatFloat(c.length, 'f', -1, 64), strconv.FormatFloat(c.width, 'f', -1, 64)
		if d.Width != length+"mm" || d.Height != width+"mm" || d.ViewBox != fmt.Sprintf("0 0 %s %s", length, width) {
			t.Errorf("%s: it is %s × %s, %s", c.name, d.Width, d.Height, d.ViewBox)
		}
		cuts := 0
		for _, p := range d.Paths {
			if p.Class != "CUT" {
				continue
			}
			// y runs downward, so that what runs anticlockwise has an area below zero
			if area, want := -pathArea(t, p.D), c.pieces[cuts].AreaM2; math.Abs(area/1e6-want) > 0.0006 {
				t.Errorf("%s: piece %d, %s, has %.4f m², want %v", c.name, cuts+1, c.pieces[cuts].Name, area/1e6, want)
			}
			cuts++
		}
		if cuts != len(c.pieces) || len(d.Texts) != 2*cuts {
			t.Errorf("%s: %d pieces and %d texts, want %d", c.name, cuts, len(d.Texts), len(c.pieces))
		}
	}
}

// pathArea is what a closed path encloses, in its own axes.
func pathArea(t *testing.T, d string) (area float64) {
	t.Helper()
	var x, y float64
	tokens := number.FindAllString(d, -1)
	next := func() float64 {
		v, err := strconv.ParseFloat(tokens[0], 64)
		if err != nil {
			t.Fatal(err)
		}
		tokens = tokens[1:]
		return v
	}
	for len(tokens) > 0 {
		command := tokens[0]
		tokens = tokens[1:]
		switch command {
		case "M":
			x, y = next(), next()
		case "L", "A":
			r, sweep := 0.0, 0.0
			if command == "A" {
				r = next()
				for range 4 {
					sweep = next() // ry, rotation, large arc, sweep: the last stays
				}
			}
			u, v := next(), next()
			area += (x*v - u*y) / 2
			if r > 0 {
				chord := math.Hypot(u-x, v-y)
				angle := 2 * math.Asin(min(1, chord/(2*r)))
				area += (2*sweep - 1) * r * r * (angle - math.Sin(angle)) / 2
			}
			x, y = u, v
		}
	}
	return area
}

// Whatever a text says, it stays in its line of the one file and in its element of the other; the drawings around it
// stay as they are, but for the height of the letters. A boat with nothing to be cut has no files.
func TestNoLabelBreaksOut(t *testing.T) {
	e, specs := enginetest.Demo()[pack.Yard], enginetest.DemoSpecs(t)
	files := func(boat string) []cutfiles.File {
		y := sheet.ForYard(e, enginetest.Answer(t, e, specs["reed-65-fullest"]), quote.Details{})
		list, err := cutfiles.Files(msg.English, y.Cuts, boat)
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	plain := files("Reed 65")
	for _, text := range []string{`</text><script>alert(1)</script>`, "x\n0\nENDSEC\n0\nEOF\n",
		"\r\n8\r\nCUT", `%%d "quoted" \P`,
		"\x00\x1b\u202e", "Böötje, 14 m²", "\U0001f6a4 launch"} {
		for i, f := range files(text) {
			if got, want := skeleton(t, f), skeleton(t, plain[i]); got != want {
				t.Errorf("with %q %s is made of other parts", text, f.Name)
			}
		}
	}
	if _, err := cutfiles.Files(msg.English, nil, "Reed 65"); err == nil ||
		!strings.Contains(err.Error(), "nothing that is cut") {
		t.Errorf("no layouts give %v", err)
	}
}

// skeleton is what a file is made of: the elements of a picture with their classes, the codes of a drawing exchange
// file with its entities and layers. Numbers are left out, since the height of a text follows from its length.
func skeleton(t *testing.T, f cutfiles.File) string {
	t.Helper()
	var parts []string
	if strings.HasSuffix(f.Name, ".svg") {
		for d := xml.NewDecoder(bytes.NewReader(f.Content)); ; {
			token, err := d.Token()
			if err == io.EOF {
				return strings.Join(parts, " ")
			} else if err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
			if start, ok := token.(xml.StartElement); ok {
				parts = append(parts, start.Name.Local)
			}
		}
	}
	lines := strings.Split(string(f.Content), "\n")
	for i := 0; i+1 < len(lines); i += 2 {
		if _, err := strconv.Atoi(lines[i]); err != nil {
			t.Fatalf("%s, line %d: the code is %q", f.Name, i+1, lines[i])
		}
		if parts = append(parts, lines[i]); lines[i] == "0" || lines[i] == "8" {
			parts = append(parts, lines[i+1])
		}
		for _, c := range lines[i+1] {
			if c < ' ' || c > '~' {
				t.Errorf("%s, line %d: %q", f.Name, i+2, lines[i+1])
			}
		}
	}
	return strings.Join(parts, " ")
}
