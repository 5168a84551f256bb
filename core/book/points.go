package book

// Seats are where the persons of a hull sit: x, y and the height z of the seats, m, as in [Place]; and how far from the
// centre line a person sits who moves to one side.
type Seats struct {
	X     Formula  `yaml:"x,required"`
	Y     Formula  `yaml:"y"`
	Z     Formula  `yaml:"z,required" doc:"height of the seats, not of the persons"`
	SideM Formula  `yaml:"side_m" doc:"from the centre line to the middle of a person on one side"`
	At    Position `json:"-"`
}

// Height is a high point of the boat, m, in the states in which it stands there.
type Height struct {
	Title  Text     `yaml:"title,required"`
	X      Formula  `yaml:"x,required"`
	Y      Formula  `yaml:"y"`
	Z      Formula  `yaml:"z,required"`
	States []Text   `yaml:"states" doc:"up, folded, road; all of them where not given"`
	At     Position `json:"-"`
}

// Depth is a low point of the boat, m, such as a skeg or the tip of a propeller; or one that must lie under water.
type Depth struct {
	Title     Text     `yaml:"title,required"`
	X         Formula  `yaml:"x,required"`
	Y         Formula  `yaml:"y"`
	Z         Formula  `yaml:"z,required"`
	ImmersedM Formula  `yaml:"immersed_m" doc:"how deep it must lie under water"`
	At        Position `json:"-"`
}

// Opening is a point where water comes aboard, m: the lowest of a well, a cut-out or a vent that cannot be closed
// watertight.
type Opening struct {
	Title Text     `yaml:"title,required"`
	X     Formula  `yaml:"x,required"`
	Y     Formula  `yaml:"y"`
	Z     Formula  `yaml:"z,required"`
	At    Position `json:"-"`
}

// Extent is how long, broad and high something is about its place, m.
type Extent struct {
	LengthM Formula  `yaml:"length_m,required"`
	WidthM  Formula  `yaml:"width_m,required"`
	HeightM Formula  `yaml:"height_m,required"`
	At      Position `json:"-"`
}
