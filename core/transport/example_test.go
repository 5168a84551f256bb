package transport_test

import (
	"fmt"

	"ribband/core/transport"
)

// An invented launch with a fixed top on its trailer.
func ExampleOnRoad() {
	europe, err := transport.FindRegion(transport.EU)
	if err != nil {
		fmt.Println(err)
		return
	}
	checks, err := transport.OnRoad(europe, transport.Load{
		BedM: 0.62, HeightUpM: 3.45, HeightDownM: 1.52, BeamM: 2.28, TrailerWidthM: 2.44,
		BoatKG: 1480, LooseKG: 60, TrailerKG: 560, TrailerMostKG: 2000,
	})
	for _, c := range checks {
		fmt.Println(c.OK, c.Sentence)
	}
	fmt.Println(err)
	// Output:
	// true Width on the trailer 2.440 m, within 2.550 m by 0.110 m.
	// false Height with the top up 4.070 m is 0.070 m over the 4.000 m allowed. Fold the top: it is 2.140 m high then.
	// true Height with the top down 2.140 m, within 4.000 m by 1.860 m.
	// false Mass of boat and trailer by its plate 2100 kg is 100 kg over the 2000 kg allowed.
	// true Mass of boat and trailer as a light trailer 2100 kg, within 3500 kg by 1400 kg.
	// <nil>
}

func ExampleFit() {
	c, err := transport.FindContainer("40ft")
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := transport.Fit(c, transport.Cargo{LengthM: 6.5, WidthM: 2.2, HeightM: 2.4, MassKG: 1500, GapM: 0.04})
	fmt.Println(f.Sentence, err)
	// Output:
	// Does not fit a 40 ft container. Height inside 2.440 m is 0.090 m over the 2.350 m allowed. Height of the door 2.440 m is 0.179 m over the 2.261 m allowed. <nil>
}

func ExampleZoneAt() {
	zones := []transport.Zone{{ID: "local", ToKM: 60}, {ID: "country", ToKM: 400}}
	fmt.Println(transport.ZoneAt(zones, 61))
	fmt.Println(transport.ZoneAt(zones, 720))
	// Output:
	// 1 <nil>
	// -1 finding the freight zone: 720 km is beyond the last zone "country" (400 km): add a zone, or quote the freight by hand
}
