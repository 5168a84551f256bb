package wiring

import (
	"fmt"
	"strings"

	"ribband/core/msg"
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

// Words name a function.
func (f Function) Words() msg.Message {
	return msg.New("wiring.function", msg.Choice("function", strings.ReplaceAll(string(f), " ", "-")))
}

// Colour is the colour of a conductor's insulation.
type Colour string

// The colours in use.
const (
	Red         Colour = "red"
	Black       Colour = "black"
	DarkGrey    Colour = "dark-grey"
	DarkBlue    Colour = "dark-blue"
	Brown       Colour = "brown"
	BrownYellow Colour = "brown-yellow" // brown with a yellow stripe
	Purple      Colour = "purple"
	Orange      Colour = "orange"
)

// Words name a colour.
func (c Colour) Words() msg.Message { return msg.New("wiring.colour", msg.Choice("colour", string(c))) }

// Colours are the insulation colours of a circuit, and whether practice counts it as critical (3 % drop).
type Colours struct {
	Function           Function
	Positive, Negative Colour
	Critical           bool
}

// functions: the colours were found on a boatbuilders' teaching page that gives ABYC E-11 Tables XIV and XV, and on
// three trade pages. Critical by ABYC E-11, as for [CriticalDrop]; battery leads, drive and charger count as main
// feeds.
var functions = []Colours{
	{BatteryLead, Red, Black, true},
	{MainFeed, Red, Black, true},
	{Drive, Red, Black, true},
	{Charger, Red, Black, true},
	{NavigationLights, DarkGrey, Black, true},
	{CabinLights, DarkBlue, Black, false},
	{Pump, Brown, Black, true},
	{Blower, BrownYellow, Black, true},
	{Instruments, Purple, Black, true},
	{Accessories, Orange, Black, false},
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
