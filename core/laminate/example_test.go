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
