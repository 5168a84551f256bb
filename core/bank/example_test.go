package bank_test

import (
	"fmt"

	"ribband/core/bank"
)

func ExampleBank_Usable() {
	b := bank.Bank{Chemistry: bank.LiFePO4(), Block: bank.Block{VoltageV: 51.2, CapacityAh: 100, MassKg: 46}, Series: 1,
		Parallel: 2}
	u, err := b.Usable(80, bank.State{TemperatureC: 10, Age: 0.5})
	fmt.Printf("%.2f of %.2f kWh, %v\n", u.KWh, b.EnergyKWh(), err)
	fmt.Printf("current %.3f, cold %.2f, age %.2f, depth %.2f\n", u.Peukert, u.Temperature, u.Age, u.Depth)
	// Output:
	// 6.69 of 10.24 kWh, <nil>
	// current 0.966, cold 0.94, age 0.90, depth 0.80
}

func ExampleBoat_At() {
	boat, err := bank.New(launch())
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := boat.At(4.5)
	fmt.Printf("%.0f W, %.1f A, %.1f h, %.1f nm, %v\n", p.Demand.TotalW(), p.CurrentA, p.EnduranceH, p.RangeNm, err)
	_, err = boat.At(6)
	fmt.Println(err)
	// Output:
	// 1377 W, 26.9 A, 4.8 h, 21.4 nm, <nil>
	// power at 6 kn: the trial table goes from 2 to 5.5 kn and says nothing beyond; choose a speed in it, or try the hull at that speed and add the point
}

func ExampleBoat_SpeedForRange() {
	boat, err := bank.New(launch())
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := boat.SpeedForRange(30)
	fmt.Printf("%.1f kn, %.1f h, %v\n", p.SpeedKn, p.EnduranceH, err)
	_, err = boat.SpeedForRange(120)
	fmt.Println(err)
	// Output:
	// 3.7 kn, 8.2 h, <nil>
	// speed for a range of 120 nm: none has it; the farthest is 50.4 nm at 2.0 kn; choose a larger bank, less reserve or a shorter trip
}

func ExampleTrial_Validate() {
	table := bank.Trial{DisplacementKg: 900, Points: []bank.Point{
		{SpeedKn: 2, PowerW: 90}, {SpeedKn: 3, PowerW: 250}, {SpeedKn: 4, PowerW: 240}, {SpeedKn: 5, PowerW: 1500},
	}}
	for _, fault := range table.Validate() {
		fmt.Println(fault)
	}
	// Output:
	// trial point 3: the power does not rise with speed: 240 W at 4 kn after 250 W at 3 kn; check both readings, or leave the worse one out
}

func ExampleCharging_From() {
	charging := berth()
	charging.Charger.CurrentA = 60
	ch, err := charging.From(0.2)
	fmt.Printf("%.1f A by the %s, %.1f A from the shore\n", ch.CurrentA, ch.Limit, ch.MainsA)
	fmt.Printf("%.1f h, overnight in 8 h: %v, %.1f kWh on the meter, %v\n", ch.TotalH, ch.Within(8), ch.MainsKWh, err)
	// Output:
	// 46.1 A by the continuous current of the shore inlet, 12.8 A from the shore
	// 3.9 h, overnight in 8 h: true, 9.4 kWh on the meter, <nil>
}

func ExamplePanel_Yield() {
	lake := bank.Irradiation{0.8, 1.5, 2.7, 4.1, 5.1, 5.5, 5.4, 4.6, 3.3, 1.9, 1.0, 0.6} // invented
	yield, err := bank.Panel{PeakW: 560, System: 0.7}.Yield(lake)
	fmt.Printf("June %.1f kWh a day, December %.1f, %v\n", yield[5], yield[11], err)
	// Output: June 2.2 kWh a day, December 0.2, <nil>
}
