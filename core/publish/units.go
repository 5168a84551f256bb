package publish

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"ribband/core/book"
	"ribband/core/figures"
	"ribband/core/formula/source"
	"ribband/core/measure"
	"ribband/core/suggest"
)

// checkUnits checks the units of a book: what each field and figure is stated in, and every formula. It walks the types
// of the book, so that a new key needs nothing here if it ends in its unit. A formula that cannot be lowered is passed
// over: it is reported as that.
func checkUnits(b *book.Book) []book.Diagnostic {
	u := &unitCheck{scope: source.Units{Hull: map[string]string{}, Use: map[string]string{},
		Figures: map[string]string{}, Own: map[string]source.Own{}}, materials: map[string]string{},
		outside: map[string]string{}}
	for _, x := range b.Units {
		// the nearest number, as all that is computed; a factor has nine decimals at most
		factor, _ := strconv.ParseFloat(x.Factor.Value.String(), 64)
		u.scope.Own[x.ID.Value] = source.Own{Of: x.Of.Value, Factor: factor}
	}
	// scopes are complete before any formula is looked at
	for _, f := range b.HullFields {
		u.scope.Hull[f.ID.Value] = f.Unit.Value
		u.stated("hull field", f.ID, f.Unit, figures.HullField(f.ID.Value).Unit())
	}
	for _, f := range b.Use {
		// a choice is no number
		if !f.Choices.FromRegions && len(f.Choices.List) == 0 {
			u.scope.Use[f.ID.Value] = f.Unit.Value
			u.stated("field of the use", f.ID, f.Unit, figures.UseField(f.ID.Value).Unit())
		}
	}
	// what a computed figure is in is settled by its module, and what is written in the book by its name
	for _, f := range b.Figures {
		u.scope.Figures[f.ID.Value] = f.Unit.Value
		d, computed := figures.Find(figures.ID(f.Computed.Value))
		// a module computes in one unit, whatever the book calls it
		if computed && d.Unit != f.Unit.Value {
			u.error(f.Unit.At, "write unit: "+d.Unit,
				"the figure %s has the unit %s, and %s, the %s, is computed in %s", f.ID, f.Unit, d.ID, d.Title(),
				d.Unit)
			continue
		}
		u.stated("figure", f.ID, f.Unit, figures.Given(f.ID.Value).Unit())
	}
	for _, m := range b.Materials {
		u.materials[m.ID.Value] = m.Unit.Value
	}
	// what a shop does is in hours, by the key alone
	for _, o := range b.Operations {
		if o.Subcontracted != nil {
			u.outside[o.ID.Value] = o.Subcontracted.UnitOf()
		}
	}
	u.walk(reflect.ValueOf(b).Elem())
	return u.diagnostics
}

// unitCheck finds the formulas of a book, and what each has to give.
type unitCheck struct {
	// what formulas read by name
	scope source.Units
	// the unit in which each material is kept, and a quantity of it counts
	materials map[string]string
	// the unit in which each outside work is paid
	outside     map[string]string
	diagnostics []book.Diagnostic
}

// error adds what is wrong at a place.
func (u *unitCheck) error(at book.Position, advice, format string, args ...any) {
	u.diagnostics = append(u.diagnostics, book.Diagnostic{Position: at, Advice: advice,
		Message: fmt.Sprintf(format, args...)})
}

// stated reports a unit that is not that in which the name ends, or in which the program reads it.
func (u *unitCheck) stated(what string, id, unit book.Text, want string) {
	// where none is given it is reported as missing
	if want != "" && want != unit.Value && unit.At.File != "" {
		u.error(unit.At, fmt.Sprintf("write unit: %s, or give it a name that ends in its unit", want),
			"the %s %s has the unit %s, and its name says %s", what, id, unit, want)
	}
}

// keyUnits are the units of keys that do not end in them.
var keyUnits = map[string]string{"x": "m", "y": "m", "z": "m", "hours": "h", "amps": "A", "volts": "V"}

// walk checks the formulas of a struct, with all that is in it.
func (u *unitCheck) walk(v reflect.Value) {
	for i := range v.NumField() {
		if !v.Type().Field(i).IsExported() {
			continue
		}
		// a form that is written in two ways, as a price, has no key of its own
		key, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("yaml"), ",")
		switch x := v.Field(i).Interface().(type) {
		case book.Formula:
			u.check(x, u.wanted(v.Interface(), key))
		case book.Pairs[book.Formula]: // what is carried
			for _, p := range x {
				u.check(p.Value, u.scope.Figures[p.Key.Value])
			}
		default:
			u.into(v.Field(i))
		}
	}
}

// into walks what may hold structs. A pointer is what the book may leave out.
func (u *unitCheck) into(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		u.walk(v)
	case reflect.Pointer:
		if !v.IsNil() {
			u.into(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			u.into(v.Index(i))
		}
	}
}

// wanted is the unit of what a formula gives, by the key and where it stands; "" for any.
func (u *unitCheck) wanted(in any, key string) string {
	// three keys have no unit of their own: that of the entry in which they stand counts
	switch in := in.(type) {
	case book.Figure:
		return in.Unit.Value
	case book.Quantity:
		return u.materials[in.Material.Value]
	case book.Work:
		if key == "quantity" {
			return u.outside[in.Operation.Value]
		}
	}
	// places and hours are plain without a unit in their key
	if unit, ok := keyUnits[key]; ok {
		return unit
	}
	over, ok := measure.Suffix(key)
	if !ok {
		return ""
	}
	// m2_l of a cover is m² for a litre
	if first, ok := measure.Suffix(key[:strings.LastIndexByte(key, '_')]); ok {
		return first.ID + "/" + over.ID
	}
	return over.ID
}

// check reports what is wrong with the units of one formula.
func (u *unitCheck) check(f book.Formula, wanted string) {
	if f.Empty() {
		return
	}
	err, doubtful := u.scope.Check(f.Value, wanted)
	if err == nil {
		return
	}
	// a formula may stand folded over several lines: the place is that of the operator at fault
	d := book.Diagnostic{Position: f.Position(err.Offset), Width: f.Token(err.Offset), Advice: err.Advice,
		Message: fmt.Sprintf("in %q: %s", suggest.Clip(f.Value, 80), err.Message)}
	// another dimension may be meant: an hour for each square metre
	if doubtful {
		d.Grade = book.Warning
	}
	u.diagnostics = append(u.diagnostics, d)
}
