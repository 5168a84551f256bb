package fit_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"sync"

	"ribband/core/book"
	bookfiles "ribband/core/book/source"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/formula/source"
)

// reference judges boats by the texts of the demo book alone: expr's virtual machine runs its formulas, and what a slot
// holds is counted anew. It shares no code with package fit.
type reference struct {
	book    *book.Book
	scope   *source.Scope
	options []*book.Option // in the order of the pack
	slotOf  []int
	rules   [][2]*source.Machine // when and need; nil where the book has none
	links   []link
	when    []*source.Machine
	figures []*source.Machine // nil for a total
	carries map[string]*source.Machine
}

type link struct {
	option  int
	others  []int
	exclude bool
}

var demoReference = sync.OnceValue(func() *reference {
	b, problems, err := bookfiles.Read(os.DirFS(demoBook))
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	inBuildOrder(b)
	b.Figures = slices.DeleteFunc(b.Figures, func(f book.Figure) bool { // the pack is the buyer's
		return figures.YardOnly(figures.ID(f.Computed.Value))
	})
	r := &reference{book: b, scope: scopeOf(b), carries: map[string]*source.Machine{}}
	for i := range b.Slots {
		for j := range b.Slots[i].Options {
			r.options, r.slotOf = append(r.options, &b.Slots[i].Options[j]), append(r.slotOf, i)
		}
		r.when = append(r.when, r.machine(b.Slots[i].When))
	}
	for _, x := range b.Rules {
		r.rules = append(r.rules, [2]*source.Machine{r.machine(x.When), r.machine(x.Need)})
	}
	for o, def := range r.options {
		for _, l := range def.Requires {
			r.links = append(r.links, link{o, r.indices(l), false})
		}
		for _, l := range def.Excludes {
			r.links = append(r.links, link{o, r.indices(l), true})
		}
	}
	for _, f := range b.Figures {
		r.figures = append(r.figures, r.machine(f.Formula))
	}
	return r
})

// inBuildOrder sorts the slots by section, as a pack does.
func inBuildOrder(b *book.Book) {
	section := func(s book.Slot) int {
		return slices.IndexFunc(b.Sections, func(x book.Section) bool { return x.ID.Value == s.Section.Value })
	}
	slices.SortStableFunc(b.Slots, func(x, y book.Slot) int { return section(x) - section(y) })
}

func (r *reference) indices(l book.Link) (list []int) {
	for _, o := range l.AnyOf {
		list = append(list, r.scope.Options[o.Value].Index)
	}
	return list
}

func (r *reference) machine(f book.Formula) *source.Machine {
	if f.Empty() {
		return nil
	}
	m, err := source.Reference(f.Value, r.scope)
	if err != nil {
		panic(fmt.Sprintf("%s: %v", f.At, err))
	}
	return m
}

func scopeOf(b *book.Book) *source.Scope {
	s := &source.Scope{Options: map[string]source.Option{}, Slots: map[string]source.Slot{}, Hulls: map[string]int{},
		Hull: map[string]int{}, Use: map[string]source.Use{}, Figures: map[string]int{}}
	for i, slot := range b.Slots {
		s.Slots[slot.ID.Value] = source.Slot{Index: i, Multiple: slot.Choose.Value == "multiple"}
		for _, o := range slot.Options {
			s.Options[o.ID.Value] = source.Option{Index: len(s.Options), Slot: i}
		}
	}
	for i, h := range b.Hulls {
		s.Hulls[h.ID.Value] = i
	}
	for i, f := range b.HullFields {
		s.Hull[f.ID.Value] = i
	}
	for i, f := range b.Figures {
		s.Figures[f.ID.Value] = i
	}
	for i, u := range b.Use {
		choices := map[string]int{}
		for j, c := range u.Choices.List {
			choices[c.ID.Value] = j
		}
		for j, c := range b.Regions {
			if u.Choices.FromRegions {
				choices[c.ID.Value] = j
			}
		}
		if len(choices) == 0 {
			choices = nil
		}
		s.Use[u.ID.Value] = source.Use{Index: i, Choices: choices}
	}
	return s
}

// state counts and computes everything of a boat anew from its counts, hull and use, but what modules compute: package
// figures has tests of its own.
func (r *reference) state(of *formula.State) (*formula.State, error) {
	hull, counts := of.HullID, of.Counts
	st := &formula.State{Counts: counts, Slots: make([]int, len(r.book.Slots)), HullID: hull,
		Hull: make([]float64, len(r.book.HullFields)), Use: of.Use, Figures: make([]float64, len(r.book.Figures))}
	for o, n := range counts {
		st.Slots[r.slotOf[o]] += n
	}
	copy(st.Hull, r.book.Dimensions(&r.book.Hulls[hull]))
	for range 4 { // rounds enough for figures that read figures
		for i := range r.figures {
			if r.book.Figures[i].Computed.Value != "" {
				st.Figures[i] = of.Figures[i]
				continue
			}
			v, err := r.figure(i, st)
			if err != nil {
				return nil, err
			}
			st.Figures[i] = v
		}
	}
	return st, nil
}

func (r *reference) figure(i int, st *formula.State) (float64, error) {
	if r.figures[i] != nil {
		return r.figures[i].Number(st)
	}
	sum := 0.0
	add := func(n int, list book.Pairs[book.Formula]) error {
		for _, y := range list {
			if n == 0 || r.scope.Figures[y.Key.Value] != i {
				continue
			}
			m := r.carries[y.Value.Value]
			if m == nil {
				m = r.machine(y.Value)
				r.carries[y.Value.Value] = m
			}
			v, err := m.Number(st)
			if err != nil {
				return err
			}
			sum += float64(n) * v
		}
		return nil
	}
	err := add(1, r.book.Hulls[st.HullID].Carries)
	for o, n := range st.Counts {
		if err == nil {
			err = add(n, r.options[o].Carries)
		}
	}
	return sum, err
}

// judge lists everything that is wrong with a boat, as kind and index.
func (r *reference) judge(st *formula.State) (map[string]bool, error) {
	wrong := map[string]bool{}
	note := func(kind fit.Kind, index int) { wrong[fmt.Sprint(kind, " ", index)] = true }
	holds := func(m *source.Machine) (bool, error) {
		if m == nil {
			return true, nil
		}
		return m.Truth(st)
	}
	for i, x := range r.rules {
		when, err := holds(x[0])
		if err != nil {
			return nil, err
		}
		need, err := holds(x[1])
		if err != nil {
			return nil, err
		}
		if when && !need {
			note(fit.Broken, i)
		}
	}
	for i, l := range r.links {
		any := false
		for _, o := range l.others {
			any = any || st.Counts[o] > 0
		}
		if st.Counts[l.option] > 0 && any == l.exclude {
			note(fit.Broken, len(r.rules)+i)
		}
	}
	for i := range r.book.Slots {
		open, err := holds(r.when[i])
		if err != nil {
			return nil, err
		}
		r.judgeSlot(i, open, st, note)
	}
	return wrong, nil
}

func (r *reference) judgeSlot(i int, open bool, st *formula.State, note func(fit.Kind, int)) {
	def := &r.book.Slots[i]
	hull := r.book.Hulls[st.HullID].ID.Value
	exists := listed(def.Hulls, hull)
	for o, n := range st.Counts {
		if r.slotOf[o] != i || n == 0 {
			continue
		}
		most := 1
		if r.options[o].Most.Given() {
			most = int(r.options[o].Most.Value)
		}
		if !exists || !listed(r.options[o].Hulls, hull) {
			note(fit.WrongHull, o)
		}
		if n > most {
			note(fit.TooMany, len(r.book.Slots)+o)
		}
	}
	least, most := int(def.Least.Value), int(def.Most.Value)
	if def.Choose.Value != "multiple" {
		least, most = 1, 1
		if def.Choose.Value == "at most one" {
			least = 0
		}
	}
	switch n := st.Slots[i]; {
	case exists && !open && n > 0:
		note(fit.Closed, i)
	case exists && open && n < least:
		note(fit.TooFew, i)
	case most > 0 && n > most:
		note(fit.TooMany, i)
	}
}

func listed(list []book.Text, id string) bool {
	for _, x := range list {
		if x.Value == id {
			return true
		}
	}
	return len(list) == 0
}

// verify compares a build with what the reference says of its counts.
func (r *reference) verify(b *fit.Build) error {
	st, err := r.state(b.State)
	if err != nil {
		return err
	}
	for i := range st.Figures {
		if got, want := b.State.Figures[i], st.Figures[i]; math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
			return fmt.Errorf("figure %s is %v, want %v", r.book.Figures[i].ID, got, want)
		}
	}
	want, err := r.judge(st)
	if err != nil {
		return err
	}
	if len(b.State.Faults) > 0 { // rules over what cannot be computed are passed over
		for i := range b.State.Faults {
			want[fmt.Sprint(fit.Unsound, " ", i)] = true
		}
		for key := range want {
			if strings.HasPrefix(key, string(fit.Broken)) && !reported(b, key) {
				delete(want, key)
			}
		}
	}
	for _, c := range b.Clashes {
		key := fmt.Sprint(c.Kind, " ", c.Index)
		if !want[key] {
			return fmt.Errorf("%s clashes (%s), and it does not or twice", key, c.Reason)
		}
		delete(want, key)
	}
	if len(want) > 0 {
		return fmt.Errorf("these are wrong and not reported: %v", want)
	}
	return nil
}

func reported(b *fit.Build, key string) bool {
	for _, c := range b.Clashes {
		if fmt.Sprint(c.Kind, " ", c.Index) == key {
			return true
		}
	}
	return false
}
