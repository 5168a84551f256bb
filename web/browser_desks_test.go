package main

import (
	"bytes"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// fill types into a field, over what is there.
func (p *tab) fill(id, text string) {
	p.Helper()
	p.turn(id)
	p.do(chromedp.Focus(chromedp.ID(id)), chromedp.Evaluate[chromedp.Void](`document.activeElement.select()`),
		chromedp.KeyEvent(text))
	if got := of[string](p, fmt.Sprintf("document.getElementById(%q).value", id)); got != text {
		p.Fatalf("%s holds %q, want %q", id, got, text)
	}
}

// hand presses the button of a form and waits for the answer.
func (p *tab) hand(form string) {
	p.Helper()
	p.turn(form)
	p.answers(chromedp.Click(chromedp.CSS("#" + form + " button[type=submit]")))
}

// saved clicks a file that the paper offers and reads what the browser saved.
func (p *tab) saved(end string) (name string, text []byte) {
	p.Helper()
	dir := p.TempDir()
	id := chromedp.FromContext(p.ctx).BrowserContextID
	if _, err := chromedp.CallBrowser(p.ctx, browser.SetDownloadBehavior,
		browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir,
			BrowserContextID: id}); err != nil {
		p.Fatal(err)
	}
	p.do(chromedp.Click(chromedp.CSS(`#paper-files a[download$="` + end + `"]`)))
	for limit := time.Now().Add(10 * time.Second); time.Now().Before(limit); time.Sleep(20 * time.Millisecond) {
		files, _ := filepath.Glob(filepath.Join(dir, "*"+end))
		if len(files) == 0 {
			continue
		}
		if text, err := os.ReadFile(files[0]); err == nil && len(text) > 0 {
			return filepath.Base(files[0]), text
		}
	}
	p.Fatalf("nothing was saved as *%s", end)
	return "", nil
}

// atTheShow makes a quotation at the show, as a salesperson would, and gives the file.
func atTheShow(t *testing.T, p *tab) (file string, q *quote.Quote) {
	t.Helper()
	p.hull("reed-65")
	p.choose("bank", "bank-lfp-20")
	p.unfold("discounts-details")
	list := p.total()
	p.fill("discount-title", "Show week")
	p.fill("discount-value", "3 %")
	p.hand("add-discount")
	if p.total() == list || p.text("discounts") == "" ||
		of[int](p, `document.querySelectorAll(".warnings").length`) != 0 {
		t.Errorf("3 %% gives %s after %s, with warnings %d", p.total(), list,
			of[int](p, `document.querySelectorAll(".warnings").length`))
	}
	p.fill("free-title", "Boat hook, oak")
	p.fill("free-price", "84,50")
	p.fill("free-cost", "31")
	p.fill("free-hours", "1.5")
	p.do(chromedp.SetValue(chromedp.ID("free-basis"), "net"), chromedp.SetValue(chromedp.ID("free-shop"), "assembly"))
	p.hand("add-line")
	if !strings.Contains(p.text("ledger"), "Boat hook, oak") {
		t.Error("the extra item is not in the ledger")
	}
	p.fill("discount-title", "Round sum")
	p.fill("discount-value", "9 %")
	p.hand("add-discount")
	if !strings.Contains(plain(p.text("discounts")), "your limit is 5 %") ||
		of[int](p, `document.querySelectorAll("#discounts .warnings li").length`) == 0 {
		t.Error("no warning beyond the authority")
	}
	p.unfold("customer-details")
	p.fill("detail-number", "2027-014")
	p.do(chromedp.SetValue(chromedp.ID("detail-date"), "2027-03-31"))
	p.fill("detail-name", "Ada Example")
	p.do(chromedp.SendKeys(chromedp.ID("detail-address"), "2 Alder Quay\nHeronmere"))
	p.hand("quotation")
	if !strings.Contains(p.text("state"), "approved") || of[bool](p, `document.getElementById("paper").open`) {
		t.Errorf("without an approval it says %q", p.text("state"))
	}
	if of[string](p, `document.getElementById("detail-name").value`) != "Ada Example" {
		t.Error("an error takes away what was typed")
	}
	p.turn("discounts")
	p.answers(chromedp.Click(chromedp.ID("remove-discount-1")))
	if of[int](p, `document.querySelectorAll(".warnings").length`) != 0 {
		t.Error("still a warning without the second discount")
	}
	p.unfold("plates-details")
	p.fill("detail-serial", "42")
	p.fill("detail-built", "2027-03")
	p.hand("quotation")
	if !strings.Contains(p.text("state"), "five characters") ||
		of[string](p, `document.getElementById("detail-built").value`) != "2027-03" ||
		!of[bool](p, `document.getElementById("plates-details").open`) {
		t.Errorf("with a short serial it says %q", p.text("state"))
	}
	p.fill("detail-serial", "00042")
	p.hand("quotation")
	text := plain(p.paperText())
	name, saved := p.saved(".json")
	q, err := quote.Decode(saved)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []string{"Quotation 2027-014", "31 March 2027", "30 April 2027", "Ada Example", "2 Alder Quay",
		"Show week", "Boat hook, oak", amountOf(p.total())} {
		if !strings.Contains(text, w) {
			t.Errorf("the paper lacks %q: %.900s", w, text)
		}
	}
	return write(t, filepath.Join(t.TempDir(), name), string(saved)), q
}

func TestShowDeskMakesAQuotation(t *testing.T) {
	t.Parallel()
	p := visit(t, "/show.html")
	file, q := atTheShow(t, p)
	if filepath.Base(file) != "quotation-2027-014-for-the-yard.json" {
		t.Errorf("saved as %s", file)
	}
	sum := money.Amount{}
	for _, s := range q.Price.Stages {
		sum = sum.Add(s.Amount)
	}
	if !sum.Equal(q.Price.Total) || len(q.Price.Stages) < 2 {
		t.Errorf("the stages add up to %s, want %s", sum, q.Price.Total)
	}
	if got := money.Grouped(q.Price.Total.Fixed(2)); plain(got) != amountOf(p.total()) {
		t.Errorf("the file says %s, the page %s", got, p.total())
	}
	e, err := engine.Compile(packsOf(t)[pack.Show])
	if err != nil {
		t.Fatal(err)
	}
	_, a, differences, err := quote.Reopen(e, q)
	if err != nil || len(differences) > 0 {
		t.Errorf("reopened: %v, %v", differences, err)
	}
	// The engine in the page and the one here freeze the same bytes.
	fresh, err := quote.Freeze(e, a, q.Details)
	if err != nil {
		t.Fatal(err)
	}
	if text, _ := os.ReadFile(file); !bytes.Equal(text, fresh.Encode()) {
		t.Error("the page's quote has other bytes than the same one made here")
	}
	printsOnBothSizes(p, of[string](p, `document.getElementById("paper-frame").srcdoc`),
		plain(money.Grouped(q.Price.Total.Fixed(2))))
}

// printsOnBothSizes prints a paper as the browser does and reads it back.
func printsOnBothSizes(p *tab, html, total string) {
	p.Helper()
	server := serveHandler(p, http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write([]byte(strings.Replace(html, "<head>", `<head><link rel="icon" href="data:,">`, 1)))
	}))
	other := p.second()
	other.do(chromedp.Navigate(server.URL))
	for _, size := range []struct {
		name          string
		paper         chromedp.PaperSize
		width, height float64 // in points
	}{{"A4", chromedp.PaperA4, 595, 842}, {"Letter", chromedp.PaperLetter, 612, 792}} {
		pdf, err := chromedp.Run(other.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size.paper),
			chromedp.PDFPreferCSSPageSize()))
		if err != nil {
			p.Fatal(err)
		}
		pages := regexp.MustCompile(`/Type /Page\b[^s]`).FindAll(pdf, -1)
		if len(pages) < 2 || len(pages) > 8 || len(pdf) < 10_000 {
			p.Errorf("%s: %d pages in %d bytes", size.name, len(pages), len(pdf))
		}
		box := regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`).FindSubmatch(pdf)
		var w, h float64
		if box == nil {
			p.Fatalf("%s: no page size in it", size.name)
		}
		fmt.Sscan(string(box[1]), &w)
		fmt.Sscan(string(box[2]), &h)
		if w < size.width-1.5 || w > size.width+1.5 || h < size.height-1.5 || h > size.height+1.5 {
			p.Errorf("%s: pages of %g by %g points", size.name, w, h)
		}
		if text, ok := pdfText(p, pdf); ok && !strings.Contains(plain(text), total) {
			p.Errorf("%s: the print lacks %s: %.600s", size.name, total, text)
		}
	}
}

// pdfText reads a PDF where there is a tool for it.
func pdfText(p *tab, pdf []byte) (text string, ok bool) {
	p.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		p.Log("no pdftotext: only size and pages of the print are checked")
		return "", false
	}
	file := write(p, filepath.Join(p.TempDir(), "paper.pdf"), string(pdf))
	out, err := exec.CommandContext(p.ctx, tool, "-layout", file, "-").Output()
	if err != nil {
		p.Fatal(err)
	}
	return string(out), true
}

func TestYardDeskOpensTheQuotation(t *testing.T) {
	t.Parallel()
	file, q := atTheShow(t, visit(t, "/show.html"))
	p := visit(t, "/yard.html")
	p.answers(chromedp.SetUploadFiles(chromedp.ID("open-file"), []string{file}))
	if text := p.text("reopened"); !strings.Contains(text, "Quotation 2027-014, Ada Example") ||
		!strings.Contains(text, "As quoted") {
		t.Errorf("reopened, it says %q, and %s", text, p.state())
	}
	if amountOf(p.total()) != plain(money.Grouped(q.Price.Total.Fixed(2))) {
		t.Errorf("the total is %s, want %s", p.total(), q.Price.Total)
	}
	if q.Serial != "00042" || q.Built != "2027-03" ||
		of[string](p, `document.getElementById("detail-serial").value`) != "00042" {
		t.Errorf("serial and month are %q and %q", q.Serial, q.Built)
	}
	e, err := engine.Compile(packsOf(t)[pack.Yard])
	if err != nil {
		t.Fatal(err)
	}
	a, err := e.Answer(q.Spec)
	if err != nil {
		t.Fatal(err)
	}
	y := sheet.ForYard(e, a, quote.Details{})
	var want [][]string
	for _, s := range append(append([]sheet.ShopHours{}, y.Shops...), y.Hours) {
		want = append(want, []string{s.Shop, plain(s.Base.Fixed(1)), plain(s.Options.Fixed(1)), plain(s.Total.Fixed(1)),
			plain(s.Over.Fixed(1))})
	}
	got := of[[][]string](p, `[...document.querySelector("#hours table").querySelectorAll("tbody tr, tfoot tr")].map(r => [...r.children].map(c => c.textContent))`)
	if digits(fmt.Sprint(got)) != digits(fmt.Sprint(want)) {
		t.Errorf("hours by shop:\n%v, want\n%v", got, want)
	}
	p.unfold("stores-details")
	if n := of[int](p, `document.querySelectorAll("#stores table tbody tr").length`); n != len(y.Purchases) || n < 50 {
		t.Errorf("%d materials, want %d", n, len(y.Purchases))
	}
	p.answers(chromedp.Click(chromedp.CSS(`[data-do="sheet"]`)))
	text := p.paperText()
	for _, w := range []string{"Build sheet", "Quotation 2027-014", "Hours by shop", "Materials", "Boat hook, oak",
		y.Purchases[0].Title, "XX-XHL00042C727"} {
		if !strings.Contains(text, w) {
			t.Errorf("the yard sheet lacks %q", w)
		}
	}
	if n := of[int](p, `document.querySelectorAll("#paper-files a[download]").length`); n != 5 {
		t.Errorf("%d files to save, want 5", n)
	}
	p.do(chromedp.Click(chromedp.CSS(`[data-do="close"]`)), chromedp.SetValue(chromedp.ID("sheet-shop"), "electrical"))
	p.unfold("loom-details")
	if n := of[int](p, `document.querySelectorAll("#loom svg").length`); n < 1 ||
		of[int](p, `document.querySelectorAll("#loom tbody tr").length`) != len(y.Loom.Wires) {
		t.Errorf("%d drawings of the loom, want wires %d", n, len(y.Loom.Wires))
	}
	p.answers(chromedp.Click(chromedp.CSS(`[data-do="sheet"]`)))
	if text := p.paperText(); !strings.Contains(text, "Build the wiring loom") ||
		strings.Contains(text, "Hours by shop") ||
		of[int](p, `document.querySelectorAll("#paper-files a[download]").length`) != 2 {
		t.Errorf("the sheet of the shop says %.300s", text)
	}
}

// digits takes every kind of space out of a table of numbers.
func digits(s string) string {
	return strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "").Replace(s)
}

// A file that is something else is refused in plain words, and the boat stays.
func TestYardDeskRefusesOtherFiles(t *testing.T) {
	t.Parallel()
	p := visit(t, "/yard.html")
	total := p.total()
	file := write(t, filepath.Join(t.TempDir(), "holiday.json"), `{"photo": 1}`)
	p.answers(chromedp.SetUploadFiles(chromedp.ID("open-file"), []string{file}))
	if s := p.text("state"); !strings.Contains(s, "photo: this key is not known here") || p.total() != total {
		t.Errorf("it says %q, and the total is %s", s, p.total())
	}
	spec := write(t, filepath.Join(t.TempDir(), "spec.json"), reedSpec)
	p.answers(chromedp.SetUploadFiles(chromedp.ID("open-file"), []string{spec}))
	if p.status("bank-lfp-20") != "chosen" || p.text("reopened") != "" {
		t.Errorf("a specification opens as %s, with %q", p.status("bank-lfp-20"), p.text("reopened"))
	}
}

// Turned to the customer, the screen shows no margin, no hours and nobody else's quotation.
func TestScreenTurnedToTheCustomer(t *testing.T) {
	t.Parallel()
	p := visit(t, "/yard.html")
	p.turn("page-work")
	private := `[...document.querySelectorAll("body *")].filter((e) => e.checkVisibility() && e.children.length === 0)
		.map((e) => e.textContent).join("\n")`
	if s := of[string](p, private); !strings.Contains(s, "Hours by shop") || !strings.Contains(s, "Quotations") {
		t.Fatalf("the yard's own screen says %.300q", s)
	}
	p.do(chromedp.Click(chromedp.ID("face")))
	for _, page := range []string{"page-boat", "page-price", "section-power"} {
		p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('#nav a[href="#` + page + `"]').click()`))
		p.await(`!document.getElementById("` + page + `").hidden`)
		s := of[string](p, private)
		for _, word := range []string{"Margin", "Hours", "Quotations"} {
			if strings.Contains(s, word) {
				t.Errorf("turned to the customer, %s says %q", page, word)
			}
		}
	}
	p.do(chromedp.Click(chromedp.ID("face")))
	p.await(`document.querySelector('#nav a[href="#page-work"]').checkVisibility()`)
}
