package hull_test

import (
	"fmt"

	"ribband/core/hull"
)

// punt is a flat-bottomed punt of 5 m with sloping ends, as a table of offsets.
func punt() *hull.Hull {
	var o hull.Offsets
	for i, keel := range []float64{0.25, 0.05, 0, 0, 0, 0, 0, 0.05, 0.25} {
		o.Stations = append(o.Stations, hull.Station{
			X: 0.625 * float64(i),
			Z: []float64{keel, keel, 0.5},
			Y: []float64{0, 0.5, 0.6},
		})
	}
	h, err := hull.New(o)
	if err != nil {
		panic(err)
	}
	return h
}

func ExampleHull_Upright() {
	y, err := punt().Upright(0.15, 0)
	fmt.Printf("%.0f kg, waterplane %.2f m², %.1f kg/cm, KM %.2f m, %v\n",
		y.Displacement(hull.FreshWater), y.WaterplaneArea, y.TPC(hull.FreshWater), y.KB+y.BMt, err)
	// Output: 621 kg, waterplane 4.83 m², 48.3 kg/cm, KM 0.80 m, <nil>
}

func ExampleHull_Float() {
	load := hull.Sum([]hull.Item{
		{Name: "punt", Mass: 180, X: 2.5, Z: 0.25},
		{Name: "bank", Mass: 60, X: 1.2, Z: 0.1},
		{Name: "two persons", Mass: 150, X: 2.8, Y: 0.1, Z: 0.55},
	})
	f, err := punt().Float(load, hull.FreshWater)
	fmt.Printf("%.0f kg: aft %.3f m, fore %.3f m, heel %.1f°, freeboard %.3f m at %.1f m to %s, GM %.2f m, %v\n",
		f.Displacement(), f.Drafts.Aft, f.Drafts.Fore, f.Heel*57.2958, f.Freeboard.Height, f.Freeboard.X,
		f.Freeboard.Side, f.GMt, err)
	load.Mass = 2400
	_, err = punt().Float(load, hull.FreshWater)
	fmt.Println(err)
	// Output:
	// 390 kg: aft 0.112 m, fore 0.091 m, heel 2.8°, freeboard 0.359 m at 0.0 m to starboard, GM 0.80 m, <nil>
	// floating 2400 kg: too heavy: the sheer is 0.043 m under water at 0.00 m from the aft end on both sides: take weight off, or move it away from there
}

func ExampleHull_RightingLevers() {
	levers, err := punt().RightingLevers(hull.Load{Mass: 400, LCG: 2.5, VCG: 0.4}, hull.FreshWater,
		[]float64{0, 0.1, 0.2, 0.4})
	for _, l := range levers {
		fmt.Printf("%.1f rad: GZ %.3f m, freeboard %.3f m\n", l.Heel, l.GZ, l.Freeboard)
	}
	fmt.Println(err)
	// Output:
	// 0.0 rad: GZ 0.000 m, freeboard 0.396 m
	// 0.1 rad: GZ 0.072 m, freeboard 0.335 m
	// 0.2 rad: GZ 0.135 m, freeboard 0.273 m
	// 0.4 rad: GZ 0.175 m, freeboard 0.167 m
	// <nil>
}

func ExampleHeelByShift() {
	heel, ok := hull.HeelByShift(950, 0.65, 75, 0.6)
	fmt.Printf("%.2f° %v\n", heel*57.2958, ok)
	// Output: 4.17° true
}

func ExampleOffsets_Validate() {
	var o hull.Offsets
	for x := range 5 {
		o.Stations = append(o.Stations, hull.Station{X: float64(x), Z: []float64{0, 0.3, 0.8},
			Y: []float64{0, 0.6, 0.7}})
	}
	o.Stations[2].Y[1] = -0.6
	for _, f := range o.Validate() {
		fmt.Println(f)
	}
	// Output: station 3, point 2: the half-breadth -0.6 m is below zero: measure it outward from the centre line; both sides are the same
}

func ExampleDrafts_After() {
	before := hull.Drafts{Aft: 0.42, Fore: 0.38}
	after, ok := before.After(75, -1.2, 55, 11, 0.5)
	fmt.Printf("aft %.3f m, fore %.3f m, %v\n", after.Aft, after.Fore, ok)
	// Output: aft 0.475 m, fore 0.353 m, true
}
