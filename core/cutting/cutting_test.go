package cutting

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// top is an invented list: the cloth of a small top with its skirts, in mm.
var top = []Piece{
	{Name: "roof, port", Width: 900, Length: 2600},
	{Name: "roof, starboard", Width: 900, Length: 2600},
	{Name: "skirt, fore", Width: 300, Length: 1700, Turn: true},
	{Name: "skirt, aft", Width: 300, Length: 1700, Turn: true},
	{Name: "pocket", Width: 120, Length: 400, Turn: true},
}

func wantError(t *testing.T, err error, parts ...string) {
	t.Helper()
	for _, part := range parts {
		if err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("error %v, want one with %q", err, part)
		}
	}
}

func lay(t testing.TB, pieces []Piece, stock Stock) Layout {
	t.Helper()
	l, err := Lay(pieces, stock)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestLayByHand(t *testing.T) {
	for _, c := range []struct {
		name        string
		pieces      []Piece
		stock       Stock
		used, waste float64
		sheets      int
	}{
		{"two side by side fill the roll", []Piece{{Name: "a", Width: 500, Length: 700},
			{Name: "b", Width: 500, Length: 700}}, Stock{Width: 1000}, 700, 0, 0},
		{"the kerf parts them", []Piece{{Name: "a", Width: 500, Length: 700}, {Name: "b", Width: 500, Length: 700}},
			Stock{Width: 1000, Kerf: 3}, 1403, 1 - 700./1403, 0},
		{"a short one on top of a short one", []Piece{{Name: "a", Width: 500, Length: 800},
			{Name: "b", Width: 500, Length: 400}, {Name: "c", Width: 500, Length: 400}}, Stock{Width: 1000}, 800, 0, 0},
		{"lying flat saves cloth", []Piece{{Name: "a", Width: 300, Length: 1000, Turn: true}}, Stock{Width: 1000}, 300,
			0, 0},
		{"only one way fits", []Piece{{Name: "a", Width: 1200, Length: 300, Turn: true}}, Stock{Width: 1000}, 1200, 0.7,
			0},
		{"tenths add up", []Piece{{Name: "a", Width: 0.1, Length: 1}, {Name: "b", Width: 0.1, Length: 1},
			{Name: "c", Width: 0.1, Length: 1}}, Stock{Width: 0.3}, 1, 0, 0},
		{"two sheets", []Piece{{Name: "a", Width: 600, Length: 900}, {Name: "b", Width: 600, Length: 900}},
			Stock{Width: 1000, Length: 1000}, 2000, 1 - 1.08/2, 2},
		{"a shelf on an older sheet", []Piece{{Name: "a", Width: 600, Length: 900},
			{Name: "b", Width: 900, Length: 600}, {Name: "c", Width: 700, Length: 400}},
			Stock{Width: 1000, Length: 1000}, 2000, 1 - (0.54+0.54+0.28)/2, 2},
		{"a whole sheet", []Piece{{Name: "a", Width: 1000, Length: 1000}}, Stock{Width: 1000, Length: 1000, Kerf: 5},
			1000, 0, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := lay(t, c.pieces, c.stock)
			if l.Used != c.used || math.Abs(l.Waste-c.waste) > 1e-12 || l.Sheets != c.sheets {
				t.Errorf("used %v, waste %v, %d sheets; want %v, %v, %d\n%+v", l.Used, l.Waste, l.Sheets, c.used,
					c.waste, c.sheets, l.Placed)
			}
			if err := l.Check(c.pieces); err != nil {
				t.Error(err)
			}
		})
	}
}

func TestLayATop(t *testing.T) {
	l := lay(t, top, Stock{Width: 1520, Kerf: 0})
	if err := l.Check(top); err != nil {
		t.Error(err)
	}
	if l.Used != 5200 || l.Bound > 3782 || l.Bound < 3781 {
		t.Errorf("used %v, bound %v", l.Used, l.Bound)
	}
	for n, p := range l.Placed {
		if p.Piece != n || p.Name != top[n].Name {
			t.Errorf("place %d is of %+v", n, p)
		}
	}
}

func TestLayNothing(t *testing.T) {
	l := lay(t, nil, Stock{Width: 1000})
	if l.Used != 0 || l.Waste != 0 || l.Bound != 0 || l.Placed != nil || l.Check(nil) != nil {
		t.Errorf("%+v, %v", l, l.Check(nil))
	}
}

func TestLayRefuses(t *testing.T) {
	ok := Piece{Name: "ok", Width: 100, Length: 100}
	nan, inf := math.NaN(), math.Inf(1)
	for name, c := range map[string]struct {
		piece Piece
		stock Stock
		want  []string
	}{
		"zero width": {Piece{Name: "skirt", Length: 5}, Stock{Width: 1000},
			[]string{`piece 2, "skirt"`, "the width is 0 mm; give a length above zero"}},
		"negative length": {Piece{Name: "skirt", Width: 5, Length: -1}, Stock{Width: 1000},
			[]string{`"skirt"`, "the length is -1 mm; give"}},
		"no number": {Piece{Name: "skirt", Width: nan, Length: 1}, Stock{Width: 1000},
			[]string{`"skirt"`, "the width is NaN mm; give"}},
		"endless": {Piece{Name: "skirt", Width: 1, Length: inf}, Stock{Width: 1000},
			[]string{`"skirt"`, "the length is +Inf mm; give"}},
		"too thin": {Piece{Name: "skirt", Width: 1e-9, Length: 1}, Stock{Width: 1000},
			[]string{`"skirt"`, "the width is 1e-09 mm; give"}},
		"wider than the roll": {Piece{Name: "roof", Width: 1800, Length: 2600}, Stock{Width: 1520},
			[]string{`"roof": 1800 × 2600 mm does not fit a roll 1520 mm wide; seam it`}},
		"turning would help": {Piece{Name: "roof", Width: 1800, Length: 900}, Stock{Width: 1520},
			[]string{"allow it to be turned, seam it"}},
		"longer than a sheet": {Piece{Name: "pane", Width: 1000, Length: 3000, Turn: true},
			Stock{Width: 1370, Length: 2790}, []string{`"pane": 1000 × 3000 mm does not fit a sheet of 1370 × 2790 mm; seam it`}},
		"stock without width": {ok, Stock{}, []string{"reading the stock: the width is 0 mm; give"}},
		"sheet of no number": {ok, Stock{Width: 1000, Length: nan},
			[]string{"the length of a sheet (0 for a roll) is NaN mm; give"}},
		"sheet below nothing": {ok, Stock{Width: 1000, Length: -1},
			[]string{"the length of a sheet (0 for a roll) is -1 mm; give"}},
		"kerf below nothing":   {ok, Stock{Width: 1000, Kerf: -1}, []string{"the kerf is -1 mm; give the width"}},
		"kerf of no number":    {ok, Stock{Width: 1000, Kerf: nan}, []string{"the kerf is NaN mm; give the width"}},
		"kerf without any end": {ok, Stock{Width: 1000, Kerf: inf}, []string{"the kerf is +Inf mm; give the width"}},
	} {
		t.Run(name, func(t *testing.T) {
			l, err := Lay([]Piece{ok, c.piece}, c.stock)
			wantError(t, err, c.want...)
			if !reflect.DeepEqual(l, Layout{}) {
				t.Errorf("%+v", l)
			}
		})
	}
	_, err := Lay(slices.Repeat([]Piece{ok}, MaxPieces+1), Stock{Width: 1000})
	wantError(t, err, "there are 2001, more than 2000; lay them in several lots")
	if l := lay(t, slices.Repeat([]Piece{ok}, MaxPieces), Stock{Width: 1000}); l.Used != 20000 {
		t.Errorf("used %v", l.Used)
	}
}

func TestCheckFindsWhatIsWrong(t *testing.T) {
	stock := Stock{Width: 1520, Kerf: 2}
	for name, c := range map[string]struct {
		spoil func(l *Layout)
		want  string
	}{
		"missing": {func(l *Layout) { l.Placed = l.Placed[1:] }, "4 pieces are placed of 5; lay them again"},
		"no place": {func(l *Layout) { l.Placed[0].X = math.NaN() },
			`piece 1, "roof, port": a place or size is NaN mm`},
		"swapped": {func(l *Layout) { l.Placed[0].Piece = 1 }, "it stands for piece 2; keep the order"},
		"shrunk":  {func(l *Layout) { l.Placed[0].Width = 899 }, "it lies as 899 × 2600 mm; want 900 × 2600 mm"},
		"turned": {func(l *Layout) { l.Placed[0].Turned, l.Placed[0].Width, l.Placed[0].Length = true, 2600, 900 },
			"turned only where the piece allows it"},
		"outside": {func(l *Layout) { l.Placed[0].X = 621 }, "it lies outside the stock; move it inside"},
		"sheet":   {func(l *Layout) { l.Placed[0].Sheet = 1 }, "it lies outside the stock"},
		"too near": {func(l *Layout) { l.Placed[1].Y-- },
			`piece 2, "roof, starboard", and piece 1, "roof, port", overlap or leave no kerf; move one`},
		"stock": {func(l *Layout) { l.Stock.Width = -1 }, "reading the stock: the width is -1 mm"},
	} {
		t.Run(name, func(t *testing.T) {
			l := lay(t, top, stock)
			if err := l.Check(top); err != nil {
				t.Fatal(err)
			}
			c.spoil(&l)
			wantError(t, l.Check(top), c.want)
		})
	}
}

func TestPanels(t *testing.T) {
	roof := Piece{Name: "roof", Width: 1800, Length: 2600, Turn: true}
	panels, err := Panels(roof, Stock{Width: 1520}, 25)
	if err != nil || len(panels) != 2 || panels[0].Width != 912.5 || panels[0].Length != 2600 || panels[0].Turn ||
		panels[1].Name != "roof" || panels[1].Panel != 2 || panels[1].Panels != 2 {
		t.Errorf("%+v, %v", panels, err)
	}
	if whole, err := Panels(roof, Stock{Width: 1800}, 25); err != nil || len(whole) != 1 || whole[0] != roof {
		t.Errorf("%+v, %v", whole, err)
	}
	_, err = Panels(roof, Stock{Width: 1520}, -1)
	wantError(t, err, `dividing "roof" into panels: a seam takes -1 mm; give 0 or more`)
	_, err = Panels(roof, Stock{Width: 26}, 25)
	wantError(t, err, "it would take 1775 panels, more than 100; take a wider stock")
	_, err = Panels(roof, Stock{Width: math.NaN()}, 25)
	wantError(t, err, `dividing "roof" into panels`, "the width is NaN mm")
	_, err = Panels(Piece{Name: "roof", Width: 1800}, Stock{Width: 1520}, 25)
	wantError(t, err, `dividing "roof" into panels: the length is 0 mm; give`)
}

// Panels fit the stock, cover the piece, and one panel fewer would not.
func TestPanelsCoverThePiece(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Piece{Name: "p", Width: rapid.Float64Range(1, 10000).Draw(t, "width"), Length: 100}
		stock := Stock{Width: rapid.Float64Range(200, 2000).Draw(t, "stock")}
		seam := rapid.Float64Range(0, 50).Draw(t, "seam")
		panels, err := Panels(p, stock, seam)
		if err != nil {
			t.Fatal(err)
		}
		n := float64(len(panels))
		if covered := n*panels[0].Width - (n-1)*seam; math.Abs(covered-p.Width) > 1e-6 {
			t.Fatalf("%v panels of %v cover %v of %v", n, panels[0].Width, covered, p.Width)
		}
		if fewer := (n-1)*stock.Width - (n-2)*seam; n > 1 && fewer > p.Width*(1+1e-9) {
			t.Fatalf("%v panels would do", n-1)
		}
		if _, err := Lay(panels, stock); err != nil {
			t.Fatal(err)
		}
	})
}

func anyStock(t *rapid.T) Stock {
	s := Stock{Width: rapid.Float64Range(500, 2000).Draw(t, "width"), Kerf: rapid.Float64Range(0, 10).Draw(t, "kerf")}
	if rapid.Bool().Draw(t, "sheets") {
		s.Length = rapid.Float64Range(500, 3000).Draw(t, "length")
	}
	return s
}

func anyPieces(t *rapid.T, s Stock) []Piece {
	longest := s.Length
	if longest == 0 {
		longest = 4000
	}
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Piece {
		return Piece{
			Name:   "drawn",
			Width:  rapid.Float64Range(1, s.Width).Draw(t, "width"),
			Length: rapid.Float64Range(1, longest).Draw(t, "length"), Turn: rapid.Bool().Draw(t, "turn"),
		}
	}), 1, 40).Draw(t, "pieces")
}

// No piece is lost, none overlaps another, and what is used is at least the bound, with waste from 0 to 1.
func TestLayoutsAreSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock := anyStock(t)
		pieces := anyPieces(t, stock)
		l, err := Lay(pieces, stock)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, l, pieces)
		again, _ := Lay(pieces, stock)
		if !reflect.DeepEqual(l, again) {
			t.Fatal("the same pieces lie differently")
		}
	})
}

func sound(t interface{ Fatalf(string, ...any) }, l Layout, pieces []Piece) {
	if err := l.Check(pieces); err != nil {
		t.Fatalf("%v", err)
	}
	area := 0.0
	for _, p := range l.Placed {
		area += p.Width * p.Length
	}
	used := l.Used
	if l.Sheets > 0 {
		used = float64(l.Sheets)
		if micrometres(l.Used) != int64(l.Sheets)*micrometres(l.Stock.Length) {
			t.Fatalf("%d sheets are %v mm long", l.Sheets, l.Used)
		}
	}
	if !(l.Waste >= 0 && l.Waste <= 1) || l.Bound > used*(1+1e-9) || l.Area != area {
		t.Fatalf("waste %v, used %v, bound %v, area %v of %v", l.Waste, used, l.Bound, l.Area, area)
	}
}

// Allowing a piece to be turned never takes more sheets or roll than the layout as given, which is one of those tried.
func TestPosesAreTried(t *testing.T) {
	pieces := []Piece{{Name: "a", Width: 300, Length: 1000}, {Name: "b", Width: 300, Length: 1000},
		{Name: "c", Width: 300, Length: 1000}}
	if l := lay(t, pieces, Stock{Width: 1000}); l.Used != 1000 {
		t.Errorf("used %v", l.Used)
	}
	for i := range pieces {
		pieces[i].Turn = true
	}
	if l := lay(t, pieces, Stock{Width: 1000}); l.Used != 900 || !l.Placed[0].Turned || l.Placed[0].Width != 1000 {
		t.Errorf("used %v, %+v", l.Used, l.Placed)
	}
}
