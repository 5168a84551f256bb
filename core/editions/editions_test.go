package editions_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"ribband/core/book/source"
	"ribband/core/editions"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/quote"
	"ribband/core/render"
	"ribband/core/spec"
)

// edition is the small book of the tests with texts replaced, each in whichever file has it. A picture is replaced as a
// whole.
func edition(t testing.TB, edits ...[2]string) editions.Edition {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../testdata/books/small")); err != nil {
		t.Fatal(err)
	}
	// a text that stands in neither file, or twice, is a slip of the test
	for _, e := range edits {
		if strings.HasSuffix(e[0], ".png") {
			other, err := os.ReadFile(e[1])
			if err == nil {
				err = os.WriteFile(dir+"/"+e[0], other, 0o644)
			}
			if err != nil {
				t.Fatal(err)
			}
			continue
		}
		found := 0
		for _, name := range []string{"boat.yaml", "yard.yaml"} {
			text, err := os.ReadFile(dir + "/" + name)
			if err != nil {
				t.Fatal(err)
			}
			found += strings.Count(string(text), e[0])
			changed := strings.Replace(string(text), e[0], e[1], 1)
			if err := os.WriteFile(dir+"/"+name, []byte(changed), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if found != 1 {
			t.Fatalf("%q stands in the book %d times", e[0], found)
		}
	}
	b, _, err := source.Read(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	packs, _, diagnostics, err := publish.Load(os.DirFS(dir))
	if err != nil || packs == nil {
		t.Fatal(err, diagnostics)
	}
	e, err := engine.Compile(packs[pack.Yard])
	if err != nil {
		t.Fatal(err)
	}
	return editions.Edition{Book: b, Engine: e}
}

// named are the differences in one word each.
func named(c *editions.Comparison) (list []string) {
	for _, m := range c.Standards {
		list = append(list, "standard "+m.Now.Hull)
		for _, f := range m.Figures {
			list = append(list, "figure "+f.ID)
		}
	}
	for _, m := range c.Options {
		list = append(list, "option "+m.Now.Option)
	}
	for _, x := range c.Added {
		list = append(list, "+"+x.Kind+" "+x.ID)
	}
	for _, x := range c.Removed {
		list = append(list, "-"+x.Kind+" "+x.ID)
	}
	for _, m := range c.Keys {
		list = append(list, m.Kind+" "+m.ID+" "+m.Key)
	}
	for _, l := range c.Lost {
		list = append(list, fmt.Sprintf("lost %s: %s %v", l.What, strings.ReplaceAll(l.Why, "\u00a0", " "),
			l.Proved))
	}
	return list
}

// The small book is read anew for each change: a hundredth of a second, and nothing of one test is left in another.

// Each planted change is named once, and nothing else is.
func TestPlantedChanges(t *testing.T) {
	// two boats of the older book, one of which stands for a sample, too
	was := edition(t)
	heavy := spec.Spec{Format: spec.Format, Hull: "teasel-48", Choices: map[string]map[string]int{
		"top": {"top-fixed": 1}, "cloth": {"cloth-heavy": 1}}}
	bags := spec.Spec{Format: spec.Format, Hull: "teasel-48", Choices: map[string]map[string]int{
		"stowage": {"pocket": 4}}}
	trials := []editions.Trial{{Name: "heavy", Spec: heavy}, {Name: "pockets", Spec: bags}, {Spec: bags}}
	link := "        requires: [{any_of: [top-folding], because: Only a folding top goes into a bag.}]\n"
	rule := "rules:\n  - id: heavy-cloth-needs-a-fixed-top"
	for name, c := range map[string]struct {
		edits [][2]string
		want  []string // in the order of the comparison: what moved, came and went, rules, boats
	}{
		"nothing":          {nil, nil},
		"a list price":     {[][2]string{{`price: "1450"`, `price: "1475"`}}, []string{"option top-fixed"}},
		"hours":            {[][2]string{{"4 + 1 *", "5 + 1 *"}}, []string{"option cloth-heavy"}},
		"a weight":         {[][2]string{{"mass_kg: 22", "mass_kg: 23"}}, []string{"option top-fixed"}},
		"a standard build": {[][2]string{{"20 + 6 *", "21 + 6 *"}}, []string{"standard teasel-48"}},
		"a figure": {[][2]string{{"mass_kg: 290", "mass_kg: 300"}},
			[]string{"standard teasel-48", "figure mass_kg", "figure laden_kg"}},
		"a cost": {[][2]string{{`cost: "24.80"`, `cost: "26.80"`}},
			[]string{"standard teasel-48", "option cloth-light", "option cloth-heavy"}},
		"a rule less": {[][2]string{{"when: has(\"cloth-heavy\")\n    need: has(\"top-fixed\")",
			"when: has(\"cloth-heavy\")\n    need: has(\"top-fixed\") or has(\"top-folding\")"}},
			[]string{"rule heavy-cloth-needs-a-fixed-top need"}},
		"another tax": {[][2]string{{`rate: "0.20"`, `rate: "0.21"`}},
			[]string{"standard teasel-48", "region home tax.rate"}},
		"another tax elsewhere": {[][2]string{{"proof of export", "proof that it left"}},
			[]string{"region abroad tax.condition"}},
		"a slot of more": {[][2]string{{"    most: 5\n", "    most: 6\n"}}, []string{"slot stowage most"}},
		"a slot of less": {[][2]string{{"    most: 5\n", "    most: 3\n"}},
			[]string{"slot stowage most", "lost pockets: Stowage: at most 3 fit; there are 4. true"}},
		"an option that ended": {[][2]string{{"        price: \"1450\"\n",
			"        price: \"1450\"\n        sold_until: 2027-01-01\n"}}, []string{
			"lost option top-fixed on teasel-48: Fixed top was sold until 1 January 2027. true",
			"lost option cloth-heavy on teasel-48: Fixed top was sold until 1 January 2027. true"}},
		"other words": {[][2]string{{"cracks where it is", "breaks where it is"}},
			[]string{"rule heavy-cloth-needs-a-fixed-top because"}},
		"a link less": {[][2]string{{link, ""}},
			[]string{"-rule bag-top requires top-folding"}},
		"a new rule": {[][2]string{{rule, "rules:\n  - {id: no-heavy-cloth, need: not has(\"cloth-heavy\"), " +
			"because: The heavy cloth is sold out.}\n  - id: heavy-cloth-needs-a-fixed-top"}},
			[]string{"+rule no-heavy-cloth",
				"lost option cloth-heavy on teasel-48: The heavy cloth is sold out. true"}},
		"fewer of it": {[][2]string{{rule, "rules:\n  - {id: few-pockets, need: 'count(\"pocket\") < 3', " +
			"because: The side has room for two.}\n  - id: heavy-cloth-needs-a-fixed-top"}},
			[]string{"+rule few-pockets", "lost pockets: The side has room for two. true"}},
		"an option of its own": {[][2]string{{"      - id: bag-top\n        title: Bag for the folded top\n" +
			"        price: \"85\"\n" + link, ""}},
			[]string{"-option bag-top"}},
	} {
		// each against the same older book, with the same boats
		now := edition(t, c.edits...)
		got, err := editions.Compare(was, now, trials)
		if err != nil {
			t.Fatal(name, err)
		}
		if a, b := strings.Join(named(got), "\n"), strings.Join(c.want, "\n"); a != b {
			t.Errorf("%s: got\n%s\nwant\n%s", name, a, b)
		}
		if got.Tried.Options < 5 || got.Tried.Specs != 2 || got.Tried.Sample != 1 {
			t.Errorf("%s: tried %+v", name, got.Tried)
		}
		for _, l := range got.Lost {
			witnessed(t, name, was, now, l)
		}
		// a sentence of what was tried is always there, so that a paper without differences is no empty one;
		// every difference is on the paper and in its data
		d := editions.Paper(got, was.Engine, now.Engine)
		if rows := len(d.Data.Groups[0].Rows); rows == 0 && len(c.want) > 0 || rows > 12 {
			t.Errorf("%s: %d rows of %d differences", name, rows, len(c.want))
		}
		if text := render.Text(d, now.Engine.Language()); len(c.want) > 0 && len(text) < 300 {
			t.Errorf("%s: %s", name, text)
		}
	}
}

// A picture that came, went or was replaced under its name is told, and one that stayed is not.
func TestPicturesAreCompared(t *testing.T) {
	shown := [2]string{"      - id: top-fixed\n",
		"      - id: top-fixed\n        pictures: [{file: plank.png, title: A plank.}]\n"}
	without, with := edition(t), edition(t, shown)
	replaced := edition(t, shown, [2]string{"plank.png", "../../rules/pictures/hard-top.png"})
	for name, c := range map[string]struct {
		was, now editions.Edition
		want     string
	}{
		"came":     {without, with, `"" to "plank.png (`},
		"went":     {with, without, `plank.png (`},
		"replaced": {with, replaced, `)" to "plank.png (`},
		"stayed":   {with, with, ""},
	} {
		got, err := editions.Compare(c.was, c.now, nil)
		if err != nil {
			t.Fatal(name, err)
		}
		if c.want == "" {
			if len(got.Keys) > 0 {
				t.Errorf("%s: %+v", name, got.Keys)
			}
			continue
		}
		if len(got.Keys) != 1 || strings.Join(named(got), " ") != "option top-fixed pictures" {
			t.Fatalf("%s: %v", name, named(got))
		}
		if k := got.Keys[0]; k.Was == k.Now || !strings.Contains(fmt.Sprintf("%q to %q", k.Was, k.Now), c.want) {
			t.Errorf("%s: %q to %q", name, k.Was, k.Now)
		}
	}
}

// TestAddedAndRemoved puts one thing of each kind into the newer book, and with the books exchanged takes it out: it is
// told by its kind and name, on the paper too, and nothing else is. A boat that has it is not judged.
func TestAddedAndRemoved(t *testing.T) {
	const hull = "hulls:\n  - id: teasel-48\n"
	base := edition(t)
	for thing, c := range map[string]struct {
		old, put, title string
		boat            spec.Spec // one that has it; none for what no boat names
	}{
		"hull teasel-56": {hull, strings.Replace(hull, "hulls:\n", `hulls:
  - {id: teasel-56, title: Teasel 56, dimensions: {length_m: 5.6, top_m2: 5.2}, carries: {mass_kg: 350}}
`, 1), "Teasel 56", spec.Spec{Hull: "teasel-56"}},
		"slot flag": {"  - id: cloth\n", `  - id: flag
    section: shelter
    title: Flag
    choose: at most one
    options: [{id: flag-plain, title: Plain flag, price: "30"}]
  - id: cloth
`, "Flag", spec.Spec{Hull: "teasel-48", Choices: map[string]map[string]int{"flag": {"flag-plain": 1}}}},
		"option net": {"      - id: pocket", "      - {id: net, title: Net, price: \"15\"}\n      - id: pocket", "Net",
			spec.Spec{Hull: "teasel-48", Choices: map[string]map[string]int{"stowage": {"net": 1}}}},
		"material rope": {"  - {id: tube-25", "  - {id: rope, title: Rope, unit: m, cost: \"1\"}\n  - {id: tube-25",
			"Rope", spec.Spec{}},
		"operation polish": {"  - {id: fit-out, title", "  - {id: polish, title: Polish, shop: assembly}\n" +
			"  - {id: fit-out, title", "Polish", spec.Spec{}},
		"rule six-at-most": {"rules:\n", "rules:\n  - {id: six-at-most, need: use.persons <= 6, " +
			"because: It has six seats.}\n", "It has six seats.", spec.Spec{}},
		"rule pocket excludes bag-top": {"        title: Side pocket\n", "        title: Side pocket\n" +
			"        excludes: [{any_of: [bag-top], because: The bag lies there.}]\n",
			"The bag lies there.", spec.Spec{}},
		"region lake": {"regions:\n", "regions:\n  - {id: lake, title: The lake, tax: {name: VAT, rate: \"0.10\", " +
			"mode: inclusive}}\n", "The lake",
			spec.Spec{Hull: "teasel-48", Use: map[string]spec.Value{"region": {Choice: "lake"}}}},
	} {
		// one edit tells two differences, by which book is called the newer one
		more := edition(t, [2]string{c.old, c.put})
		for _, way := range []struct {
			was, now editions.Edition
			sign     string
		}{{base, more, "+"}, {more, base, "-"}} {
			// where the older book lacks it, the boat is none of that book, and is passed over
			var trials []editions.Trial
			if c.boat.Hull != "" {
				c.boat.Format = spec.Format
				trials = append(trials, editions.Trial{Name: "with it", Spec: c.boat})
			}
			got, err := editions.Compare(way.was, way.now, trials)
			if err != nil {
				t.Fatal(thing, err)
			}
			if list := named(got); len(list) != 1 || list[0] != way.sign+thing {
				t.Errorf("%s%s: got %q", way.sign, thing, list)
			}
			// a boat with what went is no boat of the newer book, and says nothing that the removal does not
			if way.sign == "-" && got.Tried.Without != len(trials) {
				t.Errorf("%s: %d of %d boats have it", thing, got.Tried.Without, len(trials))
			}
			// the owner reads the paper: kind, name and what it is called
			_, id, _ := strings.Cut(thing, " ")
			text := string(render.Text(editions.Paper(got, way.was.Engine, way.now.Engine), base.Engine.Language()))
			want := map[string]string{"+": "1 thing was added.", "-": "1 thing was removed."}[way.sign]
			for _, w := range []string{want, id, c.title} {
				if !strings.Contains(text, w) {
					t.Errorf("%s%s: the paper lacks %q:\n%s", way.sign, thing, w, text)
				}
			}
		}
	}
}

// What is said to be lost is one boat that shows it. Without a boat that could be had before, it would be no loss;
// where the newer book has it still, it would be none either.

// witnessed holds that a lost boat is one of the older book and none of the newer.
func witnessed(t *testing.T, name string, was, now editions.Edition, l editions.Lost) {
	t.Helper()
	// judged afresh by both engines, as a desk would that opens it
	if a, err := was.Engine.Answer(l.Boat); err != nil || len(a.Build.Clashes)+len(a.Notes) > 0 {
		t.Errorf("%s: the older book has no boat %s: %v", name, l.Boat.Encode(), err)
	}
	if a, err := now.Engine.Answer(l.Boat); err != nil || len(a.Build.Clashes) == 0 || l.Why == "" {
		t.Errorf("%s: the newer book has the boat %s: %v", name, l.Boat.Encode(), err)
	}
}

// A quotation keeps its price; its cost, and so what is left of it, follows the newer book.
func TestRequote(t *testing.T) {
	// the cloth is dearer, and so is the top that was quoted
	was, now := edition(t), edition(t, [2]string{`cost: "24.80"`, `cost: "34.80"`},
		[2]string{`price: "1450"`, `price: "1500"`})
	s := spec.Spec{Format: spec.Format, Hull: "teasel-48", Choices: map[string]map[string]int{"top": {"top-fixed": 1}}}
	a, err := was.Engine.Answer(s)
	if err != nil {
		t.Fatal(err)
	}
	q, err := quote.Freeze(was.Engine, a, quote.Details{Number: "7", Date: "2027-02-01",
		Customer: quote.Party{Name: "N."}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := editions.Requote("q.json", q.Encode(), was.Engine, now.Engine)
	if err != nil {
		t.Fatal(err)
	}
	// the price as quoted, at the cost of now
	kept, _ := money.MarginOf(b.Then.Net, *b.Now.Cost)
	if b.Number != "7" || b.Customer != "N." || !b.Then.Net.Equal(q.Price.Net) || !b.Kept.Equal(kept) ||
		b.Now.Cost.Cmp(*b.Then.Cost) <= 0 || b.Now.Net.Cmp(b.Then.Net) <= 0 || b.Kept.Cmp(*b.Then.Margin) >= 0 {
		t.Errorf("%+v, then %+v, now %+v, kept %v", b, b.Then, b.Now, b.Kept)
	}
	// a wish was never given a price, other than a quotation;
	// without an older book a spec has no price then, and one that clashes none now
	s.Choices["cloth"] = map[string]int{"cloth-heavy": 1}
	s.Choices["top"] = map[string]int{"top-folding": 1}
	c, err := editions.Requote("s.json", s.Encode(), nil, now.Engine)
	if err != nil || c.Then != nil || c.Now != nil || len(c.Gone) != 1 ||
		c.Gone[0] != "The heavy cloth cracks where it is folded." {
		t.Errorf("%+v, %v", c, err)
	}
	// a hull that is no longer moulded has no answer at all
	s.Hull = "gone-50"
	if g, err := editions.Requote("g.json", s.Encode(), nil, now.Engine); err != nil || len(g.Gone) != 1 {
		t.Errorf("%+v, %v", g, err)
	}
	// of the two one can be had and has both prices
	r := editions.RoundOf([]editions.Boat{*b, *c})
	if all := r.Sums[len(r.Sums)-1]; all.Boats != 2 || all.Gone != 1 || all.Compared != 1 || !all.Now.Equal(b.Now.Net) {
		t.Errorf("%+v", r.Sums)
	}
}

// A list price that leaves less than the least margin is told where it left more before.
func TestFallen(t *testing.T) {
	// the cloth is in the option, so that its price by the metre decides
	profile := func(e editions.Edition) *editions.Profile {
		p, err := editions.ProfileOf(e.Engine)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	const title = "        title: Light acrylic cloth\n"
	listed := [2]string{title, title + "        price: \"850\"\n"}
	was, now := profile(edition(t, listed)), profile(edition(t, listed, [2]string{`cost: "24.80"`, `cost: "44.80"`}))
	list := editions.Fallen(editions.Moves(was, now), money.MustRate("0.20"))
	if len(list) != 1 || list[0].Now.Option != "cloth-light" {
		t.Errorf("%+v", list)
	}
}
