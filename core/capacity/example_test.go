package capacity_test

import (
	"fmt"
	"time"

	"ribband/core/capacity"
	"ribband/core/msg"
)

// An invented launch of 5.4 m from its displacement to its label and its foam.
func Example() {
	boat := capacity.Boat{LengthM: 5.4, Hull: capacity.Monohull, Drive: capacity.Inboard}
	weight, err := capacity.MaximumWeight(boat, capacity.Weights{
		DisplacementKG: 2950, HullKG: 430, MotorKG: 38, DriveKG: 24, ControlsKG: 12, BatteryKG: 196,
	}, capacity.Handbook)
	if err != nil {
		fmt.Println(err)
		return
	}
	persons, err := capacity.PersonsCapacity(weight, capacity.ListTest{})
	if err != nil {
		fmt.Println(err)
		return
	}
	foam, err := capacity.Flotation(boat, persons, capacity.Swamped{
		Parts: []capacity.Part{
			{Name: msg.Plain("hull and deck"), Material: "grp", KG: 340},
			{Name: msg.Plain("sole"), Material: "fir-ply", KG: 50},
			{Name: msg.Plain("top frame"), Material: "aluminium", KG: 40},
		},
		MachineryKG: 74,
		Batteries:   []capacity.Battery{{Name: msg.Plain("bank, cases not sealed"), KG: 196}},
		Foam:        capacity.TwoPoundFoam,
	})
	fmt.Println(weight.Sentence)
	fmt.Println(persons.Sentence)
	fmt.Println(foam.Sentence, err)
	for _, line := range capacity.CapacityLabel(persons).Lines {
		fmt.Println("|", line.Text)
	}
	// Output:
	// Maximum weight capacity 708.63 lb (321.4 kg) by W2, marked 708 lb.
	// Persons capacity 5 persons or 708 lb (321.1 kg), by weight.
	// Basic flotation: 14.30 ft³ (0.405 m³) of foam to hold up 862.5 lb (391.2 kg) under water; provide 406 l. <nil>
	// | U.S. Coast Guard
	// | Maximum Capacities
	// | 5 Persons or 708 Pounds
	// | 708 Pounds, persons, gear
}

func ExampleMaximumWeight() {
	long := capacity.Boat{LengthM: 6.5, Hull: capacity.Monohull, Drive: capacity.Inboard}
	w, err := capacity.MaximumWeight(long, capacity.Weights{}, capacity.Handbook)
	fmt.Println(w.Applies, err)
	fmt.Println(w.Sentence)
	// Output:
	// false <nil>
	// These US rules set no duty of safe loading (33 CFR 183.31): the boat is 20 ft (6.096 m) or longer.
}

func ExampleBuildHIN() {
	serial, _ := capacity.SerialOf(42)
	hin, err := capacity.BuildHIN(capacity.Identity{Country: "US", Manufacturer: "HLY", Serial: serial, Year: 2026,
		Month: time.May, ModelYear: 2027})
	fmt.Println(hin, hin.Full(), err)
	_, err = capacity.ParseHIN("HLYO0042E627")
	fmt.Println(err)
	// Output:
	// HLY00042E627 US-HLY00042E627 <nil>
	// reading hull identification number "HLYO0042E627": character 4: "O" is not allowed in a serial number: write digits 1 and 0, or another letter
}
