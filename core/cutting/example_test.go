package cutting_test

import (
	"fmt"

	"ribband/core/cutting"
)

func ExampleLay() {
	pieces := []cutting.Piece{
		{Name: "roof, port", Width: 900, Length: 2600},
		{Name: "roof, starboard", Width: 900, Length: 2600},
		{Name: "skirt", Width: 300, Length: 1700, Turn: true},
	}
	layout, err := cutting.Lay(pieces, cutting.Stock{Width: 1520})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range layout.Placed {
		fmt.Printf("%-15s at %4.0f, %4.0f: %.0f × %.0f mm\n", p.Name, p.X, p.Y, p.Width, p.Length)
	}
	fmt.Printf("%.2f m of roll, %.0f %% waste; no layout needs less than %.2f m\n", layout.Used/1000, 100*layout.Waste,
		layout.Bound/1000)
	// Output:
	// roof, port      at    0,    0: 900 × 2600 mm
	// roof, starboard at    0, 2600: 900 × 2600 mm
	// skirt           at  900,    0: 300 × 1700 mm
	// 5.20 m of roll, 34 % waste; no layout needs less than 3.41 m
}

func ExampleLay_refused() {
	_, err := cutting.Lay([]cutting.Piece{{Name: "roof", Width: 1800, Length: 2600}}, cutting.Stock{Width: 1520})
	fmt.Println(err)
	// Output: laying piece 1, "roof": 1800 × 2600 mm does not fit a roll 1520 mm wide; seam it from panels or take a wider stock
}

func ExamplePanels() {
	panels, _ := cutting.Panels(cutting.Piece{Name: "roof", Width: 1800, Length: 2600}, cutting.Stock{Width: 1520}, 25)
	for _, p := range panels {
		fmt.Println(p.Name, p.Panel, "of", p.Panels, p.Width, p.Length)
	}
	// Output:
	// roof 1 of 2 912.5 2600
	// roof 2 of 2 912.5 2600
}
