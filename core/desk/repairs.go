package desk

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/screen"
)

// Why something cannot be had, repairs, and what repairs leave alone.

// reason asks why a blocked option, or the boat as it stands, cannot be had; asked once more, it closes the answer.
func (d *Desk) reason(r *Request, _ *Reply) error {
	if d.asked != nil && d.asked.Option == r.Option {
		d.asked = nil
		return nil
	}
	what, err := d.askable(r.Option)
	if err != nil {
		return err
	}
	asked := &screen.Asked{Option: r.Option}
	if asked.Reason, err = d.engine.Reason(d.answer, r.Option); err != nil {
		return err
	}
	if asked.Repairs, asked.All, err = d.engine.Repairs(d.answer, r.Option); err != nil {
		return err
	}
	d.asked = asked
	switch n := len(asked.Repairs); n {
	case 0:
		d.announced = "Why " + what + ": shown below it. No solution was found."
	case 1:
		d.announced = "Why " + what + ": shown below it, with one solution."
	default:
		d.announced = fmt.Sprintf("Why %s: shown below it, with %d solutions.", what, n)
	}
	return nil
}

// askable names what cannot be had, and refuses to explain what can.
func (d *Desk) askable(option string) (what string, err error) {
	if option == "" {
		if len(d.answer.Build.Clashes) == 0 {
			return "", errors.New("this boat can be built: there is nothing to change")
		}
		return "this boat cannot be built", nil
	}
	for o := range d.engine.Public().Options {
		def := &d.engine.Public().Options[o]
		if def.ID != option {
			continue
		}
		if d.engine.Alternatives(d.answer).Option(d.engine, o).Status != fit.Blocked {
			return "", fmt.Errorf("%s is not blocked on this boat: there is nothing to change", def.Title)
		}
		return def.Title + " cannot be had", nil
	}
	return "", fmt.Errorf("asking for the reason: unknown option %.60q", option)
}

// repair applies one of the repairs that are shown.
func (d *Desk) repair(r *Request, _ *Reply) error {
	if d.asked == nil || d.asked.Option != r.Option {
		return errors.New("this change was for an earlier boat; ask again how to change it")
	}
	i, err := strconv.Atoi(r.Key)
	if err != nil || i < 0 || i >= len(d.asked.Repairs) {
		return errors.New("there is no such change; choose one of those shown")
	}
	way := d.asked.Repairs[i]
	remark := sentence("Changed: " + strings.Join(d.engine.Language().Texts(way.Changes), "; "))
	return d.settle(way.Spec, []string{remark})
}

// keep marks a choice as not to be changed by repairs. The boat stays as it is.
func (d *Desk) keep(r *Request, _ *Reply) error {
	before, opened, differences := d.answer.Spec.Digest(), d.reopened, d.differences
	if err := d.apply(engine.Keep{Slot: r.Slot, Kept: r.Checked}); err != nil {
		return err
	}
	d.reopened, d.differences = opened, differences
	if d.quoted == before {
		d.quoted = d.answer.Spec.Digest()
	}
	d.announced = d.slotTitle(r.Slot) + " is unlocked."
	if r.Checked {
		d.announced = d.slotTitle(r.Slot) + " is locked."
	}
	return nil
}
