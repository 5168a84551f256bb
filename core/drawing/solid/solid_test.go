package solid_test

import (
	"bytes"
	"encoding/binary"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/drawing"
	"ribband/core/drawing/solid"
	"ribband/core/hull"
)

var update = flag.Bool("update", false, "write the still pictures in testdata/solids anew")

// offsets are those of a plain launch of 6 m: an arc of a parabola below, flared above, with a skeg aft.
func offsets() hull.Offsets {
	var o hull.Offsets
	for i := range 13 {
		x := float64(i) * 0.5
		t := x / 6
		half := 1.0 * (1 - math.Pow(max(0, t-0.35)/0.65, 2.2)) * (0.75 + 0.25*min(1, t/0.35))
		half = max(half, 0.03)
		bottom := 0.15 + 0.3*math.Pow(max(0, 0.3-t)/0.3, 2) + 0.7*math.Pow(max(0, t-0.7)/0.3, 2)
		sheer := 0.9 + 0.25*t*t
		st := hull.Station{X: x}
		if i >= 2 && i < 8 {
			st.Z, st.Y = append(st.Z, 0), append(st.Y, 0.02)
		}
		for k := range 9 {
			s := float64(k) / 8
			st.Z = append(st.Z, bottom+(sheer-bottom)*math.Pow(s, 1.6))
			st.Y = append(st.Y, max(0.02, half*math.Sqrt(s)))
		}
		o.Stations = append(o.Stations, st)
	}
	return o
}

// plain is a boat with everything on board that has no choice of kinds.
func plain() *solid.Boat {
	cockpit := drawing.Cockpit{Aft: 0.8, Fore: 4.3}
	wheel := drawing.Wheel{X: 3.4, Y: 0.4}
	return &solid.Boat{
		Boat: drawing.Boat{Name: "Plover", Offsets: offsets(), Cockpit: cockpit,
			Top: drawing.Top{Kind: drawing.Canopy, Aft: 1, Fore: 4.1, Height: 1.2}, Enclosure: drawing.FullEnclosure,
			Drive: drawing.Drive{Kind: drawing.Shaft},
			Fittings: []drawing.Fitting{drawing.Dash{X: 3.7}, wheel, drawing.Thruster{},
				drawing.Table{Area: drawing.Area{Aft: 2, Fore: 2.7, Port: -0.25, Starboard: 0.25}},
				drawing.Motor{Area: drawing.Area{Aft: 1.2, Fore: 1.6, Port: -0.14, Starboard: 0.14}},
				drawing.Bank{Area: drawing.Area{Aft: 2.2, Fore: 3, Port: -0.2, Starboard: 0.2}}},
			Paint: drawing.Paint{Cushion: "#8a9aa3", Edging: "#f4f3ee", Stripe: "#1f2f4a", LaidDeck: "#c08a4a",
				PlankedSole: true, Bottom: "#20304c", BootTop: &drawing.Band{From: 0.5, To: 0.58}}},
		Drafts: &drawing.Drafts{Aft: 0.47, Fore: 0.43}, Seats: drawing.Benches(cockpit, 1, &wheel),
		Persons: []float64{1.5, 2.4}, Poles: []drawing.Pole{{X: 0.2, Top: 1.8}},
		Slot: func(part string) string { return "slot-of-" + part },
	}
}

func made(t testing.TB, b *solid.Boat, d solid.Detail) *solid.Mesh {
	t.Helper()
	m, err := solid.New(b, d)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// kinds are boats with each kind of top, enclosure and drive, and without anything.
func kinds() map[string]*solid.Boat {
	list := map[string]*solid.Boat{"everything": plain()}
	for _, top := range []drawing.TopKind{drawing.FoldingHood, drawing.Canopy, drawing.HardTop, drawing.SolarTop} {
		for _, e := range []drawing.Enclosure{drawing.NoEnclosure, drawing.FrontEnclosure, drawing.SideEnclosure} {
			b := plain()
			b.Top.Kind, b.Enclosure = top, e
			list[fmt.Sprintf("%s %s", top, e)] = b
		}
	}
	for _, d := range []drawing.DriveKind{drawing.NoDrive, drawing.Leg, drawing.Pod} {
		b := plain()
		b.Drive = drawing.Drive{Kind: d, X: 0.4}
		b.Fittings = append(b.Fittings, drawing.Tiller{})
		list["drive "+string(d)] = b
	}
	bare := plain()
	bare.Boat = drawing.Boat{Offsets: offsets(), Cockpit: bare.Cockpit}
	bare.Drafts, bare.Seats, bare.Persons, bare.Poles, bare.Slot = nil, nil, nil, nil, nil
	list["bare"] = bare
	return list
}

// open counts the sides of faces without another face on the other side.
func open(faces []solid.Face) int {
	sides := map[[2]solid.Place]int{}
	for _, f := range faces {
		for i, a := range f.At {
			sides[[2]solid.Place{a, f.At[(i+1)%len(f.At)]}]++
		}
	}
	n := 0
	for s, count := range sides {
		if sides[[2]solid.Place{s[1], s[0]}] != count {
			n++
		}
	}
	return n
}

// shell are the faces of the hull with its decks and its cockpit.
func shell(m *solid.Mesh) (faces []solid.Face) {
	for i := range m.Patches {
		switch p := &m.Patches[i]; m.Parts[p.Part].Name {
		case solid.Hull, solid.Bottom, solid.BootTop, solid.Stripe, solid.Deck, solid.Sole:
			faces = append(faces, p.Faces()...)
		}
	}
	return faces
}

// Every side of a face of a body has another face on its other side, and the bodies hold what is inside of them.
func TestBodiesAreClosed(t *testing.T) {
	for name, b := range kinds() {
		for _, d := range []solid.Detail{solid.Coarse, solid.Fine} {
			m := made(t, b, d)
			if n := open(shell(m)); n != 0 {
				t.Errorf("%s, %d: %d sides of the hull are open", name, d, n)
			}
			if v := solid.Volume(shell(m)); v < 0.5 {
				t.Errorf("%s, %d: the hull with its cockpit holds %v m³", name, d, v)
			}
			for i := range m.Patches {
				p := &m.Patches[i]
				if !p.Closed() {
					continue
				}
				if n := open(p.Faces()); n != 0 {
					t.Errorf("%s, %d: a body of %s has %d open sides", name, d, m.Parts[p.Part].Name, n)
				}
				if v := solid.Volume(p.Faces()); v <= 0 {
					t.Errorf("%s, %d: a body of %s is turned inside out: %v m³", name, d, m.Parts[p.Part].Name, v)
				}
			}
		}
	}
}

// The skin looks outward: below the sheer, starboard faces to starboard, port ones to port, and the transom aft.
func TestSkinLooksOutward(t *testing.T) {
	m := made(t, plain(), solid.Fine)
	for i := range m.Patches {
		p := &m.Patches[i]
		switch m.Parts[p.Part].Name {
		case solid.Hull, solid.BootTop, solid.Stripe:
		default:
			continue
		}
		for _, f := range p.Faces() {
			a, b, c := f.At[0].Metres(), f.At[1].Metres(), f.At[2].Metres()
			y := (b.Z-a.Z)*(c.X-a.X) - (b.X-a.X)*(c.Z-a.Z)
			x := (b.Y-a.Y)*(c.Z-a.Z) - (b.Z-a.Z)*(c.Y-a.Y)
			middle := (a.Y + b.Y + c.Y) / 3
			if f.At[0][0] == f.At[1][0] && f.At[1][0] == f.At[2][0] { // an end
				if forward := a.X > 3; forward != (x > 0) {
					t.Fatalf("an end at %v m looks the wrong way", a.X)
				}
			} else if y*middle < -1e-9 {
				t.Fatalf("the face at %v %v %v looks inward", a, b, c)
			}
		}
	}
}

// The hull is as long, as broad and as high as its table, to the millimetre of the mesh.
func TestExtents(t *testing.T) {
	for _, d := range []solid.Detail{solid.Coarse, solid.Fine} {
		b := plain()
		m := made(t, b, d)
		low, high := [3]int32{math.MaxInt32, math.MaxInt32, math.MaxInt32}, [3]int32{math.MinInt32, math.MinInt32,
			math.MinInt32}
		for i := range m.Patches {
			switch p := &m.Patches[i]; m.Parts[p.Part].Name {
			case solid.Hull, solid.Bottom, solid.BootTop, solid.Stripe:
				for _, f := range p.Faces() {
					for _, q := range f.At {
						for k := range q {
							low[k], high[k] = min(low[k], q[k]), max(high[k], q[k])
						}
					}
				}
			}
		}
		var widest, keel, sheer = 0.0, math.Inf(1), 0.0
		for _, st := range b.Offsets.Stations {
			widest, keel = max(widest, slices.Max(st.Y)), min(keel, st.Z[0])
			sheer = max(sheer, st.Z[len(st.Z)-1])
		}
		for k, want := range []struct{ low, high float64 }{{0, 6}, {-widest, widest}, {keel, sheer}} {
			if math.Abs(float64(low[k])/1000-want.low) > 0.001 || math.Abs(float64(high[k])/1000-want.high) > 0.001 {
				t.Errorf("%d: axis %d from %d to %d mm, want %v m", d, k, low[k], high[k], want)
			}
		}
	}
}

// The same boat gives the same mesh and the same picture, and what is written can be read: by the form that the
// docstring of Encode gives, all bytes are used and all places come back.
func TestEncodeIsReadBack(t *testing.T) {
	for name, b := range kinds() {
		m := made(t, b, solid.Fine)
		text := m.Encode()
		if !bytes.Equal(text, made(t, b, solid.Fine).Encode()) {
			t.Errorf("%s: the mesh differs when it is made again", name)
		}
		r := bytes.NewReader(text)
		byteOf := func() byte { c, _ := r.ReadByte(); return c }
		count := func() int { v, _ := binary.ReadUvarint(r); return int(v) }
		place := func(g solid.Place) solid.Place {
			for i := range g {
				v, err := binary.ReadVarint(r)
				if err != nil {
					t.Fatal(err)
				}
				g[i] += int32(v)
			}
			return g
		}
		if v := byteOf(); v != 1 {
			t.Fatalf("version %d", v)
		}
		place(solid.Place{})
		if v, _ := binary.ReadVarint(r); int32(v) != m.DraftFore {
			t.Errorf("%s: the draught fore is %d, want %d", name, v, m.DraftFore)
		}
		if afloat := byteOf() == 1; afloat != m.Afloat {
			t.Errorf("%s: afloat %v", name, afloat)
		}
		for i := range count() {
			c := fmt.Sprintf("#%02x%02x%02x", byteOf(), byteOf(), byteOf())
			if f := solid.Finish(byteOf()); c != m.Parts[i].Colour || f != m.Parts[i].Finish {
				t.Errorf("%s: part %d is %s %d, want %v", name, i, c, f, m.Parts[i])
			}
		}
		for i := range count() {
			p := &m.Patches[i]
			part, rows, cols := count(), count(), count()
			count()
			if part != p.Part || rows != p.Rows || cols != p.Cols {
				t.Fatalf("%s: patch %d is %d × %d of part %d", name, i, rows, cols, part)
			}
			at := make([]solid.Place, 0, rows*cols)
			for k := range rows * cols {
				var g solid.Place
				left, above := k%cols > 0, k >= cols
				for c := range g {
					if left {
						g[c] += at[k-1][c]
					}
					if above {
						g[c] += at[k-cols][c]
					}
					if left && above {
						g[c] -= at[k-cols-1][c]
					}
				}
				at = append(at, place(g))
			}
			if !slices.Equal(at, p.At) {
				t.Fatalf("%s: patch %d differs", name, i)
			}
		}
		line := func(want []solid.Place) {
			var before solid.Place
			n := count()
			if n != len(want) {
				t.Fatalf("%s: a line of %d places, want %d", name, n, len(want))
			}
			for k := range n {
				if before = place(before); before != want[k] {
					t.Fatalf("%s: a line goes through %v, want %v", name, before, want[k])
				}
			}
		}
		for i := range count() {
			if part := count(); part != m.Lines[i].Part {
				t.Errorf("%s: line %d of part %d", name, i, part)
			}
			line(m.Lines[i].At)
		}
		line(m.Waterline)
		if r.Len() != 0 {
			t.Errorf("%s: %d bytes are left", name, r.Len())
		}
	}
}

// A still picture is whole, has a name for who cannot see it, and is as kept; none is larger than a first paint bears.
func TestStillsAreAsKept(t *testing.T) {
	const folder, most = "../../../testdata/solids", 40_000
	for name, b := range map[string]*solid.Boat{"canopy": plain(), "bare": kinds()["bare"]} {
		m := made(t, b, solid.Coarse)
		for _, v := range solid.Views {
			got := solid.Still(m, v, solid.Format{ID: name, Width: 720, Height: 400, Title: "A <boat>",
				Description: "Seen"})
			if len(got) > most {
				t.Errorf("%s from %s: %d bytes, want at most %d", name, v.Name, len(got), most)
			}
			if !strings.Contains(got, ">A &lt;boat&gt;</title>") || strings.Contains(got, "NaN") {
				t.Errorf("%s from %s: the title is not escaped, or a place is no number", name, v.Name)
			}
			file := filepath.Join(folder, name+"-"+v.Name+".svg")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s differs; if it should, run go test ./core/drawing/solid -update and look at it", file)
			}
		}
	}
}

// What cannot be drawn is refused as in the other views.
func TestRefusals(t *testing.T) {
	for want, spoil := range map[string]func(*solid.Boat){
		"drawing the solid: the colour of the hull": func(b *solid.Boat) { b.Hull = "white" },
		"drawing the solid: the cockpit's aft end":  func(b *solid.Boat) { b.Cockpit.Aft = -3 },
		"drawing the solid: the draught halfway": func(b *solid.Boat) {
			b.Drafts = &drawing.Drafts{Aft: 3,
				Fore: 3}
		},
		"hangs from a top, and none is up": func(b *solid.Boat) { b.Top = drawing.Top{} },
	} {
		b := plain()
		spoil(b)
		if m, err := solid.New(b, solid.Fine); err == nil || !strings.Contains(err.Error(), want) || m != nil {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}

// A boat of any measures gives a mesh that is closed and a picture without what is no number.
func TestPropertyAnyBoat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := plain()
		scale := rapid.Float64Range(0.4, 4).Draw(t, "scale")
		for i := range b.Offsets.Stations {
			st := &b.Offsets.Stations[i]
			st.X *= scale
			for k := range st.Z {
				st.Z[k], st.Y[k] = st.Z[k]*math.Sqrt(scale), st.Y[k]*math.Sqrt(scale)
			}
		}
		length := 6 * scale
		b.Cockpit.Aft = rapid.Float64Range(0.02, 0.4).Draw(t, "aft") * length
		b.Cockpit.Fore = b.Cockpit.Aft + rapid.Float64Range(0.1, 0.55).Draw(t, "open")*length
		b.Top = drawing.Top{Kind: rapid.SampledFrom([]drawing.TopKind{drawing.FoldingHood, drawing.Canopy,
			drawing.HardTop,
			drawing.SolarTop}).Draw(t, "top"), Aft: b.Cockpit.Aft, Fore: b.Cockpit.Fore, Height: 1.5}
		b.Fittings = []drawing.Fitting{drawing.Dash{X: b.Cockpit.Fore - 0.1}, drawing.Tiller{}, drawing.Thruster{}}
		b.BootTop, b.Drafts = nil, nil
		if rapid.Bool().Draw(t, "afloat") {
			deep := rapid.Float64Range(0.2, 0.8).Draw(t, "deep") * math.Sqrt(scale)
			b.Drafts = &drawing.Drafts{Aft: deep, Fore: deep * 0.9}
		}
		b.Persons, b.Poles = []float64{length / 3}, nil
		m, err := solid.New(b, solid.Coarse)
		if err != nil {
			t.Skip(err)
		}
		if n := open(shell(m)); n != 0 {
			t.Fatalf("%d sides of the hull are open", n)
		}
		v := solid.View{Yaw: rapid.Float64Range(-180, 180).Draw(t, "yaw"), Pitch: rapid.Float64Range(0, 80).Draw(t,
			"pitch")}
		if svg := solid.Still(m, v, solid.Format{ID: "x", Width: 320, Height: 180}); strings.Contains(svg, "NaN") {
			t.Fatal("a place is no number")
		}
	})
}
