package wiring

import (
	"fmt"
	"strings"
)

// Function is what a circuit is for. It decides the colour of its positive wire.
type Function string

// The functions of a day launch.
const (
	BatteryLead      Function = "battery lead" // from the bank, or one of its strings, to the bus
	MainFeed         Function = "main feed"
	Drive            Function = "drive"
	Charger          Function = "charger"
	NavigationLights Function = "navigation lights"
	CabinLights      Function = "cabin lights"
	Pump             Function = "pump"
	Blower           Function = "blower"
	Instruments      Function = "instruments"
	Accessories      Function = "accessories"
)

// Colours are the insulation colours of a circuit, and whether practice counts it as critical (3 % drop).
type Colours struct {
	Function           Function
	Positive, Negative string
	Critical           bool
}

// functions: the colours were found on a boatbuilders' teaching page that gives ABYC E-11 Tables XIV and XV, and on
// three trade pages. Critical by ABYC E-11, as for [CriticalDrop]; battery leads, drive and charger count as main
// feeds.
var functions = []Colours{
	{BatteryLead, "red", "black", true},
	{MainFeed, "red", "black", true},
	{Drive, "red", "black", true},
	{Charger, "red", "black", true},
	{NavigationLights, "dark grey", "black", true},
	{CabinLights, "dark blue", "black", false},
	{Pump, "brown", "black", true},
	{Blower, "brown with yellow stripe", "black", true},
	{Instruments, "purple", "black", true},
	{Accessories, "orange", "black", false},
}

// ColoursOf is the practice for a function.
//
// Valid: DC below 50 V. Black and yellow are both in use for the negative wire; here it is black, so that yellow stays
// free. ISO 10133 asks for a negative wire in black or yellow and a positive one in red or another colour that the
// drawing explains (from memory); these colours keep to both.
// Source: ABYC E-11 Tables XIV and XV as given by a boatbuilders' teaching page; ISO 10133 from memory.
func ColoursOf(f Function) (Colours, error) {
	for _, c := range functions {
		if c.Function == f {
			return c, nil
		}
	}
	return Colours{}, fmt.Errorf("the function %.40q is unknown; give one of: %s", string(f),
		strings.Join(Functions(), ", "))
}

// Functions lists the functions that a circuit may have.
func Functions() []string {
	names := make([]string, len(functions))
	for i, c := range functions {
		names[i] = string(c.Function)
	}
	return names
}
