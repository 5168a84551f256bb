package orders_test

import (
	"image"
	"image/color"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	zxing "github.com/makiuchi-d/gozxing/qrcode"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/plan"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// demoPlan is a plan of the demo's orders on the day after the last that was entered.
func demoPlan(t testing.TB) *orders.Plan {
	t.Helper()
	p, err := demoLoad(t).Make(plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// speaking is the yard's engine in a language.
func speaking(t testing.TB, tag string) *engine.Engine {
	t.Helper()
	e, ok, err := enginetest.Demo()[pack.Yard].Speaking(tag)
	if err != nil || !ok {
		t.Fatal(tag, err)
	}
	return e
}

// written is a card as a paper.
func written(t testing.TB, e *engine.Engine, c *orders.Card, f paper.Format) string {
	t.Helper()
	of, err := paper.Find("job-card", e)
	if err != nil {
		t.Fatal(err)
	}
	text, err := of.Write(&paper.Source{Language: e.Language(), Quote: c.Quote, Card: c.Card}, f)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The cards of an order have each hour that its build sheet has, and the days that the plan gives as the reason of its
// launch; what is done and what is left of each operation stands on one card.
func TestCardsAgreeWithPlanAndBuildSheet(t *testing.T) {
	p, e := demoPlan(t), enginetest.Demo()[pack.Yard]
	chain := 0
	for _, boat := range p.Boats {
		var hours, left measure.Hours
		on := map[string]*sheet.CardWork{}
		for _, shop := range e.Work.Shops {
			list, err := p.Cards(e, boat.Number, shop.ID)
			if err != nil || len(list) != 1 {
				t.Fatalf("%s, %s: %d cards, %v", boat.Number, shop.ID, len(list), err)
			}
			for i := range list[0].Done {
				hours += list[0].Done[i].Hours
			}
			for i := range list[0].Work {
				w := &list[0].Work[i]
				if on[w.Operation] != nil {
					t.Errorf("%s: %s stands on two cards", boat.Number, w.Operation)
				}
				hours, left, on[w.Operation] = hours+w.Hours, left+w.Planned.Left, w
				if w.Planned.End < w.Planned.Begin || i > 0 && w.Planned.Begin < list[0].Work[i-1].Planned.Begin {
					t.Errorf("%s: %s is worked from %s to %s", boat.Number, w.Title, w.Planned.Begin, w.Planned.End)
				}
				for _, after := range w.After {
					if after.Planned.End > w.Planned.Begin {
						t.Errorf("%s: %s begins on %s, before %s is done on %s", boat.Number, w.Title,
							w.Planned.Begin, after.Title, after.Planned.End)
					}
				}
			}
		}
		order, err := orders.Find(demoLoad(t).Orders(), boat.Number)
		if err != nil {
			t.Fatal(err)
		}
		a := enginetest.Answer(t, e, order.Quote().Spec)
		if want := sheet.ForYard(e, a, quote.Details{}).Hours.Total; hours != want || left > want {
			t.Errorf("%s: the cards have %s h, of them %s h to do, the build sheet %s h", boat.Number, hours, left,
				want)
		}
		for _, r := range boat.Chain {
			w := on[r.Operation]
			if r.Number != boat.Number || w == nil {
				continue
			}
			chain++
			if w.Planned.End != r.Finish.String() || w.Hours != r.Hours ||
				!w.Planned.Begun && w.Planned.Begin != r.Start.String() {
				t.Errorf("%s: the card has %s from %s to %s, the plan from %s to %s", boat.Number, w.Title,
					w.Planned.Begin, w.Planned.End, r.Start, r.Finish)
			}
		}
	}
	if chain < 50 {
		t.Errorf("only %d operations were compared with the plan", chain)
	}
}

// What a boat that is built half has behind it stands on the card in short, with its day and the hours that were
// entered, and not among the work; a shop that has nothing left gets no card unless somebody asks.
func TestCardsOfABoatBuiltHalf(t *testing.T) {
	p, e, load, cards := demoPlan(t), enginetest.Demo()[pack.Yard], demoLoad(t), 0
	entered, underWay := 0, 0
	for _, order := range load.Orders() {
		list, err := p.Cards(e, order.Number, "")
		if err != nil {
			t.Fatal(err)
		}
		cards += len(list)
		on := map[string]*sheet.JobTask{}
		for i := range list {
			if len(list[i].Work) == 0 {
				t.Errorf("%s, %s has nothing left, and has a card", order.Number, list[i].Shop)
			}
			for k := range list[i].Done {
				on[list[i].Done[k].Operation] = list[i].Done[k].Planned
			}
			for k := range list[i].Work {
				on[list[i].Work[k].Operation] = list[i].Work[k].Planned
			}
		}
		for _, s := range order.Done {
			j := on[s.Operation]
			if j == nil { // of a shop that is through
				continue
			}
			entered++
			if j.Begun {
				underWay++
			}
			if j.Booked != s.Hours || j.Begin != s.Begun.String() || j.Done == s.Done.IsZero() || j.Begun == j.Done ||
				j.Done && j.End != s.Done.String() {
				t.Errorf("%s, %s: the card has %+v, the order %+v", order.Number, s.Operation, j, s)
			}
		}
	}
	if entered < 40 || underWay < 2 || cards >= len(load.Orders())*len(e.Work.Shops) {
		t.Errorf("%d entries on the cards, %d under way", entered, underWay)
	}
}

// Whoever mistypes an order or a shop is told which there are.
func TestCardsOfNothing(t *testing.T) {
	p, e := demoPlan(t), enginetest.Demo()[pack.Yard]
	for _, c := range [][3]string{{"2027-06", "", `there is no order "2027-06"; did you mean "`},
		{"2027-001", "lamnation", `did you mean "lamination"?`}} {
		if _, err := p.Cards(e, c[0], c[1]); err == nil || !strings.Contains(err.Error(), c[2]) ||
			!strings.HasPrefix(err.Error(), "making job cards: ") {
			t.Errorf("%q, %q: %v", c[0], c[1], err)
		}
	}
}

// No card of any order has money, a rate or the customer on it.
func TestCardsHaveNoMoney(t *testing.T) {
	p, e := demoPlan(t), enginetest.Demo()[pack.Yard]
	list, err := p.Cards(e, "", "")
	if err != nil || len(list) < 80 {
		t.Fatal(len(list), err)
	}
	private := regexp.MustCompile(`EUR|€|\b[0-9]+\.[0-9]{2}/h|[Pp]rice:|[Mm]argin|[Cc]osts?\b`)
	for i := range list {
		text := written(t, e, &list[i], paper.AsText)
		if found := private.FindString(text); found != "" || strings.Contains(text, list[i].Quote.Customer.Name) {
			t.Errorf("%s, %s: it has %q, or the customer", list[i].Order, list[i].Shop, found)
		}
	}
}

var (
	svgCode = regexp.MustCompile(`<svg[^>]* viewBox="0 0 (\d+) [^>]*shape-rendering="crispEdges">` +
		`.*?d="([^"]*)"/></svg>`)
	svgRun   = regexp.MustCompile(`M(\d+),(\d+)h(\d+)v1h-(\d+)z`)
	style    = regexp.MustCompile(`(?s)<style>.*?</style>`)
	digestOf = regexp.MustCompile(`, [0-9a-f]{12}\b|(Specification|Specificatie|Spezifikation) [0-9a-f]{12}`)
)

// decoded are the QR codes of a page as a reader of another hand has them from the picture (the ZXing library's port
// to Go), eight pixels to the module.
func decoded(t *testing.T, page string) (list []string) {
	t.Helper()
	const scale = 8
	for _, code := range svgCode.FindAllStringSubmatch(page, -1) {
		size, _ := strconv.Atoi(code[1])
		picture := image.NewGray(image.Rect(0, 0, size*scale, size*scale))
		for i := range picture.Pix {
			picture.Pix[i] = 255
		}
		for _, run := range svgRun.FindAllStringSubmatch(code[2], -1) {
			x, _ := strconv.Atoi(run[1])
			y, _ := strconv.Atoi(run[2])
			n, _ := strconv.Atoi(run[3])
			for py := y * scale; py < (y+1)*scale; py++ {
				for px := x * scale; px < (x+n)*scale; px++ {
					picture.SetGray(px, py, color.Gray{})
				}
			}
		}
		bitmap, err := gozxing.NewBinaryBitmapFromImage(picture)
		if err != nil {
			t.Fatal(err)
		}
		read, err := zxing.NewQRCodeReader().Decode(bitmap,
			map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true})
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, read.GetText())
	}
	return list
}

// Each operation that is left has a code on the printed card, which names boat and operation and nothing else.
func TestCodesOfACard(t *testing.T) {
	p, e := demoPlan(t), enginetest.Demo()[pack.Yard]
	list, err := p.Cards(e, "2027-003", "")
	if err != nil {
		t.Fatal(err)
	}
	for i := range list {
		var want []string
		for _, w := range list[i].Work {
			want = append(want, "2027-003/"+w.Operation)
		}
		enginetest.WantList(t, "codes of "+list[i].Shop, decoded(t, written(t, e, &list[i], paper.AsHTML)), want)
	}
}

// Cards of the demo as their shops get them, without the digests of book and boat, and without the
// style sheet, which all papers have.
func TestGoldenCards(t *testing.T) {
	p := demoPlan(t)
	for _, c := range []struct {
		order, shop, language string
		format                paper.Format
	}{
		{"2026-035", "assembly", "en", paper.AsText}, {"2026-036", "lamination", "en", paper.AsText},
		{"2026-036", "moulding", "en", paper.AsHTML}, {"2027-001", "electrical", "en", paper.AsText},
		{"2026-036", "bottom-paint", "de", paper.AsText}, {"2026-036", "frame-shop", "nl", paper.AsText},
		{"2026-036", "test-tank", "de", paper.AsText},
	} {
		e := speaking(t, c.language)
		list, err := p.Cards(e, c.order, c.shop)
		if err != nil || len(list) != 1 {
			t.Fatal(len(list), err)
		}
		ending, _ := c.format.File()
		name := filepath.Join("../../testdata/cards", c.order+"-"+c.shop+"-"+c.language+ending)
		got := digestOf.ReplaceAllString(style.ReplaceAllString(written(t, e, &list[0], c.format), ""), "")
		if *update {
			if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s is another; if it should, run with -update and read what changed", name)
		}
	}
}
