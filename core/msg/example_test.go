package msg_test

import (
	"fmt"

	"ribband/core/msg"
)

// A message is made where something is found out, and put into words where somebody reads it.
func ExampleLanguage_Text() {
	m := msg.New("language.list-and", msg.Quantity("first", 1178.5, "kg", 1), msg.Date("last", "2027-02-06"))
	fmt.Println(msg.English.Text(m))
	// Output: 1 178.5 kg and 6 February 2027
}

// A language is one file.
func ExampleRead() {
	dutch, err := msg.Read("nl.json", []byte(`{
		"language.tag": "nl",
		"language.name": "Nederlands",
		"language.months": "januari februari maart april mei juni juli augustus september oktober november december",
		"boats": "{n, plural, one {# boot} other {# boten}} van {kg} kg"
	}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(dutch.Say("boats", msg.Count("n", 1), msg.Grouped("kg", 1178.5, 1)))
	fmt.Println(dutch.Say("boats", msg.Count("n", 2), msg.Grouped("kg", 2357, 0)))
	// Output:
	// 1 boot van 1.178,5 kg
	// 2 boten van 2.357 kg
}
