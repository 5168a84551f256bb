package orders_test

import (
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/orders"
	"ribband/core/pack"
)

// built is the text of an order with what is known of its boat.
func built(t testing.TB, number, known string) string {
	t.Helper()
	return text(t, number, `, "built": `+known)
}

const sum = `"sha256": "73cb3858a687a8494ca3323053016282f3dad39d42cf62ca4e79dda2aac7d9ac"`

// What is wrong with what is known of a boat is told with its place.
func TestFaultsOfBoats(t *testing.T) {
	for name, c := range map[string]struct{ known, want string }{
		"a short serial":   {`{"hull_serial": "31"}`, "built.hull_serial: reading serial number"},
		"a letter O":       {`{"hull_serial": "O0031"}`, "not allowed in a serial number"},
		"no month":         {`{"hull_month": "2027-13"}`, `built.hull_month: "2027-13" is no month`},
		"an empty value":   {`{"noted": [{"operation": "demould", "check": "x", "value": ""}]}`, "noted[0]: give"},
		"a run too fast":   {`{"runs": [{"speed_kn": 400, "current_a": 3}]}`, "built.runs[0]: 3 A at 400 kn"},
		"a run backwards":  {`{"runs": [{"speed_kn": -4, "current_a": 3}]}`, "built.runs[0]"},
		"a photo outside":  {`{"photographs": [{"file": "../x.jpg", ` + sum + `, "title": "x"}]}`, "leave folders out"},
		"a damaged digest": {`{"photographs": [{"file": "x.jpg", "sha256": "73cb", "title": "x"}]}`, "64 hexadecimal"},
		"a photo twice": {`{"photographs": [{"file": "x.jpg", ` + sum + `, "title": "x"}, {"file": "x.jpg", ` + sum +
			`, "title": "y"}]}`, "built.photographs[1].file: x.jpg stands there already"},
		"a warranty that is over": {`{"handed_over": "2027-02-19", "warranty": [{"title": "Hull", "until": ` +
			`"2027-02-18"}]}`, "built.warranty[0].until"},
		"two values of one": {`{"noted": [{"operation": "a", "check": "b", "value": "1"}, {"operation": "a", ` +
			`"check": "b", "value": "2"}]}`, "stands in noted[0] already"},
		"an unseen character": {`{"owner": {"name": "A\u200bB"}}`, "which nobody sees"},
	} {
		if _, err := orders.Decode([]byte(built(t, "2027-014", c.known))); err == nil ||
			!strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v; want %q", name, err, c.want)
		}
	}
}

// A number is given once: the register has it with its order, and a second order with it is told.
func TestHullNumbersAreGivenOnce(t *testing.T) {
	f := orders.Read(map[string][]byte{
		"2027-014.json": []byte(built(t, "2027-014", `{"hull_serial": "00032", "hull_month": "2027-02"}`)),
		"2027-015.json": []byte(built(t, "2027-015", `{"hull_serial": "00031"}`)),
		"2027-016.json": []byte(built(t, "2027-016", `{"hull_serial": "00032", "hull_month": "2027-03"}`)),
		"2027-017.json": []byte(text(t, "2027-017", "")),
	})
	if len(f.Orders) != 4 || len(f.Faults) != 1 || f.Faults[0].File != "2027-016.json" ||
		!strings.Contains(f.Faults[0].Error(), "00032 is the number of order 2027-014 already") {
		t.Fatal(len(f.Orders), f.Faults)
	}
	e := enginetest.Demo()[pack.Yard]
	r := orders.Register(e, f.Orders)
	// without a month there is no whole number
	if len(r) != 3 || r[0].Serial != "00031" || r[0].Number != "" || r[1].Order != "2027-014" ||
		!strings.HasSuffix(r[1].Number, "00032B727") {
		t.Errorf("%+v", r)
	}
}

// Values of cards are held to the checks of the book.
func TestValuesOfCards(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	o := ordered(t)
	next, faults, err := o.Note(e, []orders.Noted{
		{Operation: "spray-gelcoat", Check: "gelcoat-batch", Value: "GC-1"},
		{Operation: "spray-gelcoat", Check: "wet-thickness", Value: "560"},
		{Operation: "spray-gelcoat", Check: "wet-thickness", Value: "about 560"},
		{Operation: "spray-gelcoat", Check: "wet-thicknes", Value: "560"},
		{Operation: "fit-thruster", Check: "thruster-torque", Value: "8"},
		{Operation: "spray-gelcoat", Check: "gelcoat-batch", Value: "GC-2"},
	})
	if err != nil || len(faults) != 3 {
		t.Fatal(err, faults)
	}
	for i, want := range []string{`"about 560" is no number; write it in um`, `did you mean "wet-thickness"?`,
		`this boat has no operation "fit-thruster"`} {
		if !strings.Contains(faults[i].Err.Error(), want) || faults[i].Step != 2+i {
			t.Errorf("%v; want %s", faults[i], want)
		}
	}
	if n := next.Known().Noted; len(n) != 2 || n[0].Value != "GC-2" || len(o.Known().Noted) > 0 {
		t.Errorf("noted %+v", n)
	}
}

// What was measured is set beside what the engine predicts of this very boat.
func TestTrialStandsBesideItsPrediction(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	o := order(t, "2026-031")
	empty, err := o.File(e, nil)
	if err != nil {
		t.Fatal(err)
	}
	last := 0.0
	for _, r := range empty.Runs {
		if r.Measured != 0 || r.Predicted <= last || r.Deviation().Measured {
			t.Errorf("%+v after %v A", r, last)
		}
		last = r.Predicted
	}
	if len(empty.Runs) < 4 {
		t.Fatalf("predicted at %d speeds", len(empty.Runs))
	}
	known := o.Known()
	first := empty.Runs[1]
	known.Runs = []orders.Run{{SpeedKn: first.SpeedKn, CurrentA: 1.5 * first.Predicted}}
	known.Noted = []orders.Noted{{Operation: "tank-trial", Check: "tank-insulation", Value: "0.4"},
		{Operation: "tank-trial", Check: "warmest-lug", Value: "71"},
		{Operation: "float-boat", Check: "draught-aft", Value: "0.5"}}
	if o, err = o.With(known); err != nil {
		t.Fatal(err)
	}
	f, err := o.File(e, nil)
	if err != nil {
		t.Fatal(err)
	}
	if d := f.Runs[0].Deviation(); len(f.Runs) != 1 || !d.Compared || d.Percent != 50 {
		t.Errorf("%+v", f.Runs)
	}
	seen := map[string]orders.Deviation{}
	for _, shop := range f.Shops {
		for i := range shop.Values {
			if v := &shop.Values[i]; v.Value != "" {
				seen[v.Value] = v.Deviation()
			}
		}
	}
	if !seen["0.4"].TooLow || !seen["71"].TooHigh || seen["71"].Compared || !seen["0.5"].Compared || len(seen) != 3 {
		t.Errorf("%+v", seen)
	}
}

// A photograph is told from another one by its bytes.
func TestPhotographsOfABoat(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	o, err := orders.Decode([]byte(built(t, "2027-014", `{"photographs": [{"file": "a.jpg", `+sum+`, "title": "A"},
		{"file": "b.jpg", `+sum+`, "title": "B"}, {"file": "c.jpg", `+sum+`, "title": "C"}]}`)))
	if err != nil {
		t.Fatal(err)
	}
	f, err := o.File(e, map[string]string{"a.jpg": o.Known().Photographs[0].SHA256, "b.jpg": "00"})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []orders.PhotoState{orders.PhotoSound, orders.PhotoChanged, orders.PhotoMissing} {
		if f.Photos[i].State != want {
			t.Errorf("%+v, want %s", f.Photos[i], want)
		}
	}
}
