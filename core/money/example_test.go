package money_test

import (
	"fmt"

	"ribband/core/money"
)

func ExampleParse() {
	price, err := money.Parse("48250.50")
	fmt.Println(price, price.Fixed(2), err)
	_, err = money.Parse("48,250.50")
	fmt.Println(err)
	// Output:
	// 48250.5 48250.50 <nil>
	// reading an amount "48,250.50": want digits with an optional decimal point, like 1450 or 3.85
}

func ExampleFromMargin() {
	step, _ := money.NewRounding(money.HalfEven, money.MustParse("0.01"))
	price, err := money.FromMargin(money.MustParse("4290"), money.MustRate("0.20"), step)
	fmt.Println(price.Fixed(2), err)
	// Output: 5362.50 <nil>
}

func ExampleAllocate() {
	stages := []money.Amount{money.MustParse("15"), money.MustParse("30"), money.MustParse("35"), money.MustParse("20")}
	parts, err := money.Allocate(money.MustParse("48250.37"), stages, money.MustParse("0.01"))
	fmt.Println(parts, err)
	// Output: [7237.56 14475.11 16887.63 9650.07] <nil>
}

func ExampleRounding_Round() {
	francs, _ := money.NewRounding(money.HalfEven, money.MustParse("0.05"))
	fmt.Println(francs.Round(money.MustParse("20.143")).Fixed(2))
	// Output: 20.15
}
