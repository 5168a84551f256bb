package drawing_test

import (
	"fmt"
	"strings"

	"ribband/core/drawing"
)

func ExampleMasses_SVG() {
	svg, err := drawing.Masses{Name: "an invented boat",
		Groups: []drawing.MassGroup{{Name: "hull", Kg: 610},
			{Name: "battery bank", Kg: 154}}}.SVG(drawing.Format{ID: "m", Width: 340})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range strings.Split(svg, "\n")[1:3] {
		fmt.Println(strings.ReplaceAll(strings.TrimSpace(line), "\u00a0", " "))
	}
	// Output:
	// <title id="m-title">Masses of an invented boat</title>
	// <desc id="m-desc">Weight by group: hull 610 kg; battery bank 154 kg. Total 764 kg. Preliminary; the finished boat is weighed.</desc>
}

func ExampleRangeCurve_SVG_refused() {
	_, err := drawing.RangeCurve{Points: []drawing.RangePoint{{SpeedKn: 4, RangeNm: 20},
		{SpeedKn: 3, RangeNm: 30}}}.SVG(drawing.Format{})
	fmt.Println(err)
	// Output: drawing the range curve: the speed of point 2 is 3 kn after 4 kn; give rising speeds
}

func ExampleTicks() {
	fmt.Println(drawing.Ticks(0, 69.5, 6))
	// Output: [0 20 40 60 80]
}
