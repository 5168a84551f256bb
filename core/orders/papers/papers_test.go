package papers_test

import (
	"bytes"
	"flag"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/msg/office"
	"ribband/core/orders"
	"ribband/core/orders/papers"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/quote"
	"ribband/core/render"
	"ribband/core/spec"
)

var update = flag.Bool("update", false, "write the papers in testdata/office anew")

const paperFolder, orderFolder = "../../testdata/office", "../../testdata/orders"

// The books and specs of the tests are found from a package of core.
func TestMain(m *testing.M) {
	if err := os.Chdir(".."); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}

func day(t testing.TB, text string) orders.Day {
	t.Helper()
	d, err := orders.ParseDay(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func week(t testing.TB, text string) orders.Week {
	t.Helper()
	w, err := orders.ParseWeek(text)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// demoOrders are those of the demo.
func demoOrders(t testing.TB) *orders.Folder {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(orderFolder, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, name := range names {
		if files[filepath.Base(name)], err = os.ReadFile(name); err != nil {
			t.Fatal(err)
		}
	}
	f := orders.Read(files)
	if len(f.Faults) > 0 {
		t.Fatal(f.Faults)
	}
	return f
}

// speaking is the yard's engine in a language.
func speaking(t testing.TB, tag string) *engine.Engine {
	t.Helper()
	e, ok, err := enginetest.Demo()[pack.Yard].Speaking(tag)
	if err != nil || !ok {
		t.Fatal(tag, ok, err)
	}
	return e
}

// inLanguage is an order of the demo whose quotation was issued in another language.
func inLanguage(t testing.TB, o *orders.Order, tag string) *orders.Order {
	t.Helper()
	e := speaking(t, tag)
	q, err := quote.Freeze(e, enginetest.Answer(t, e, o.Quote().Spec), o.Quote().Details)
	if err != nil {
		t.Fatal(err)
	}
	said := *o
	said.Quotation = q.Encode()
	text, err := said.Encode()
	if err != nil {
		t.Fatal(err)
	}
	again, err := orders.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	return again
}

// order finds an order of the demo.
func order(t testing.TB, list []*orders.Order, number string) *orders.Order {
	t.Helper()
	o, err := orders.Find(list, number)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// with is a spec with other choices.
func with(s spec.Spec, choices map[string]map[string]int) spec.Spec {
	s.Choices = maps.Clone(s.Choices)
	maps.Copy(s.Choices, choices)
	return s
}

// golden holds a paper to what it was when somebody read it.
func golden(t *testing.T, name string, d *doc.Doc, l *msg.Language) {
	t.Helper()
	text := render.Text(d, l)
	// as a page it has the style sheet of all papers, which package render holds
	files, err := map[string][]byte{".txt": text}, error(nil)
	if d.Data != nil {
		if files[".csv"], err = render.CSV(d); err != nil {
			t.Fatal(err)
		}
	}
	for ending, got := range files {
		file := filepath.Join(paperFolder, name+ending)
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if want, err := os.ReadFile(file); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is another paper (%v); run with -update and read the difference", file, err)
		}
	}
	// a word that no catalogue has stands in brackets, an argument that is missing in braces
	if i := bytes.Index(text, []byte("[office.")); i >= 0 || bytes.Contains(text, []byte("{")) {
		t.Errorf("%s has words without a text:\n%s", name, text)
	}
}

// privately are words of the yard that no paper of a customer may have: hours, and what things cost.
func privately(t *testing.T, name string, d *doc.Doc, l *msg.Language, others []*orders.Order, of *orders.Order) {
	t.Helper()
	text := string(render.Text(d, l))
	for _, o := range others {
		name, own := o.Quote().Customer.Name, of.Quote().Customer.Name
		if o.Number != of.Number && (strings.Contains(text, o.Number) || name != own && strings.Contains(text, name)) {
			t.Errorf("%s tells of %s", name, o.Number)
		}
	}
}

// changed is a change of an order as the command makes it: with what can be had, and with what no longer can.
func changed(t *testing.T, all []*orders.Order, o *orders.Order, asked, possible map[string]map[string]int, on,
	promised string) *papers.Change {
	t.Helper()
	e, in := enginetest.Demo()[pack.Yard], speaking(t, o.Quote().Language)
	of := func(choices map[string]map[string]int) *orders.ChangeOrder {
		c, err := orders.NewChangeOrder(e, all, o.Number, with(o.Quote().Spec, choices), day(t, on), plan.Quick)
		if err != nil {
			t.Fatal(err)
		}
		said, err := c.In(in, o)
		if err != nil {
			t.Fatal(err)
		}
		return said
	}
	c := of(asked)
	x := &papers.Change{Was: o, Change: c, Refused: c.Refused, Day: day(t, on)}
	if possible == nil {
		return x
	}
	x.Change = of(possible)
	q, err := x.Change.Issue(in, o, "")
	if err != nil {
		t.Fatal(err)
	}
	if x.Now, err = o.Accept(orders.Change{Accepted: day(t, on), Promised: week(t, promised),
		Quotation: q.Encode()}); err != nil {
		t.Fatal(err)
	}
	return x
}

// A change has everything that its customer asks, in his language, and its sums are those of both quotations.
func TestChangeOrders(t *testing.T) {
	f := demoOrders(t)
	bottom := map[string]map[string]int{"bottom-paint": {"bottom-copper-free": 1}}
	navy := map[string]map[string]int{"gelcoat-hull": {"gelcoat-hull-navy": 1}}
	late := maps.Clone(bottom)
	maps.Copy(late, navy)
	for _, c := range []struct {
		name, number, language string
		asked, possible        map[string]map[string]int
		paid                   string
	}{
		{"change-order", "2026-032", "en", bottom, bottom, "6639.31"},
		{"change-order-de", "2026-033", "de", late, bottom, "60000"},
		{"change-order-nl", "2026-033", "nl", navy, nil, ""},
	} {
		o := inLanguage(t, order(t, f.Orders, c.number), c.language)
		if c.paid != "" {
			first := o.Quote().Price.Stages[0].Title
			var err error
			if o, err = o.Pay(orders.Payment{Stage: first, On: o.Accepted, Amount: money.MustParse(c.paid)},
				false); err != nil {
				t.Fatal(err)
			}
		}
		all := append([]*orders.Order{}, f.Orders...)
		for i := range all {
			if all[i].Number == o.Number {
				all[i] = o
			}
		}
		x := changed(t, all, o, c.asked, c.possible, "2027-02-15", "2027-W12")
		l := office.Words(speaking(t, c.language).Language())
		d := papers.ChangeOrder(l, x)
		golden(t, c.name, d, l)
		privately(t, c.name, d, l, f.Orders, o)
		for _, u := range x.Change.Undone {
			text := string(render.Text(d, l))
			if strings.Contains(text, l.Decimal(u.Lost.Fixed(2))) || strings.Contains(text, u.Hours.Fixed(1)+" h") {
				t.Errorf("%s tells what undoing costs the yard:\n%s", c.name, text)
			}
		}
		if (len(x.Refused) > 0) == (c.name == "change-order") {
			t.Errorf("%s: refused %v", c.name, x.Refused)
		}
	}
}

// due is the account of an order on a day.
func due(t testing.TB, o *orders.Order, on string) *orders.Account {
	t.Helper()
	list, faults := orders.Dues(enginetest.Demo()[pack.Yard], []*orders.Order{o}, day(t, on))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return &list[0]
}

// pay enters a payment of a stage by its place.
func pay(t testing.TB, o *orders.Order, stage int, amount string) *orders.Order {
	t.Helper()
	next, err := o.Pay(orders.Payment{Stage: o.Quote().Price.Stages[stage].Title, On: o.Accepted,
		Amount: money.MustParse(amount)}, false)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// A request has all that a bank asks for and a customer wants to know; what was paid too much is paid back.
func TestRequests(t *testing.T) {
	f := demoOrders(t)
	first := func(o *orders.Order) string { return o.Quote().Price.Stages[0].Amount.String() }
	part := order(t, f.Orders, "2026-032")
	part = pay(t, pay(t, part, 0, first(part)), 1, "5000")
	ahead := inLanguage(t, order(t, f.Orders, "2026-031"), "de")
	ahead = pay(t, ahead, 0, "20000")
	over := pay(t, inLanguage(t, order(t, f.Orders, "2026-033"), "nl"), 0, "40000")
	for name, o := range map[string]*orders.Order{"request": part, "request-de": ahead, "repayment-nl": over} {
		a := due(t, o, "2027-02-13")
		l := office.Words(speaking(t, o.Quote().Language).Language())
		d := papers.Request(l, o, a, day(t, "2027-02-13"))
		golden(t, name, d, l)
		privately(t, name, d, l, f.Orders, o)
		text := string(render.Text(d, l))
		if want := l.Decimal(a.Asked.Fixed(2)); a.Asked.Sign() > 0 && !strings.Contains(text, want) {
			t.Errorf("%s does not ask for %s", name, want)
		}
		if want := l.Decimal(a.Surplus.Fixed(2)); a.Surplus.Sign() > 0 && !strings.Contains(text, want) {
			t.Errorf("%s does not pay back %s", name, want)
		}
	}
}

// An order to a supplier has all that is bought of him and no more, and nothing of boats and customers.
func TestSupplierOrders(t *testing.T) {
	f := demoOrders(t)
	for _, tag := range []string{"en", "de"} {
		e := speaking(t, tag)
		load, faults := orders.NewLoad(e, f.Orders, f.Day())
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		p, err := load.Make(plan.Quick)
		if err != nil {
			t.Fatal(err)
		}
		const supplier = "Ashquern Timber"
		var list []orders.Purchase
		for _, b := range p.Purchases(nil) {
			if b.Supplier == supplier {
				list = append(list, b)
			}
		}
		l := office.Words(e.Language())
		d := papers.SupplierOrder(l, &e.Public().Yard, supplier, list, p.Day)
		golden(t, "supplier-"+tag, d, l)
		text := string(render.Text(d, l))
		for _, b := range list {
			if !strings.Contains(text, b.Material) || b.Wanted().IsZero() {
				t.Errorf("%s is not ordered, or by no day", b.Material)
			}
		}
		for _, o := range f.Orders {
			for _, private := range []string{o.Number, o.Quote().Customer.Name, o.Quote().Hull, "EUR"} {
				if strings.Contains(text, private) {
					t.Errorf("a supplier is told of %s", private)
				}
			}
		}
	}
}

// filed is an order with what is known of its boat.
func filed(t testing.TB, o *orders.Order, change func(*orders.Built)) *orders.Order {
	t.Helper()
	b := o.Known()
	change(b)
	next, err := o.With(b)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// abroad is an order of the demo's boat for export, to a region.
func abroad(t testing.TB, region, tag string) *orders.Order {
	t.Helper()
	e := speaking(t, tag)
	s := enginetest.DemoSpecs(t)["export"]
	s.Use = maps.Clone(s.Use)
	s.Use["region"] = spec.Value{Choice: region}
	if region == "gb" { // no container goes there
		s = with(s, map[string]map[string]int{"delivery": {"delivery-road-down": 1}})
	}
	q, err := quote.Freeze(e, enginetest.Answer(t, e, s), quote.Details{Number: "Q-9", Date: "2027-01-11",
		Customer: quote.Party{Name: "Wilma Overlake"}})
	if err != nil {
		t.Fatal(err)
	}
	next, err := orders.New("2027-020", day(t, "2027-01-18"), week(t, "2027-W22"), q.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// The file of a boat has its number, what was noted beside what was predicted, and the declaration of where it goes.
func TestBoatFiles(t *testing.T) {
	f := demoOrders(t)
	full := filed(t, order(t, f.Orders, "2026-031"), func(b *orders.Built) {
		b.Serial, b.Month, b.HandedOver = "00031", "2027-02", day(t, "2027-02-19")
		b.Noted = []orders.Noted{{Operation: "spray-gelcoat", Check: "gelcoat-batch", Value: "GC-4471"},
			{Operation: "mount-motor", Check: "motor-number", Value: "M-20981"},
			{Operation: "tank-trial", Check: "full-current", Value: "150"},
			{Operation: "float-boat", Check: "draught-fore", Value: "0.31"},
			{Operation: "tank-trial", Check: "tank-insulation", Value: "0.4"}}
		b.Runs = []orders.Run{{SpeedKn: 3, CurrentA: 8.5}, {SpeedKn: 4, CurrentA: 17}}
		b.Photographs = []orders.Photograph{{File: "bow.jpg", Title: "Bow from ahead",
			SHA256: "73cb3858a687a8494ca3323053016282f3dad39d42cf62ca4e79dda2aac7d9ac"}}
		b.Owner = &quote.Party{Name: "Orla Sandmark", Address: []string{"7 Sluice Lane"}}
		b.Warranty = []orders.Warranty{{Title: "Hull laminate", Until: day(t, "2032-02-19")}}
	})
	plain := order(t, f.Orders, "2026-033")
	for _, c := range []struct {
		name string
		o    *orders.Order
		want []string
	}{
		{"boat-file", full, []string{"XX-XHL00031B727", "GC-4471", "too low", "Directive 2013/53/EU", "Orla Sandmark",
			"not in the folder"}},
		{"boat-file-gb", abroad(t, "gb", "en"), []string{"S.I. 2017/737"}},
		{"boat-file-us-de", abroad(t, "us", "de"), []string{"33 CFR 181.15", "33 CFR 181.23 bis 181.29): ________"}},
		{"boat-file-nl", inLanguage(t, plain, "nl"), []string{"Richtlijn 2013/53/EU"}},
	} {
		e := speaking(t, c.o.Quote().Language)
		file, err := c.o.File(e, nil)
		if err != nil {
			t.Fatal(err)
		}
		l := office.Words(e.Language())
		d := papers.BoatFile(l, file)
		golden(t, c.name, d, l)
		privately(t, c.name, d, l, f.Orders, c.o)
		text := string(render.Text(d, l))
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %s", c.name, want)
			}
		}
	}
	list := orders.Register(speaking(t, "en"), []*orders.Order{full})
	golden(t, "register", papers.Register(msg.English, "Heronmere Launch Yard", list), office.Words(msg.English))
}
