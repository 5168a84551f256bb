package actuals

import (
	"math"
	"slices"

	"ribband/core/engine"
)

// fitted is the model of bookings, and which of its columns means what.
type fitted struct {
	engine *engine.Engine
	list   []Booking
	model  model
	boats  []string     // sorted; each has a column in its block
	blocks map[Kind]int // of the model
	boat   int          // its block
	// by kind and place in the book, the column of the model
	column map[Kind]map[int]int
}

// begin is the standard deviation with which the search for the variances begins; where it ends does not depend on it.
const begin = 0.1

// fit finds the model of bookings; nil for none.
func fit(e *engine.Engine, list []Booking) *fitted {
	if len(list) == 0 {
		return nil
	}
	f := &fitted{engine: e, list: list, blocks: map[Kind]int{}, column: map[Kind]map[int]int{}}
	f.model.within = begin * begin
	for _, kind := range []Kind{OfShop, OfOperation, OfHull, OfOption} {
		f.columns(kind)
	}
	for i := range list {
		f.boats = append(f.boats, list[i].Boat)
	}
	slices.Sort(f.boats)
	f.boats = slices.Compact(f.boats)
	// boats differ as they are: some are built in a hot summer or by a new hand, and none is to be changed for it
	f.boat = f.block(len(f.boats))
	// each booking is a row of the same weight: an hour more of a long operation is as likely as a few minutes of a
	// short one, so that ratios and not hours have the same spread
	for i := range list {
		b := &list[i]
		terms := f.effects(b)
		boat, _ := slices.BinarySearch(f.boats, b.Boat)
		terms = append(terms, term{f.model.blocks[f.boat].first + boat, 1})
		f.model.rows = append(f.model.rows, row{math.Log(b.Booked.Float() / b.Planned.Float()), 1, terms})
	}
	f.model.estimate()
	f.weigh()
	return f
}

// weigh fits once more, with rows that count the less the more their operation varies: else what varies much would be
// accused by chance.
func (f *fitted) weigh() {
	var rows [][]int
	for _, op := range f.present(OfOperation) {
		rows = append(rows, f.of(OfOperation, op))
	}
	pooled, own, _ := f.variances(rows)
	for i, list := range rows {
		for _, r := range list {
			f.model.rows[r].weight = pooled / own[i]
		}
	}
	f.model.estimate()
}

// block adds one of so many columns.
func (f *fitted) block(count int) int {
	f.model.blocks = append(f.model.blocks, block{first: f.model.size(), count: count, variance: begin * begin})
	return len(f.model.blocks) - 1
}

// tails are the degrees of freedom of the effects that are told: a book is right in most things and may be far off in
// one. With two, what is planted in thirty invented yards lies as often within the intervals as they promise.
const tails = 2

// doubt is the standard deviation that the figures of any book have at least: nobody states hours to better than a few
// per cent, and where nearly all seem right, what is off a little would be taken for chance. No source.
const doubt = 0.02

// columns gives each thing of a kind that was worked on a column, in the order of the book.
func (f *fitted) columns(kind Kind) {
	var all []int
	for i := range f.list {
		for _, x := range f.ofBooking(&f.list[i], kind) {
			all = append(all, x.column)
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	b := f.block(len(all))
	f.model.blocks[b].tails = tails
	if kind != OfShop { // a shop is what its operations have in common, if anything
		f.model.blocks[b].least = doubt * doubt
	}
	f.blocks[kind], f.column[kind] = b, map[int]int{}
	for n, i := range all {
		f.column[kind][i] = f.model.blocks[b].first + n
	}
}

// ofBooking are the things of a kind that a booking is of, by their place in the book, with their shares.
func (f *fitted) ofBooking(b *Booking, kind Kind) []term {
	switch kind {
	case OfShop:
		return []term{{f.engine.Work.Operations[b.Operation].Shop, 1}}
	case OfOperation:
		return []term{{b.Operation, 1}}
	case OfHull:
		return []term{{b.Hull, 1}}
	}
	// For small effects the log of a sum is the sum of their shares; where half of the hours are of an option that
	// takes a quarter more, it is off by 0.006, far less than chance.
	var list []term
	for _, p := range b.Parts {
		list = append(list, term{p.Option, p.Hours.Float() / b.Planned.Float()})
	}
	return list
}

// effects are the columns of a booking but for its boat; none for what the model has not seen, which is taken to be
// as the book says.
func (f *fitted) effects(b *Booking) (terms []term) {
	for _, kind := range []Kind{OfShop, OfOperation, OfHull, OfOption} {
		for _, x := range f.ofBooking(b, kind) {
			if column, ok := f.column[kind][x.column]; ok {
				terms = append(terms, term{column, x.share})
			}
		}
	}
	return terms
}

// present are the things of a kind that were worked on, in the order of the book.
func (f *fitted) present(kind Kind) (list []int) {
	for i := range f.column[kind] {
		list = append(list, i)
	}
	slices.Sort(list)
	return list
}

// of are the bookings of a thing.
func (f *fitted) of(kind Kind, thing int) (list []int) {
	for i := range f.list {
		if slices.ContainsFunc(f.ofBooking(&f.list[i], kind), func(t term) bool { return t.column == thing }) {
			list = append(list, i)
		}
	}
	return list
}

// terms are the effects whose sum is the bias of a thing.
func (f *fitted) terms(kind Kind, thing int) (list []term) {
	switch kind {
	case OfOperation:
		shop := f.engine.Work.Operations[thing].Shop
		return []term{{f.column[OfShop][shop], 1}, {f.column[OfOperation][thing], 1}}
	case OfShop:
		// its operations are in it by the hours that the book plans for them, as in the yard's week
		list = []term{{f.column[OfShop][thing], 1}}
		hours, all := map[int]float64{}, 0.0
		for _, i := range f.of(kind, thing) {
			h := f.list[i].Planned.Float()
			hours[f.list[i].Operation] += h
			all += h
		}
		for _, op := range f.present(OfOperation) {
			if h, ok := hours[op]; ok {
				list = append(list, term{f.column[OfOperation][op], h / all})
			}
		}
		return list
	}
	return []term{{f.column[kind][thing], 1}}
}

// count enters what was booked of a thing.
func (f *fitted) count(b *Bias, rows []int) {
	boats := map[string]bool{}
	for _, i := range rows {
		x := &f.list[i]
		boats[x.Boat] = true
		b.Planned += x.Planned
		b.Booked += x.Booked
	}
	b.Boats, b.Raw = len(boats), rounded(b.Booked.Float()/b.Planned.Float())
}

// variances are those of chance: of all rows, and of those of each list, pooled, too: few boats of an operation say
// little of its own. Worth is how many rows the variance of all counts for beside those of a list.
//
// Formula: variance = (d·s² + squares) / (d + n), where s² is the variance of all rows and d the rows that it is worth;
// the variances of n rows each vary by 2/n of their square by chance alone, and d = 4 + 2/c², with c² what they vary
// beyond that.
// Source: scaled inverse chi-squared prior, Bayesian Data Analysis, chapter 2, from memory.
func (f *fitted) variances(lists [][]int) (pooled float64, own []float64, worth float64) {
	for i := range f.model.rows {
		e := f.model.residual(i)
		pooled += float64(e * e)
	}
	// never nothing: hours entered as they were planned would divide by it
	pooled = max(leastVariance, pooled/float64(len(f.model.rows)))
	own, beyond := make([]float64, len(lists)), 0.0
	for i, list := range lists {
		for _, r := range list {
			e := f.model.residual(r)
			own[i] += float64(e * e)
		}
		n := float64(len(list))
		off := own[i]/float64(n*pooled) - 1
		beyond += float64(off*off) - 2/n
	}
	worth = mostWorth
	if c := beyond / float64(len(lists)); c > 0 {
		worth = min(worth, 4+2/c)
	}
	for i, list := range lists {
		own[i] = (float64(worth*pooled) + own[i]) / (worth + float64(len(list)))
	}
	return pooled, own, worth
}

// mostWorth is how many rows the pooled variance is worth where all have the same.
const mostWorth = 1000.0

// spreads enters how far one boat's hours vary: by chance, and by what boats differ as a whole.
//
// Formula: the log of a standard deviation varies by 1/(2n), with n rows. Source: as of variances.
func (f *fitted) spreads(list []Bias, rows [][]int, ofBoats float64) {
	// variances of one boat are told, not of a mean: what to reckon with when the next one is planned
	_, own, worth := f.variances(rows)
	for i := range list {
		n := worth + float64(len(rows[i]))
		sd := math.Sqrt(own[i] + ofBoats)
		factor := math.Exp(z80 * math.Sqrt(1/(n+n)))
		list[i].Spread, list[i].SpreadIn80 = rounded(sd), Interval{rounded(sd / factor), rounded(float64(sd * factor))}
	}
}
