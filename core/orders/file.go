package orders

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/works"
)

// The file of a boat has nothing that stands nowhere else: what it is comes from the quotation as it was last changed,
// what was predicted from the engine's figures of that boat, what was measured from the cards. Where something was not
// measured yet its place is empty, so that the paper can be taken to the tank and filled in.

// BoatFile is what the file of a boat says, in the language of its engine.
type BoatFile struct {
	Order  *Order
	Quote  *quote.Quote // as its customer may have it
	Yard   *sheet.Yard
	Number quote.HullNumber
	Limits string // whose rules hold where the boat goes: eu, gb, us, or "" for none that is known

	Numbers []FiledValue // noted in words: serial numbers, batches
	Shops   []FiledShop  // with what they measured
	Runs    []FiledRun
	Photos  []FiledPhoto
}

// FiledShop are the values of a shop's cards.
type FiledShop struct {
	Title  string
	Values []FiledValue
}

// FiledValue is a check of a card with its value, "" where there is none yet.
type FiledValue struct {
	Operation string // title
	Title     string
	Unit      string // a word of package measure; "" for words
	Least     *float64
	Most      *float64
	Predicted string   // in words; "" where nothing is
	predicted *float64 // in the unit
	Value     string
}

// FiledRun is a speed at trial: the current of the battery as predicted and as measured; 0 for none.
type FiledRun struct {
	SpeedKn, Predicted, Measured float64
}

// FiledPhoto is a photograph, and what became of its file.
type FiledPhoto struct {
	Photograph
	State PhotoState
}

// PhotoState is what became of the file of a photograph.
type PhotoState string

// A file is there as it was, is there with other bytes, or is not there.
const (
	PhotoSound   PhotoState = "sound"
	PhotoChanged PhotoState = "changed"
	PhotoMissing PhotoState = "missing"
)

// File is the file of a boat. Digests are the SHA-256 of the files that lie in its folder, by name.
func (o *Order) File(e *engine.Engine, digests map[string]string) (*BoatFile, error) {
	a, err := e.Answer(o.Quote().Spec)
	if err != nil {
		return nil, fmt.Errorf("making the file of the boat of order %s: %w", o.Number, err)
	}
	if len(a.Notes) > 0 {
		return nil, fmt.Errorf("making the file of the boat of order %s: the book is not what the order was made by: "+
			"%s", o.Number, a.Notes[0].Message())
	}
	f := &BoatFile{Order: o, Quote: o.Quote().ForCustomer(), Yard: sheet.ForYard(e, a, o.Details()),
		Number: o.HullNumber(e)}
	// where the boat goes decides which rules hold, and not where its yard is
	if r := e.Region(a.Build); r != nil {
		f.Limits = r.Limits
	}
	f.values(e, a)
	f.runs(e, a)
	// by the bytes: a picture that was turned or made smaller is another one
	for _, p := range o.Known().Photographs {
		state := PhotoMissing
		if sum, there := digests[p.File]; there {
			state = PhotoChanged
			if sum == p.SHA256 {
				state = PhotoSound
			}
		}
		f.Photos = append(f.Photos, FiledPhoto{p, state})
	}
	return f, nil
}

// values are all checks of the boat's operations, in the order of its work; of numbers by shop.
func (f *BoatFile) values(e *engine.Engine, a *engine.Answer) {
	// a shop finds its values together, as they stand on its card
	by := make([][]FiledValue, len(e.Work.Shops))
	for _, t := range a.Work.Tasks() {
		if t.Operation == works.NoOperation {
			continue
		}
		op := &e.Work.Operations[t.Operation]
		for _, k := range op.Checks {
			v := f.value(e, a, op.ID, &k)
			v.Operation = op.Title
			if k.Unit == "" {
				f.Numbers = append(f.Numbers, v)
			} else {
				by[op.Shop] = append(by[op.Shop], v)
			}
		}
	}
	for shop, values := range by {
		if len(values) > 0 {
			f.Shops = append(f.Shops, FiledShop{e.Work.Shops[shop].Title, values})
		}
	}
}

// value is a check with what was predicted and measured.
func (f *BoatFile) value(e *engine.Engine, a *engine.Answer, operation string, k *pack.Check) FiledValue {
	v := FiledValue{Title: k.Title, Unit: k.Unit, Least: k.Least, Most: k.Most}
	// by the same figure as on the card, in the units of the sea, which those of checks are
	for i := range e.Pack.Figures {
		if k.Figure != "" && e.Pack.Figures[i].ID == k.Figure {
			x := e.FigureValue(a.Build.State, i, measure.Sea)
			v.Predicted, v.predicted = e.Text(x.Message()), x.Number
		}
	}
	// each check has one value at most
	for _, n := range f.Order.Known().Noted {
		if n.Operation == operation && n.Check == k.ID {
			v.Value = n.Value
		}
	}
	return v
}

// fewestKn is the lowest speed at which a current is worth reading.
const fewestKn = 2

// runs are the speeds that were run, or where none was those of whole knots that the boat reaches.
func (f *BoatFile) runs(e *engine.Engine, a *engine.Answer) {
	// a speed that was never tried with this hull has no prediction: nothing is drawn on beyond the trial's points
	predicted := func(kn float64) float64 {
		p, ok := e.Figures.Passage(a.Build.State, kn)
		if !ok {
			return 0
		}
		return p.CurrentA
	}
	for _, r := range f.Order.Known().Runs {
		f.Runs = append(f.Runs, FiledRun{r.SpeedKn, predicted(r.SpeedKn), r.CurrentA})
	}
	for kn := float64(fewestKn); len(f.Order.Known().Runs) == 0 && kn <= maxSpeedKn; kn++ {
		if p := predicted(kn); p > 0 {
			f.Runs = append(f.Runs, FiledRun{SpeedKn: kn, Predicted: p})
		}
	}
}

// Deviation is how a measured value stands to what it should be.
type Deviation struct {
	Measured bool
	// beyond a bound of the check
	TooLow, TooHigh bool
	// per cent more than predicted, below zero less; Compared where there is a prediction that is not nothing
	Compared bool
	Percent  int
}

// Deviation compares a value with its prediction and its bounds.
func (v *FiledValue) Deviation() (d Deviation) {
	// what was noted was checked to be a number; a file mended by hand may have another text, and then no word beside
	// it
	x, err := strconv.ParseFloat(v.Value, 64)
	if v.Value == "" || err != nil {
		return d
	}
	d.Measured = true
	d.TooLow, d.TooHigh = v.Least != nil && x < *v.Least, v.Most != nil && x > *v.Most
	if v.predicted != nil {
		d.compare(x, *v.predicted)
	}
	return d
}

// Deviation compares a current with its prediction.
func (r *FiledRun) Deviation() (d Deviation) {
	if d.Measured = r.Measured > 0; d.Measured {
		d.compare(r.Measured, r.Predicted)
	}
	return d
}

// compare is the difference in whole per cent of what was predicted.
func (d *Deviation) compare(measured, predicted float64) {
	if predicted != 0 {
		d.Compared, d.Percent = true, int(math.Round(100*(measured-predicted)/math.Abs(predicted)))
	}
}

// Owner is who has the boat: the customer of the quotation where nobody else is entered.
func (f *BoatFile) Owner() *quote.Party { return cmp.Or(f.Order.Known().Owner, &f.Quote.Customer) }
