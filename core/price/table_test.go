package price_test

import (
	"math"
	"testing"

	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
)

func amounts(values ...string) []money.Amount {
	list := make([]money.Amount, len(values))
	for i, v := range values {
		list[i] = money.MustParse(v)
	}
	return list
}

// buyer has tables instead of costs: the base boat over which of two options, how many of the third and three steps of
// the use.
func buyer() *pack.Pack {
	p := yard()
	p.Desk, p.Costs, p.Work = pack.Buyer, nil, nil
	p.Use[0] = pack.UseField{ID: "cover", Title: "Length of the cover", Unit: "m", Min: 1, Max: 2, Step: 0.5,
		Standard: 1}
	var prices []money.Amount
	for i := range 4 * 3 * 3 {
		prices = append(prices, money.Exact(int64(1000+i), 0))
	}
	p.Prices = &pack.Prices{
		Base: []pack.Table{{
			Axes: []pack.Axis{
				{Kind: pack.AxisOneOf, Index: 0, Options: []int{0, 1}, Size: 4},
				{Kind: pack.AxisCount, Index: 2, Size: 3},
				{Kind: pack.AxisUse, Index: 0, Size: 3},
			},
			Prices: prices,
		}},
		Options: [][]pack.Table{{{Prices: amounts("149.99")}}, {{}}, {{Prices: amounts("0")}},
			{{Prices: amounts("12")}}},
	}
	return p
}

// The axes are in mixed radix, the last one fastest: row = (which × 3 + count) × 3 + step. Worked by hand.
func TestTables(t *testing.T) {
	p := compiled(t, buyer())
	for _, c := range []struct {
		name   string
		cover  float64
		counts []int
		want   string
	}{
		{"nothing", 1, []int{0, 0, 0, 0}, "1000"},
		{"last step of the use", 2, []int{0, 0, 0, 0}, "1002"},
		{"nearest step of the use", 1.6, []int{0, 0, 0, 0}, "1001"},
		{"first option", 1, []int{1, 0, 0, 0}, "1009"},
		{"second option", 1, []int{0, 1, 0, 0}, "1018"},
		{"another option of the slot", 1, []int{0, 0, 0, 1}, "1027"},
		{"one counted", 1, []int{1, 0, 1, 0}, "1012"},
		{"two counted, last step", 2, []int{1, 0, 2, 0}, "1017"},
		{"more than the table holds", 2, []int{1, 0, 9, 0}, "1017"},
	} {
		got, err := p.Base(state(c.cover, c.counts...))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		same(t, c.name, got, c.want)
	}
	got, err := p.Option(state(1), 0)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "option", got, "149.99")
}

func TestTableErrors(t *testing.T) {
	p := compiled(t, buyer())
	const outside = " in its table; the spec is outside of what the book allows"
	for _, c := range []struct {
		st   *formula.State
		want string
	}{
		{state(2.5), "looking up a price: place 3 of 3" + outside},
		{state(0), "looking up a price: place -2 of 3" + outside},
		{state(1, 0, 0, -1, 0), "looking up a price: place -1 of 3" + outside},
	} {
		_, err := p.Base(c.st)
		wantError(t, err, c.want)
	}
	_, err := p.Option(state(1), 1)
	wantError(t, err, "looking up a price: this option has none for this hull")
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300} {
		if _, err := p.Base(state(v)); err == nil {
			t.Errorf("a use of %v has a price", v)
		}
	}
}

// A choice is looked up by its index.
func TestTableOverChoices(t *testing.T) {
	p := buyer()
	p.Use[0] = pack.UseField{ID: "water", Title: "Water", Choices: []pack.Choice{{ID: "fresh"}, {ID: "salt"}}}
	p.Prices.Base[0] = pack.Table{Axes: []pack.Axis{{Kind: pack.AxisUse, Size: 2}}, Prices: amounts("100", "110")}
	c := compiled(t, p)
	for i, want := range []string{"100", "110"} {
		got, err := c.Base(state(float64(i)))
		if err != nil {
			t.Fatal(err)
		}
		same(t, p.Use[0].Choices[i].ID, got, want)
	}
}

func TestCompileWithoutTrade(t *testing.T) {
	if _, err := price.Compile(buyer(), nil); err != nil {
		t.Error(err)
	}
}
