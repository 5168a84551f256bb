package publish

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
	"ribband/core/pack"
)

// A table drawn over some axes, of which some have no effect, is reduced to those that have, and gives the same prices.
func TestReduce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		full := pack.Table{}
		rows := 1
		effect := make([]int64, rapid.IntRange(0, 4).Draw(t, "axes"))
		for i := range effect {
			size := rapid.IntRange(1, 4).Draw(t, "size")
			effect[i] = rapid.SampledFrom([]int64{0, 1}).Draw(t, "effect")
			full.Axes = append(full.Axes, pack.Axis{Kind: pack.AxisUse, Index: i, Size: size})
			rows *= size
		}
		for row := range rows {
			price, weight := int64(0), int64(1)
			for i, place := range placesOf(full.Axes, row) {
				price += effect[i] * int64(place) * weight
				weight *= 10
			}
			full.Prices = append(full.Prices, money.Exact(price, 0))
		}
		got := reduce(full)
		kept := map[int]bool{}
		for _, a := range got.Axes {
			kept[a.Index] = true
		}
		for i, a := range full.Axes {
			if want := effect[i] != 0 && a.Size > 1; kept[i] != want {
				t.Fatalf("axis %d of size %d with effect %d: kept %v", i, a.Size, effect[i], kept[i])
			}
		}
		for row := range rows {
			places := placesOf(full.Axes, row)
			at := 0
			for _, a := range got.Axes {
				at = at*a.Size + places[a.Index]
			}
			if !got.Prices[at].Equal(full.Prices[row]) {
				t.Fatalf("at %v: %s, want %s", places, got.Prices[at], full.Prices[row])
			}
		}
	})
}

// placesOf writes a row in the mixed radix of the axes, the last one fastest.
func placesOf(axes []pack.Axis, row int) []int {
	places := make([]int, len(axes))
	for i := len(axes) - 1; i >= 0; i-- {
		places[i], row = row%axes[i].Size, row/axes[i].Size
	}
	return places
}

// Amounts that are written with other digits are the same price.
func TestReduceComparesNumbers(t *testing.T) {
	table := reduce(pack.Table{Axes: []pack.Axis{{Kind: pack.AxisCount, Size: 2}},
		Prices: []money.Amount{money.MustParse("5"), money.MustParse("5.00")}})
	if len(table.Axes) != 0 || fmt.Sprint(table.Prices) != "[5]" {
		t.Errorf("%+v", table)
	}
}
