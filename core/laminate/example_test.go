package laminate_test

import (
	"fmt"

	"ribband/core/laminate"
)

func ExampleStack() {
	l, err := laminate.Stack("hull side", []laminate.Ply{
		{Name: "skin mat", Kind: laminate.Mat, Weight: 300},
		{Name: "mat", Kind: laminate.Mat, Weight: 450},
		{Name: "mat", Kind: laminate.Mat, Weight: 450},
		{Name: "roving", Kind: laminate.Roving, Weight: 600},
	}, laminate.HandSimple)
	fmt.Printf("%.2f mm, %.2f kg/m² of glass, %.2f of resin, psi %.3f %v\n", l.Thickness, l.Glass, l.Resin, l.Psi, err)
	// Output: 3.58 mm, 1.80 kg/m² of glass, 3.45 of resin, psi 0.343 <nil>
}

func ExampleNewSchedule() {
	mat := laminate.Ply{Name: "mat 450", Kind: laminate.Mat, Weight: 450}
	s, err := laminate.NewSchedule([]laminate.Part{
		{Name: "hull", Area: 13.5, Method: laminate.HandSimple, Plies: []laminate.Ply{mat, mat, mat, mat}, Laps: 0.08,
			Offcuts: 0.10, ResinLoss: 0.05},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kg in the boat; cut %.1f m² of %s, mix %.1f kg of resin\n", s.Weight(), s.Cloths[0].Area,
		s.Cloths[0].Name, s.ResinToMix)
	// Output: 87.5 kg in the boat; cut 64.2 m² of mat 450, mix 64.3 kg of resin
}

func ExampleAntifoulingArea() {
	area, _ := laminate.AntifoulingArea(5.5, 1.9, 0.4, 0.85)
	paint, _ := laminate.NewPaint(area, 2, 10, 0.75)
	fmt.Printf("%.2f m², %.2f l, %d tins\n", area, paint.Litres, paint.Tins)
	_, err := laminate.AntifoulingArea(5.5, 1.9, 0.4, 0)
	fmt.Println(err)
	// Output:
	// 10.75 m², 2.15 l, 3 tins
	// working out antifouling: the factor is 0; give 0.5 to 1 as the paint maker says; 1 is no reduction
}

func ExampleNewFrame() {
	f, _ := laminate.NewFrame(laminate.Top{Name: "sun top", Length: 2.4, Width: 1.6, Height: 1.1, Crown: 0.08,
		Radius: 0.15, Bows: 3})
	for _, p := range f.Pieces {
		fmt.Printf("%d × %s of %.3f m\n", p.Count, p.Name, p.Length)
	}
	fmt.Printf("%.2f m of tube, %d bends\n", f.Length, f.Bends)
	// Output:
	// 3 × bow of 3.682 m
	// 4 × rail of 1.200 m
	// 15.85 m of tube, 6 bends
}

func ExampleNewTimber() {
	t, _ := laminate.NewTimber("white oak", []laminate.Stick{{Name: "rubbing strake", Thickness: 25, Width: 50,
		Length: 6, Count: 2}}, 0.75)
	fmt.Printf("%.0f dm³ in the boat, buy %.0f dm³ or %.1f bf\n", t.Net, t.Rough, t.RoughBoardFeet)
	// Output: 15 dm³ in the boat, buy 20 dm³ or 8.5 bf
}
