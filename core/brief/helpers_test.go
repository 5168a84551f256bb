package brief_test

import (
	"fmt"
	"os"
	"sync"
	"testing"

	"ribband/core/brief"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/spec"
)

// packs are the demo book's, made once. The boats of these tests are invented.
var packs = sync.OnceValue(func() map[pack.Desk]*pack.Pack {
	list, _, problems, err := publish.Load(os.DirFS("../../rules"))
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	return list
})

var buyer = sync.OnceValue(func() *engine.Engine { return compiled(packs()[pack.Buyer]) })

func compiled(p *pack.Pack) *engine.Engine {
	e, err := engine.Compile(p)
	if err != nil {
		panic(err)
	}
	return e
}

// wishes makes a brief of pairs of a wish and its value.
func wishes(pairs ...any) brief.Brief {
	b := brief.Brief{Format: brief.Format, Wishes: map[string]brief.Value{}}
	for i := 0; i < len(pairs); i += 2 {
		v := brief.Value{}
		switch x := pairs[i+1].(type) {
		case int:
			v.Number = float64(x)
		case float64:
			v.Number = x
		case string:
			v.Text = x
		case bool:
			v.Yes = x
		}
		b.Wishes[pairs[i].(string)] = v
	}
	return b
}

func find(t testing.TB, e *engine.Engine, b brief.Brief) *brief.Answer {
	t.Helper()
	a, err := brief.Find(e, b)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func answer(t testing.TB, e *engine.Engine, s spec.Spec) *engine.Answer {
	t.Helper()
	a, err := e.Answer(s)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// wantSound says that a boat is a valid spec that costs what its answer says and is the boat that was found.
func wantSound(t testing.TB, e *engine.Engine, b *brief.Boat) {
	t.Helper()
	a := answer(t, e, b.Spec)
	if len(a.Notes) > 0 || len(a.Build.Clashes) > 0 {
		t.Errorf("%s clashes: %v, %v", b.Spec.Encode(), a.Notes, a.Build.Clashes)
	}
	if !a.Price.Total.Equal(b.Price) {
		t.Errorf("the boat costs %s, its answer says %s", b.Price, a.Price.Total)
	}
	if fmt.Sprint(a.Build.State.Counts) != fmt.Sprint(b.State.Counts) {
		t.Errorf("%s gives another boat", b.Spec.Encode())
	}
}
