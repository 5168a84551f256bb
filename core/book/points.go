package book

// Seats are where the persons of a hull sit: x, y and the height z of the seats, m, as in [Place]; and how far from the
// centre line a person sits who moves to one side.
type Seats struct {
	// From the aft end forward, m.
	X Formula `yaml:"x,required"`
	// From the centre line to starboard, m; 0 where not given.
	Y Formula `yaml:"y"`
	// Height of the seats, not of the persons, above the base line, m.
	Z Formula `yaml:"z,required"`
	// From the centre line to the middle of a person on one side, m.
	SideM Formula `yaml:"side_m"`
	// Where it stands.
	At Position `json:"-"`
}

// Height is a high point of the boat, m, in the states in which it stands there.
type Height struct {
	// What stands there, such as a light.
	Title Text `yaml:"title,required"`
	// From the aft end forward, m.
	X Formula `yaml:"x,required"`
	// From the centre line to starboard, m; 0 where not given.
	Y Formula `yaml:"y"`
	// Above the base line, m.
	Z Formula `yaml:"z,required"`
	// up, folded, road; all of them where not given.
	States []Text `yaml:"states"`
	// Where it stands.
	At Position `json:"-"`
}

// Depth is a low point of the boat, m, such as a skeg or the tip of a propeller; or one that must lie under water.
type Depth struct {
	// What lies there, such as a propeller.
	Title Text `yaml:"title,required"`
	// From the aft end forward, m.
	X Formula `yaml:"x,required"`
	// From the centre line to starboard, m; 0 where not given.
	Y Formula `yaml:"y"`
	// Above the base line, m.
	Z Formula `yaml:"z,required"`
	// How deep it must lie under water, m.
	ImmersedM Formula `yaml:"immersed_m"`
	// Where it stands.
	At Position `json:"-"`
}

// Opening is a point where water comes aboard, m: the lowest of a well, a cut-out or a vent that cannot be closed
// watertight.
type Opening struct {
	// What opens there, such as a window.
	Title Text `yaml:"title,required"`
	// From the aft end forward, m.
	X Formula `yaml:"x,required"`
	// From the centre line to starboard, m; 0 where not given.
	Y Formula `yaml:"y"`
	// Above the base line, m.
	Z Formula `yaml:"z,required"`
	// Where it stands.
	At Position `json:"-"`
}

// Extent is how long, broad and high something is about its place, m.
type Extent struct {
	// Along the boat, m.
	LengthM Formula `yaml:"length_m,required"`
	// Across the boat, m.
	WidthM Formula `yaml:"width_m,required"`
	// Upwards, m.
	HeightM Formula `yaml:"height_m,required"`
	// Where it stands.
	At Position `json:"-"`
}
