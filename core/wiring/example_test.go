package wiring_test

import (
	"fmt"

	"ribband/core/wiring"
)

func ExampleSize() {
	pump := wiring.Circuit{Name: "bilge pump", Function: wiring.Pump, Load: 6, Length: 3.2, Volts: 12, Critical: true,
		Insulation: 105}
	choice, err := wiring.Size(pump, wiring.DefaultRules())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("AWG %s or %v mm² by %s, fuse %v A\n", choice.AWG.Gauge, choice.Metric.Section, choice.AWG.Decides,
		choice.Fuse)
	fmt.Printf("%.2f V lost of %.2f V allowed\n", choice.AWG.Drop, choice.AllowedDrop)
	// Output:
	// AWG 14 or 2.5 mm² by voltage drop, fuse 7.5 A
	// 0.33 V lost of 0.36 V allowed
}

func ExampleSize_refused() {
	_, err := wiring.Size(wiring.Circuit{Name: "horn", Function: wiring.Accessories, Length: 2, Volts: 12,
		Insulation: 105}, wiring.DefaultRules())
	fmt.Println(err)
	// Output: sizing circuit "horn": the load is 0 A; give a number above zero, at most 1000000
}

func ExampleSizer_Sheet() {
	loom, err := wiring.NewSizer(wiring.DefaultRules(), wiring.Stock{}).Sheet([]wiring.Circuit{
		{Name: "drive", Function: wiring.Drive, Load: 110, Length: 1.5, Volts: 48, Critical: true, Insulation: 105,
			From: "bank isolator", To: "motor controller"},
		{Name: "stern light", Function: wiring.NavigationLights, Load: 0.5, Length: 4, Volts: 12, Critical: true,
			Insulation: 105},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range loom.Wires {
		fmt.Printf("%-11s %-9s %v mm²  %.2f m  %s to %s\n", w.Circuit, w.Colour.Words(), w.MM2, w.Length,
			w.Ends[0].Place, w.Ends[1].Place)
	}
	fmt.Printf("%.2f kg of copper\n", loom.Copper)
	// Output:
	// drive       red       25 mm²  1.65 m  bank isolator to motor controller
	// drive       black     25 mm²  1.65 m  negative bus bar to motor controller
	// stern light dark grey 1.5 mm²  4.15 m  fuse block to stern light
	// stern light black     1.5 mm²  4.15 m  negative bus bar to stern light
	// 0.84 kg of copper
}

func ExampleMostFuse() {
	ampacity, _ := wiring.Ampacity(-1, 105, false) // AWG 2/0
	most, _ := wiring.MostFuse(ampacity, 24)
	fmt.Println(ampacity, most)
	// Output: 330 495
}
