package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/orders"
)

// yardOrders is a copy of the demo's orders.
func yardOrders(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(ordersFolder)); err != nil {
		t.Fatal(err)
	}
	return dir
}

// quotationOf takes the quotation out of an order, as the desk has written it.
func quotationOf(t *testing.T, dir, number string) string {
	t.Helper()
	var o struct{ Quotation json.RawMessage }
	text, err := os.ReadFile(filepath.Join(dir, number+".json"))
	if err == nil {
		err = json.Unmarshal(text, &o)
	}
	if err != nil {
		t.Fatal(err)
	}
	return write(t, filepath.Join(t.TempDir(), "quotation.json"), string(o.Quotation))
}

// unchanged holds all files of a folder but one to those of the demo.
func unchanged(t *testing.T, dir, but string) {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range list {
		if entry.Name() == but+".json" {
			continue
		}
		was, err := os.ReadFile(filepath.Join(ordersFolder, entry.Name()))
		now, _ := os.ReadFile(filepath.Join(dir, entry.Name()))
		if err != nil || string(was) != string(now) {
			t.Errorf("%s has changed: %v", entry.Name(), err)
		}
	}
}

// Of what the book has two left and two orders have, a third is refused by name.
func TestOrderOfWhatIsSoldOut(t *testing.T) {
	t.Parallel()
	dir, book := yardOrders(t), filepath.Join(t.TempDir(), "rules")
	if err := os.CopyFS(book, os.DirFS(rulesFolder)); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(book, "hull", "options.yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	const option = "      - id: stripe-film-gold\n"
	write(t, file, strings.Replace(string(text), option, option+"        stock: 2\n", 1))
	quotation := quotationOf(t, dir, "2027-002")
	if err := os.Remove(filepath.Join(dir, "2027-002.json")); err != nil {
		t.Fatal(err)
	}
	refused(t, tool(t, "", "order", "-book", book, "-orders", dir, "-quotation", quotation, "-accepted", "2027-01-18",
		"-number", "2027-002", "-promised", "2027-W40"), 1, "(stripe-film-gold), and 0 of 2 are left: the others are "+
		"of 2026-036, 2027-001; quote it with another option")
	unchanged(t, dir, "2027-002")
}

// A quotation becomes an order; the plan is asked first, and what cannot be is refused without a file.
func TestOrderOfAQuotation(t *testing.T) {
	t.Parallel()
	dir := yardOrders(t)
	quotation := quotationOf(t, dir, "2027-005")
	base := []string{"order", "-book", rulesFolder, "-orders", dir, "-quotation", quotation, "-accepted", "2027-02-08",
		"-number"}
	refused(t, tool(t, "", append(base, "2027-006", "-promised", "2027-W30")...), 1,
		"quotation Q-2027-005 is order 2027-005 already")
	if err := os.Remove(filepath.Join(dir, "2027-005.json")); err != nil {
		t.Fatal(err)
	}
	refused(t, tool(t, "", append(base, "2027-004", "-promised", "2027-W30")...), 1, "there is 2027-004.json in")
	early := append(base, "2027-006", "-promised", "2027-W09")
	o := tool(t, "", early...)
	if o.code != 1 || !strings.Contains(o.err, "the plan has the launch") || !strings.Contains(o.err, "-late") ||
		!strings.Contains(o.out, "four of five by 2027-W") {
		t.Errorf("exit code %d: %s%s", o.code, o.out, o.err)
	}
	if _, err := os.Stat(filepath.Join(dir, "2027-006.json")); err == nil {
		t.Error("an order that was refused is there")
	}
	worked(t, tool(t, "", append(early, "-late")...))
	unchanged(t, dir, "2027-006")
	text, err := os.ReadFile(filepath.Join(dir, "2027-006.json"))
	if err != nil {
		t.Fatal(err)
	}
	if made, err := orders.Decode(text); err != nil || made.Promise().String() != "2027-W09" {
		t.Errorf("%v: %.200s", err, text)
	}
	// a price that somebody has mended by hand, with a digest that is none of it
	edit(t, quotation, `"Q-2027-005"`, `"Q-2027-105"`)
	refused(t, tool(t, "", append(base, "2027-007", "-promised", "2027-W30")...), 1,
		"Q-2027-105 is not what was issued")
	refused(t, tool(t, "", "order", "-orders", dir), 2, "-quotation FILE")
	refused(t, tool(t, "", append(base, "2027-007", "-promised", "2027-W54")...), 2, "there is no week 2027-W54")
}

// Work and payments go into their order and into no other file; the good rows of a list are entered.
func TestWorkAndPaymentsAreEntered(t *testing.T) {
	t.Parallel()
	dir := yardOrders(t)
	booked := []string{"booked", "-book", rulesFolder, "-orders", dir}
	// the mould that another boat is in takes no second one, whoever came first: no plan could be made of that
	for day, other := range map[string]string{
		"2027-02-15": "had since 2027-02-02 and not given free; enter there what gives it free, or mend one of the " +
			"days",
		"2027-02-01": "had since 2027-02-02 and not given free",
	} {
		refused(t, tool(t, "", append(booked, "-order", "2027-005", "-operation", "check-mould", "-begun", day, "-done",
			day, "-hours", "1")...), 1, `entering work in the order 2027-005: "check-mould" takes "Deck mould of the `+
			`Rush 54" on `+day+`, which the order 2027-002 has `+other)
	}
	unchanged(t, dir, "")
	if err := os.Remove(filepath.Join(dir, "2027-002.json")); err != nil {
		t.Fatal(err)
	}
	o := tool(t, "", append(booked, "-order", "2027-005", "-operation", "prepare-mould", "-begun", "2027-02-15",
		"-hours", "2")...)
	refused(t, o, 1, `"prepare-mould" is begun, and "check-mould" is not done, which comes before it; enter that, too`)
	unchanged(t, dir, "")
	list := write(t, filepath.Join(t.TempDir(), "cards.csv"), "order,operation,begun,done,hours\n"+
		"2027-005,prepare-mould,2027-02-16,,2.5\n2027-005,check-mould,2027-02-15,2027-02-15,1\n"+
		"2027-999,check-mould,2027-02-15,2027-02-15,1\n2027-005,check-mold,2027-02-15,2027-02-15,1\n")
	o = tool(t, "", append(booked, "-list", list)...)
	if o.code != 1 || o.out != "2 operations entered, 2 left out.\n" ||
		!strings.Contains(o.err, `line 4: there is no order "2027-999"`) ||
		!strings.Contains(o.err, `line 5: entering work in the order 2027-005: this boat has no operation "check-mo`) {
		t.Errorf("exit code %d: %s%s", o.code, o.out, o.err)
	}
	once, _ := os.ReadFile(filepath.Join(dir, "2027-005.json"))
	tool(t, "", append(booked, "-list", list)...)
	if twice, _ := os.ReadFile(filepath.Join(dir, "2027-005.json")); string(once) != string(twice) {
		t.Error("a list that is entered twice counts twice")
	}
	unchanged(t, dir, "2027-005")
	// ten times the hours of the book are entered, and told
	o = tool(t, "", append(booked, "-order", "2027-005", "-operation", "prepare-mould", "-begun", "2027-02-16", "-done",
		"2027-02-17", "-hours", "250")...)
	if o.code != 0 || !strings.Contains(o.err, `250 h for "prepare-mould", where the book has`) {
		t.Errorf("exit code %d: %s%s", o.code, o.out, o.err)
	}
	paid := []string{"paid", "-orders", dir, "-order", "2027-005", "-on", "2027-02-16", "-stage"}
	out := worked(t, tool(t, "", append(paid, "With the order", "-amount", "100")...)).out
	if !strings.Contains(out, "2027-005, With the order: 100.00 EUR of ") {
		t.Error(out)
	}
	refused(t, tool(t, "", append(paid, "With the order", "-amount", "100")...), 1, "stands in it already")
	refused(t, tool(t, "", append(paid, "With the ordr", "-amount", "100")...), 1, `did you mean "With the order"?`)
	refused(t, tool(t, "", append(paid, "With the order", "-amount", "1,00")...), 2, "1,00")
	unchanged(t, dir, "2027-005")
	refused(t, tool(t, "", append(booked, "-order", "2027-005")...), 2, "or -list FILE")
	left, err := filepath.Glob(filepath.Join(dir, ".*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v %v", left, err)
	}
}

// A file that somebody else has changed since it was read is not overwritten.
func TestOrdersAreNotOverwritten(t *testing.T) {
	dir := yardOrders(t)
	in, err := openOrders(nil, dir, false)
	if err != nil {
		t.Fatal(err)
	}
	o, err := in.find("2027-005")
	if err != nil {
		t.Fatal(err)
	}
	edit(t, filepath.Join(dir, "2027-005.json"), `"accepted": "2027-02-08"`, `"accepted":  "2027-02-08"`)
	changed, err := o.Pay(orders.Payment{Stage: o.Quote().Price.Stages[0].Title, On: o.Accepted,
		Amount: o.Quote().Price.Stages[0].Amount}, false)
	if err != nil {
		t.Fatal(err)
	}
	if err := in.save(changed); err == nil || !strings.Contains(err.Error(), "was changed while this was entered") {
		t.Error(err)
	}
}

// A change is offered on paper and changes nothing; accepted it is the next revision in its order, once.
func TestChangeIsAccepted(t *testing.T) {
	t.Parallel()
	dir, out := yardOrders(t), t.TempDir()
	base := []string{"change", "-book", rulesFolder, "-orders", dir, "-order", "2026-032", "-set",
		"bottom-paint=bottom-copper-free"}
	refused(t, tool(t, "", append(base, "-out", out)...), 2, "-promised WEEK")
	refused(t, tool(t, "", append(base, "-accept", "-promised", "2027-W12", "-out", out)...), 2, "-day DAY")
	offer := append(base, "-day", "2027-02-15", "-promised", "2027-W12", "-out", out)
	if o := tool(t, "", append(base, "-day", "2027-02-15", "-promised", "2027-W07", "-out", out)...); o.code != 1 ||
		!strings.Contains(o.err, "changing the order 2026-032: the plan has the launch") {
		t.Errorf("exit code %d: %s", o.code, o.err)
	}
	worked(t, tool(t, "", offer...))
	unchanged(t, dir, "")
	page, err := os.ReadFile(filepath.Join(out, "2026-032-change-1.html"))
	if err != nil || !strings.Contains(string(page), "Change order 1 to order 2026-032") {
		t.Fatalf("%v: %.200s", err, page)
	}
	worked(t, tool(t, "", append(offer, "-accept")...)) // the paper says the same, and stays
	unchanged(t, dir, "2026-032")
	text, err := os.ReadFile(filepath.Join(dir, "2026-032.json"))
	if err != nil {
		t.Fatal(err)
	}
	o, err := orders.Decode(text)
	if err != nil || len(o.Changes) != 1 || o.Quote().Revision != 2 || o.Promise().String() != "2027-W12" ||
		!o.Quote().Intact() {
		t.Fatalf("%v: %+v", err, o.Changes)
	}
	// with both of what is ordered, the same change again is none: what is undone would be undone twice
	again := worked(t, tool(t, "", append(base, "-day", "2027-02-15")...)).out
	if !strings.Contains(again, "revision 3") || strings.Contains(again, "Undone") {
		t.Error(again)
	}
	if nothing := tool(t, "", append(offer, "-accept")...); nothing.code != 1 ||
		!strings.Contains(nothing.err, "it changes nothing, the boat has that already") {
		t.Errorf("exit code %d: %s", nothing.code, nothing.err)
	}
	// what can no longer be had is told, and not accepted
	late := tool(t, "", "change", "-book", rulesFolder, "-orders", dir, "-order", "2026-033", "-set",
		"gelcoat-hull=gelcoat-hull-navy", "-day", "2027-02-15", "-promised", "2027-W12", "-out", out, "-accept")
	if late.code != 1 || !strings.Contains(late.err, "can no longer be had; accept the change without that") {
		t.Errorf("exit code %d: %s", late.code, late.err)
	}
	unchanged(t, dir, "2026-032")
}

// What is due is the same as text, data and table; requests are written once, in the language of the quotation.
func TestDueOfOrders(t *testing.T) {
	t.Parallel()
	dir, out := yardOrders(t), t.TempDir()
	base := []string{"due", "-book", rulesFolder, "-orders", dir}
	text := worked(t, tool(t, "", append(base, "-out", out)...)).out
	var data struct {
		Accounts []orders.Account
		Sums     []dueSum
	}
	behind := worked(t, tool(t, "", append(base, "-format", "json")...)).out
	if err := json.Unmarshal([]byte(behind), &data); err != nil {
		t.Fatal(err)
	}
	table := worked(t, tool(t, "", append(base, "-format", "csv")...)).out
	if len(data.Accounts) != 12 || len(data.Sums) != 1 || strings.Count(table, "\n") != 1+12*5 ||
		!strings.Contains(text, "To ask for: "+data.Sums[0].Asked.Fixed(2)+" EUR, of which "+
			data.Sums[0].Late.Fixed(2)) {
		t.Errorf("%d accounts, %v: %s", len(data.Accounts), data.Sums, text)
	}
	asked := 0
	for i := range data.Accounts {
		if data.Accounts[i].Asked.Sign() > 0 {
			asked++
		}
	}
	files, err := os.ReadDir(out)
	if err != nil || len(files) != asked {
		t.Errorf("%d requests for %d orders: %v", len(files), asked, err)
	}
	again := worked(t, tool(t, "", append(base, "-out", out)...)).out
	if strings.Count(again, "is there already") != asked {
		t.Error(again)
	}
	unchanged(t, dir, "")
	refused(t, tool(t, "", append(base, "-order", "2027-009")...), 1, `there is no order "2027-009"`)
	// one that was changed since is not written over
	edit(t, filepath.Join(out, files[0].Name()), "</title>", " </title>")
	o := tool(t, "", append(base, "-out", out)...)
	if o.code != 1 || !strings.Contains(o.err, "is there and says something else") {
		t.Errorf("exit code %d: %s", o.code, o.err)
	}
}

// What is known of a boat is entered and stands in its file; a photograph that was exchanged is found.
func TestFileOfABoat(t *testing.T) {
	t.Parallel()
	dir, out := yardOrders(t), t.TempDir()
	noted := []string{"noted", "-book", rulesFolder, "-orders", dir}
	photo := write(t, filepath.Join(t.TempDir(), "bow.jpg"), "a picture")
	worked(t, tool(t, "", append(noted, "-order", "2026-031", "-serial", "00031", "-month", "2027-02", "-value",
		"spray-gelcoat/gelcoat-batch=GC-4471", "-run", "4=17", "-photo", photo+"=Bow", "-owner", "Orla Sandmark",
		"-address", "7 Sluice Lane", "-handed-over", "2027-02-19", "-warranty", "Hull=2032-02-19")...))
	unchanged(t, dir, "2026-031")
	refused(t, tool(t, "", append(noted, "-order", "2026-032", "-serial", "00031")...), 1, "no number is given twice")
	refused(t, tool(t, "", append(noted, "-order", "2026-032", "-run", "fast")...), 2, "-run \"fast\"")
	refused(t, tool(t, "", append(noted, "-order", "2026-032", "-value", "x")...), 2, "OPERATION/CHECK=VALUE")
	refused(t, tool(t, "", noted...), 2, "-list FILE")
	values := write(t, filepath.Join(t.TempDir(), "values.csv"), "order,operation,check,value\n"+
		"2026-031,mount-motor,motor-number,M-1\n2026-031,mount-motor,motor-numbr,M-1\n")
	o := tool(t, "", append(noted, "-list", values)...)
	if o.code != 1 || !strings.Contains(o.err, "line 3: noting values of the order 2026-031: mount-motor has no c") {
		t.Errorf("exit code %d: %s", o.code, o.err)
	}
	unchanged(t, dir, "2026-031")
	file := []string{"file", "-book", rulesFolder, "-orders", dir, "-order", "2026-031", "-out", out}
	o = worked(t, tool(t, "", file...))
	page, err := os.ReadFile(filepath.Join(out, "2026-031", "2026-031-boat-file.html"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"00031B727", "GC-4471", "M-1", "Orla Sandmark", "not in the folder"} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the file lacks %s", want)
		}
	}
	if !strings.Contains(o.err, "bow.jpg is not in ") {
		t.Error(o.err)
	}
	copied := write(t, filepath.Join(out, "2026-031", "bow.jpg"), "a picture")
	if o = worked(t, tool(t, "", file...)); o.err != "" || !strings.Contains(o.out, "anew") {
		t.Errorf("%s%s", o.out, o.err)
	}
	write(t, copied, "another picture")
	if o = tool(t, "", file...); o.code != 1 || !strings.Contains(o.err, "not the photograph that was entered") {
		t.Errorf("exit code %d: %s", o.code, o.err)
	}
	register := worked(t, tool(t, "", "file", "-book", rulesFolder, "-orders", dir, "-register", "-format", "csv")).out
	if !strings.Contains(register, "00031,") || strings.Count(register, "\n") != 2 {
		t.Error(register)
	}
}

// A yard that signs its quotations signs those of changes, too.
func TestChangeIsSigned(t *testing.T) {
	t.Parallel()
	dir, book := yardOrders(t), copyBook(t)
	key := filepath.Join(t.TempDir(), "key.json")
	made := worked(t, tool(t, "", "key", "-out", key)).out
	_, line, _ := strings.Cut(made, "signing_keys:\n    - ")
	edit(t, filepath.Join(book, "yard.yaml"), "(?m)^yard:$", "yard:\n  signing_keys: ["+strings.TrimSpace(line)+"]")
	accept := []string{"change", "-book", book, "-orders", dir, "-order", "2027-005", "-set",
		"gelcoat-hull=gelcoat-hull-navy", "-day", "2027-02-15", "-promised", "2027-W30", "-out", t.TempDir(), "-accept"}
	o := tool(t, "", accept...)
	if o.code != 1 || !strings.Contains(o.err, "the book has signing_keys; give -key FILE") {
		t.Errorf("exit code %d: %s", o.code, o.err)
	}
	unchanged(t, dir, "")
	worked(t, tool(t, "", append(accept, "-key", key)...))
	in, err := openOrders(nil, dir, false)
	if err != nil {
		t.Fatal(err)
	}
	changed, err := in.find("2027-005")
	if err != nil {
		t.Fatal(err)
	}
	file := write(t, filepath.Join(t.TempDir(), "q.json"), string(changed.Quote().Encode()))
	if opened := worked(t, tool(t, "", "open", "-book", book, file)).out; !strings.Contains(opened, "As quoted") {
		t.Error(opened)
	}
}
