package drawing

// Fitting is a thing on board that draws itself. It is a type of this package, in a file of its own, which embeds
// [unseen] and has the methods of the views that show it: nothing else of the package knows it.
type Fitting interface {
	check(k *check, l *lines)

	// highest is its highest point, m from the aft end and above the base line; ok is false for what stands no
	// higher than the hull.
	highest(l *lines) (x, z float64, ok bool)

	// In the profile, from the far side to the near one: behind the seated persons, in front of them, and on the
	// side of the hull.
	behindPersons(p *profile)
	beforePersons(p *profile)
	onSide(p *profile)

	// In the plan, from above downwards: below seats and decks, which is drawn dashed; in the cockpit, clipped to
	// it; and on top of that.
	below(p *plan)
	inCockpit(p *plan)
	onTop(p *plan)
}

// unseen is a fitting that no view shows and that has nothing to check.
type unseen struct{}

func (unseen) check(*check, *lines)                         {}
func (unseen) highest(*lines) (x, z float64, standsUp bool) { return 0, 0, false }
func (unseen) behindPersons(*profile)                       {}
func (unseen) beforePersons(*profile)                       {}
func (unseen) onSide(*profile)                              {}
func (unseen) below(*plan)                                  {}
func (unseen) inCockpit(*plan)                              {}
func (unseen) onTop(*plan)                                  {}
