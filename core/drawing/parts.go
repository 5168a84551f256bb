package drawing

// Cockpit is the opening in the deck. Its sides follow the sheer at the breadth of the side decks.
type Cockpit struct {
	// Its ends, m from the aft end of the hull.
	Aft, Fore float64
}

// What the offsets do not say, m: common practice, no source.
const (
	SideDeck      = 0.2 // from sheer to coaming
	CoamingHeight = 0.1 // of the coaming above the sheer
)

// check asks that the opening lies within the hull.
func (p Cockpit) check(k *check, l *lines) { k.span("cockpit", p.Aft, p.Fore, l) }

// TopKind is what stands over the cockpit.
type TopKind string

// The tops that can be drawn.
const (
	NoTop       TopKind = ""
	FoldingHood TopKind = "folding-hood"
	Canopy      TopKind = "canopy"
	HardTop     TopKind = "hard-top"
	SolarTop    TopKind = "hard-top-solar"
)

// Top is what stands over the cockpit. It is drawn up, since that is how a boat is shown and how it meets a bridge;
// where a hood lies when it is folded is drawn beside it.
type Top struct {
	Kind TopKind
	// Its ends when up, m from the aft end of the hull.
	Aft, Fore float64
	// Of its highest point above the sheer halfway between its ends, m.
	Height float64
	// Height of a hood above the base line when it is folded, m; 0: not shown.
	Folded float64
	// Of a hard top; cloth has its own, see [Paint].
	Colour Colour
}

// check asks for a top over the hull, 0.5 to 3 m high: lower nobody sits under it, higher is no launch. A folded hood
// must lie between the sheer and where it stands when it is up.
func (t Top) check(k *check, l *lines) {
	switch t.Kind {
	case NoTop:
		return
	case FoldingHood, Canopy, HardTop, SolarTop:
	default:
		k.fail("the top %.40q is unknown; give one of: %s, %s, %s, %s, or blank", string(t.Kind), FoldingHood, Canopy,
			HardTop, SolarTop)
	}
	k.span("top", t.Aft, t.Fore, l)
	k.within("top's height above the sheer", t.Height, 0.5, 3, "m")
	if t.Folded != 0 {
		sheer := l.sheerAt.Predict((t.Aft + t.Fore) / 2)
		k.within("height of the folded hood", t.Folded, sheer+0.05, sheer+t.Height, "m above the base line")
	}
	k.colour("top", t.Colour)
}

// Enclosure is which sides under the top are closed by panes.
type Enclosure string

// The enclosures that can be drawn.
const (
	NoEnclosure    Enclosure = ""
	FrontEnclosure Enclosure = "front"
	SideEnclosure  Enclosure = "sides"
	FullEnclosure  Enclosure = "full"
)

// check asks for a top that is there: panes hang from it.
func (e Enclosure) check(k *check, t Top) {
	switch e {
	case NoEnclosure:
		return
	case FrontEnclosure, SideEnclosure, FullEnclosure:
	default:
		k.fail("the enclosure %.40q is unknown; give one of: %s, %s, %s, or blank", string(e), FrontEnclosure,
			SideEnclosure, FullEnclosure)
	}
	if t.Kind == NoTop {
		k.fail("the %s enclosure hangs from a top, and none is up; leave the enclosure blank or put a top up", e)
	}
}

// DriveKind is what drives the boat.
type DriveKind string

// The drives that can be drawn.
const (
	NoDrive DriveKind = ""
	Shaft   DriveKind = "shaft"
	Leg     DriveKind = "leg"
	Pod     DriveKind = "pod"
)

// Drive is what drives the boat. A shaft goes through the skeg and needs no place; a leg or a pod hangs from the
// bottom.
type Drive struct {
	Kind DriveKind
	// Of a leg or pod, m from the aft end of the hull; a shaft ends at the skeg.
	X float64
}

// check asks where a leg or a pod hangs; where a shaft ends is known from the skeg.
func (d Drive) check(k *check, l *lines) {
	switch d.Kind {
	case NoDrive, Shaft:
	case Leg, Pod:
		k.within("drive's place", d.X, l.aft, l.fore, "m")
	default:
		k.fail("the drive %.40q is unknown; give one of: %s, %s, %s, or blank", string(d.Kind), Shaft, Leg, Pod)
	}
}

// Band is a painted band along the hull, between two heights above the base line; it is parallel to that.
type Band struct {
	Colour Colour
	// M above the base line.
	From, To float64
}

// check asks for a band between keel and sheer, its lower edge first.
func (b *Band) check(k *check, what string, l *lines) {
	if b == nil || l == nil {
		return
	}
	k.colour(what, b.Colour)
	k.within(what+"'s lower edge", b.From, l.low, l.high, "m above the base line")
	k.within(what+"'s upper edge", b.To, b.From, l.high, "m above the base line")
}

// Area is a rectangle seen from above, along the boat. Its place says where it lies, its name what the legend calls
// it.
type Area struct {
	Name string
	// M from the aft end of the hull.
	Aft, Fore float64
	// M from the centre line, to starboard above zero: Port is the smaller number.
	Port, Starboard float64
}

// check asks for an area within the hull's length and breadth. Whether it fits between the sides at its height is
// checked where the book is published.
func (a Area) check(k *check, l *lines) {
	k.span(named(a.Name, "area"), a.Aft, a.Fore, l)
	k.within(named(a.Name, "area")+"'s port side", a.Port, -l.widest, l.widest, "m from the centre line")
	k.within(named(a.Name, "area")+"'s starboard side", a.Starboard, a.Port, l.widest, "m from the centre line")
}

// named is a name, or the usual one of the thing.
func named(name, usual string) string {
	if name == "" {
		return usual
	}
	return name
}
