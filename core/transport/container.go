package transport

import (
	"fmt"
	"strings"

	"ribband/core/msg"
	"ribband/core/suggest"
)

// Container is a series 1 freight container or a flat rack.
type Container struct {
	ID   string
	Name msg.Message
	// The space that any container of its kind has at least, in m. On a flat rack: the length between the end walls,
	// the width of the container's outside, and the height of the end walls.
	LengthM, WidthM, HeightM float64
	DoorWidthM, DoorHeightM  float64 // nothing on a flat rack
	PayloadKG                float64
	FlatRack                 bool
	Source                   msg.Message
	Status                   Status
}

var series1, racks = msg.New("transport.source-series1"), msg.New("transport.source-racks")

// container names a container.
func container(id string) msg.Message { return msg.New("transport.container", msg.Choice("id", id)) }

// containers stand in order of size. Least inside dimensions of ISO 1496-1: 5867 and 11 998 mm long, 2330 mm wide,
// 241 mm less than the outside height; doors 2286 mm wide, 2261 or 2566 mm high. Payloads are low ones of their kind;
// carriers allow more.
var containers = []Container{
	{ID: "20ft", Name: container("20ft"), LengthM: 5.867, WidthM: 2.330, HeightM: 2.350, DoorWidthM: 2.286,
		DoorHeightM: 2.261, PayloadKG: 21_700, Source: series1,
		Status: Payload},
	{ID: "40ft", Name: container("40ft"), LengthM: 11.998, WidthM: 2.330, HeightM: 2.350, DoorWidthM: 2.286,
		DoorHeightM: 2.261, PayloadKG: 26_500, Source: series1,
		Status: Payload},
	{ID: "40ft-high", Name: container("40ft-high"), LengthM: 11.998, WidthM: 2.330, HeightM: 2.655,
		DoorWidthM: 2.286, DoorHeightM: 2.566, PayloadKG: 26_300, Source: series1,
		Status: Payload},
	{ID: "20ft-rack", Name: container("20ft-rack"), LengthM: 5.618, WidthM: 2.438, HeightM: 2.233, PayloadKG: 17_730,
		FlatRack: true, Source: racks, Status: Second},
	{ID: "40ft-rack", Name: container("40ft-rack"), LengthM: 11.650, WidthM: 2.438, HeightM: 1.955, PayloadKG: 34_000,
		FlatRack: true, Source: racks, Status: Recalled},
}

// FindContainer finds a container or flat rack by its id.
//
// Valid: the least of each kind; a certain container may have a little more. Source: as each says.
func FindContainer(id string) (Container, error) {
	ids := make([]string, len(containers))
	for i, c := range containers {
		if c.ID == id {
			return c, nil
		}
		ids[i] = c.ID
	}
	return Container{}, fmt.Errorf("finding the container %q: take one of "+
		"%s", suggest.Clip(id, 40), strings.Join(ids, ", "))
}

// Cargo is the boat on its cradle, wrapped, upright.
type Cargo struct {
	LengthM, WidthM, HeightM float64 // with cradle
	MassKG                   float64 // with cradle and lashings
	GapM                     float64 // to be left free on every side and above
}

// Fitting is whether a cargo goes into a container.
type Fitting struct {
	Container  Container   `json:"container"`
	Fits       bool        `json:"fits"`
	OutOfGauge bool        `json:"out_of_gauge"` // stands out of a flat rack; it can travel so at another price
	Checks     []Check     `json:"checks"`
	Sentence   msg.Message `json:"sentence"`
}

// Fit checks a cargo against a container: L + 2·g, W + 2·g and H + g against the inside, W + 2·g and H + g against the
// door, the mass against the payload.
//
// L, W, H length, width and height of the cargo and g the gap, in m; masses in kg. The cargo stands upright and goes in
// straight; a hull tilted on its side may fit where this says that it does not. On a flat rack width and height may
// stand out: the cargo is then out of gauge. The payload is a low one of its kind.
//
// Valid: lengths 0.1 to 30 m, widths and heights 0.1 to 10 m, masses 1 to 50 000 kg, gap 0 to 0.5 m. Source: geometry;
// dimensions as [Containers] says.
func Fit(c Container, g Cargo) (Fitting, error) {
	if err := g.check(c); err != nil {
		return Fitting{}, err
	}
	f := Fitting{Container: c, Fits: true}
	add := func(name msg.Message, unit string, value, most float64, binding bool) {
		k := against(name, unit, value, most, c.Source, c.Status)
		if f.Checks = append(f.Checks, k); k.OK {
			return
		}
		if binding {
			f.Fits = false
		} else {
			f.OutOfGauge = true
		}
	}
	width, height := g.WidthM+2*g.GapM, g.HeightM+g.GapM
	if c.FlatRack {
		width, height = g.WidthM, g.HeightM
	}
	add(msg.New("transport.cargo-length"), "m", g.LengthM+2*g.GapM, c.LengthM, true)
	add(msg.New("transport.cargo-width"), "m", width, c.WidthM, !c.FlatRack)
	add(msg.New("transport.cargo-height"), "m", height, c.HeightM, !c.FlatRack)
	if !c.FlatRack {
		add(msg.New("transport.cargo-door-width"), "m", width, c.DoorWidthM, true)
		add(msg.New("transport.cargo-door-height"), "m", height, c.DoorHeightM, true)
	}
	add(msg.New("transport.cargo-mass"), "kg", g.MassKG, c.PayloadKG, true)
	f.say()
	return f, nil
}

func (g Cargo) check(c Container) error {
	in := inputs{doing: "fitting the boat into a container"}
	const metres = "give it in metres, with the cradle"
	in.number("the length", g.LengthM, 0.1, 30, "m", metres)
	in.number("the width", g.WidthM, 0.1, 10, "m", metres)
	in.number("the height", g.HeightM, 0.1, 10, "m", metres)
	in.number("the mass", g.MassKG, 1, 50_000, "kg", "give it in kilograms, with the cradle")
	in.number("the gap", g.GapM, 0, 0.5, "m", "give the free space at each side in metres: 0.03 is 30 mm")
	if c.ID == "" {
		in.wrong("there is no container: take one by FindContainer")
	}
	return in.err()
}

func (f *Fitting) say() {
	name := msg.Words("container", f.Container.Name)
	said := []msg.Message{msg.New("transport.fits", name)}
	switch {
	case !f.Fits:
		said[0] = msg.New("transport.fits-not", name)
	case f.OutOfGauge:
		said[0] = msg.New("transport.out-of-gauge", name)
	}
	for _, c := range f.Checks {
		if !c.OK {
			said = append(said, c.Sentence)
		}
	}
	f.Sentence = msg.Sentences(said...)
}

// FitAll fits a cargo into every container of [Containers], smallest first, flat racks last.
//
// Valid: as [Fit]. Source: as there.
func FitAll(g Cargo) ([]Fitting, error) {
	var all []Fitting
	for _, c := range containers {
		f, err := Fit(c, g)
		if err != nil {
			return nil, err
		}
		all = append(all, f)
	}
	return all, nil
}
