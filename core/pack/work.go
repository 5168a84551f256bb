package pack

import (
	"fmt"
	"slices"

	"ribband/core/formula"
)

// Work is the part of a pack that the yard alone reads: who supplies, what is done in which order, how the hull is laid
// up, what is cut, and where everything stands in the book. Its lists go along with those of the costs.
type Work struct {
	// SHA-256 of all three parts; it never leaves the pack
	Digest string `json:"digest"`
	// the desk that may read a launch week, with those of more parts
	Launch Desk `json:"launch"`
	Planning
	Slots []SlotWork `json:"slots,omitempty"` // of [Public.Slots]
	Few   []Few      `json:"few,omitempty"`   // options of which a number is left, by option
	// Of [Public.Stages] the operation whose end makes it due, from 1 on; 0 is due with the order. A customer learns it
	// from the words of the stage.
	Due         []int      `json:"due,omitempty"`
	PaymentDays int        `json:"payment_days,omitempty"` // within which he pays
	Supplies    []Supply   `json:"supplies"`               // of [Costs.Materials]
	Laminates   []Laminate `json:"laminates,omitempty"`
	Cuts        []CutNames `json:"cuts,omitempty"` // of [Costs.Cuts]
	Runs        []Run      `json:"runs,omitempty"` // of [Pack.Circuits]
	Plates      []Plate    `json:"plates,omitempty"`
	Blocks      []Block    `json:"blocks,omitempty"`
	RatesAt     RatesAt    `json:"rates_at"`
	Sources     []Source   `json:"sources"`

	// in the other languages of the book, by language and place, see [Pack.In]
	Words map[string]map[string]string `json:"words,omitempty"`
}

// Few is an option of which the yard has a number on the day of the edition, and gets no more.
type Few struct {
	Option int  `json:"option"`
	Count  int  `json:"count"`
	Shown  bool `json:"shown,omitempty"` // everybody may read how many are left
}

// Leave has everybody know what is left, given how many of each option were ordered since; nil for none.
func (p *Pack) Leave(ordered []int) {
	p.Left = nil
	for _, f := range p.Work.Few {
		left := f.Count
		if ordered != nil {
			left = max(0, left-ordered[f.Option])
		}
		// of the others the number is the yard's alone
		if f.Shown || left == 0 {
			p.Left = append(p.Left, Left{f.Option, left})
		}
	}
}

// Supply is where a material comes from, and how many days before it is wanted it has to be ordered. The show's desk
// quotes without it.
type Supply struct {
	Supplier string `json:"supplier,omitempty"`
	Article  string `json:"article,omitempty"` // the supplier's number
	LeadDays int    `json:"lead_days,omitempty"`
}

// Laminate is a lay-up over an area of some hulls; none named means all. Cloths, process and part are words of package
// laminate.
type Laminate struct {
	ID      string          `json:"id"`
	Title   string          `json:"title"`
	Part    string          `json:"part"`
	Hulls   []int           `json:"hulls,omitempty"`
	AreaM2  formula.Program `json:"area_m2"` // of the hull alone
	Plies   []Ply           `json:"plies"`   // from the mould inwards
	Process string          `json:"process"`
	At      int             `json:"at"`
}

// On says whether a laminate lies on a hull.
func (l *Laminate) On(hull int) bool { return len(l.Hulls) == 0 || slices.Contains(l.Hulls, hull) }

// Ply is a layer of glass, Count times.
type Ply struct {
	Cloth string  `json:"cloth"`
	GM2   float64 `json:"g_m2"`
	Count int     `json:"count"`
}

// HullAlone says whether a formula reads nothing but the hull.
func HullAlone(f formula.Program) bool {
	r := f.Reads()
	return len(r.Options)+len(r.Slots)+len(r.Use)+len(r.Figures) == 0
}

// CutNames are the words and lines of a cut layout, in the order of its stocks and pieces.
type CutNames struct {
	Title  string   `json:"title"`
	Stocks []string `json:"stocks"`
	Pieces []string `json:"pieces"`
	// by piece, then as [CutPiece.Panels]
	Shapes [][][]CutShape `json:"shapes,omitempty"`
}

// CutShape are the lines of a panel. Each is a list of numbers, three for a corner: across and along in mm from the
// corner of its rectangle, and the bulge of the edge that leads on from there.
type CutShape struct {
	Cut      []float64 `json:"cut"`
	Finished []float64 `json:"finished,omitempty"` // none where it is the same
	// of match marks, each of two corners
	Notches []float64 `json:"notches,omitempty"`
	// finished, across and along, mm
	Size [2]float64 `json:"size"`
	// the middle of where it is written on, across and along, and how much room there is on the longer side, mm
	Label [3]float64 `json:"label"`
}

// RatesAt is where in the book the general rates stand, for whoever asks how a cost came about.
type RatesAt struct {
	OnLabour    int `json:"on_labour"`
	OnMaterials int `json:"on_materials"`
	Contingency int `json:"contingency"`
}

// Source is a place in the book with the text of the formula that stands there. Where a quantity of a material stands,
// it says which operation takes it, counted from 1 (0: none), and how the amount was measured, if not by a formula.
type Source struct {
	File    string   `json:"file"`
	Line    int      `json:"line"`   // from 1
	Column  int      `json:"column"` // from 1, in characters
	Text    string   `json:"text,omitempty"`
	Taker   int      `json:"taker,omitempty"`
	Takeoff *Takeoff `json:"takeoff,omitempty"`
}

func (s Source) String() string { return fmt.Sprintf("%s:%d:%d", s.File, s.Line, s.Column) }

// Takeoff is how an amount was measured: the form and its parts in the form's order. The amount itself is composed of
// them.
type Takeoff struct {
	Form  string            `json:"form"` // a word of package takeoff
	Parts []formula.Program `json:"parts"`
}

// Where names a place in the book, for what is wrong with the formula there; by its number where the desk does not know
// more.
func (p *Pack) Where(at int) string {
	if p.Work == nil {
		return fmt.Sprintf("place %d of the book", at)
	}
	return p.Work.Sources[at].String()
}

// Taker is the operation that takes the material of a place in the book; -1 where there is none, or the desk does not
// know it. So a shop finds on its own card what it has to fetch from the store.
func (p *Pack) Taker(at int) int {
	if p.Work == nil {
		return -1
	}
	return p.Work.Sources[at].Taker - 1
}
