package actuals_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"sync"
	"testing"

	"ribband/core/actuals"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/engine/sample"
	"ribband/core/measure"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/works"
)

var update = flag.Bool("update", false, "write the demo's hours and the golden report anew")

const demoFile = "../../testdata/actuals/hours.csv"

// planted is what the demo's yard takes more or less than the book says; all else is as the book has it, but for
// chance. The yard, its boats and its hours are invented.
var planted = map[actuals.Kind]map[string]float64{
	actuals.OfOperation: {"laminate-hull": 1.18, "sew-canvas": 0.90},
	actuals.OfHull:      {"reed-65": 1.10},
	actuals.OfOption:    {"sole-ply": 1.25},
}

// truth is what is planted in a thing.
func truth(kind actuals.Kind, id string) float64 {
	if v, ok := planted[kind][id]; ok {
		return v
	}
	return 1
}

const (
	ofBoats = 0.03 // standard deviation of the log of all hours of a boat
	// what takes less is not booked by itself
	leastHours = 0.75
)

// varied is the operation that varies more than the book says, by so much: a standard deviation of the log.
const varied, variedBy = "build-loom", 0.20

// chance is the standard deviation of the log of an operation's hours in a boat: that of the book, but for one.
func chance(o *works.Operation) float64 {
	if o.ID == varied {
		return variedBy
	}
	return spreadOfBook(o)
}

// spreadOfBook is the standard deviation of PERT by its mean.
func spreadOfBook(o *works.Operation) float64 {
	return (o.Spread.High - o.Spread.Low) / (o.Spread.High + 4 + o.Spread.Low)
}

func yard() *engine.Engine { return enginetest.Demo()[pack.Yard] }

// built is a boat of the yard's past.
type built struct {
	hull int
	work *works.Boat
}

// past are so many boats, hull after hull in turn. The same numbers give the same boats.
func past(t testing.TB, e *engine.Engine, count int, number uint64) (list []built) {
	t.Helper()
	for s := range sample.Boats(e, count, rand.New(rand.NewPCG(number, 1))) {
		a := enginetest.Answer(t, e, s)
		list = append(list, built{a.Hull, a.Work})
	}
	return list
}

// demoBoats are those of the demo, and some more that are held out; they take seconds to find.
var demoBoats = sync.OnceValue(func() []built { return past(&testing.T{}, yard(), 60, 2025) })

// booked is a row: what was planned of a part of a boat's work, and how long it took.
type booked struct {
	operation, option int
	planned, hours    measure.Hours
}

// bookings are the hours of a boat as the shops book them: options whose work is large by themselves, the rest
// together, to a tenth of an hour.
func bookings(e *engine.Engine, b *built, r *rand.Rand) (rows []booked) {
	boat := ofBoats * r.NormFloat64()
	planned, actual := map[[2]int]measure.Hours{}, map[[2]int]float64{}
	var keys [][2]int
	for _, l := range b.work.Lines {
		if l.Operation == works.NoOperation {
			continue
		}
		k, factor := [2]int{l.Operation, actuals.All}, truth(actuals.OfHull, e.Pack.Hulls[b.hull].ID)*
			truth(actuals.OfOperation, e.Work.Operations[l.Operation].ID)
		if l.For.Kind == works.Option && l.Hours.Float() >= 2 {
			k[1] = l.For.Index
			factor *= truth(actuals.OfOption, e.Pack.Options[l.For.Index].ID)
		}
		if !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
		planned[k] += l.Hours
		actual[k] += l.Hours.Float() * factor
	}
	for _, k := range keys {
		if planned[k].Float() < leastHours {
			continue
		}
		h := actual[k] * math.Exp(boat+chance(&e.Work.Operations[k[0]])*r.NormFloat64())
		hours, _ := measure.FromFloat[measure.Hours](math.Round(10*h) / 10)
		rows = append(rows, booked{k[0], k[1], planned[k], hours})
	}
	return rows
}

// csv is the file of boats, from their begin on; a boat is booked over nine weeks.
//
// The days are invented: the boats follow each other by eighteen days.
func csv(e *engine.Engine, boats []built, number uint64) []byte {
	var out bytes.Buffer
	out.WriteString("day,boat,hull,operation,option,planned,hours\n")
	r := rand.New(rand.NewPCG(number, 2))
	begin, err := orders.ParseDay("2024-01-08")
	if err != nil {
		panic(err)
	}
	for i := range boats {
		name := fmt.Sprintf("%d-%03d", 2024+i/20, 1+i%20)
		rows := bookings(e, &boats[i], r)
		for n, x := range rows {
			option := ""
			if x.option != actuals.All {
				option = e.Pack.Options[x.option].ID
			}
			fmt.Fprintf(&out, "%s,%s,%s,%s,%s,%s,%s\n", begin.Add(18*i+60*n/len(rows)), name,
				e.Pack.Hulls[boats[i].hull].ID,
				e.Work.Operations[x.operation].ID, option, x.planned.Fixed(2), x.hours.Fixed(1))
		}
	}
	return out.Bytes()
}

// read reads a file without faults.
func read(t testing.TB, text []byte) []actuals.Booking {
	t.Helper()
	b, err := actuals.Read(text, yard(), nil)
	if err != nil || len(b.Faults) > 0 || len(b.Notes) > 0 {
		t.Fatalf("%v %v %v", err, b.Faults, b.Notes)
	}
	return b.List
}

// demo are the hours of the demo: two years, forty boats.
func demo(t testing.TB) []actuals.Booking {
	t.Helper()
	text, err := os.ReadFile(demoFile)
	if err != nil {
		t.Fatal(err)
	}
	return read(t, text)
}

func TestDemoHours(t *testing.T) {
	text := csv(yard(), demoBoats()[:40], 3)
	if *update {
		if err := os.MkdirAll("../../testdata/actuals", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(demoFile, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	was, err := os.ReadFile(demoFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(was, text) {
		t.Error("the demo's hours are not what the book gives; go test ./core/actuals -run DemoHours -update")
	}
}
