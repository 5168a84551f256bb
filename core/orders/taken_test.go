package orders_test

import (
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
)

// A further boat that is put among the orders of the demo yard is launched within two weeks of where it would be if
// the whole were planned anew with it: what a desk says is not far off.
func TestFurtherBoatAmongTheOrders(t *testing.T) {
	list := demoLoad(t).Orders()
	e := enginetest.Demo()[pack.Yard]
	today := day(t, demoDay).Add(1)
	load, faults := orders.NewLoad(e, list, today)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	p, err := load.Make(plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	// of a copy: the engine of the demo is shared by the tests
	own, work := *e.Pack, *e.Pack.Work
	own.Work = &work
	if work.Load, err = p.Taken(); err != nil {
		t.Fatal(err)
	}
	if work.Load.Orders == 0 || work.Load.Orders > len(list) || work.Load.Day != today.String() {
		t.Errorf("it is of %d orders on %s", work.Load.Orders, work.Load.Day)
	}
	desk, err := engine.Compile(&own)
	if err != nil {
		t.Fatal(err)
	}
	specs := enginetest.DemoSpecs(t)
	for _, name := range []string{"sedge-46-plainest", "osier-76-fullest"} {
		b, err := desk.LaunchOf(enginetest.Answer(t, desk, specs[name]))
		if err != nil {
			t.Fatal(err)
		}
		further := demoOrder{"2027-099", today.String(), "2027-W52", "Somebody", name}
		whole, faults := orders.NewLoad(e, append(list[:len(list):len(list)], further.fresh(t, specs)), today)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		anew, err := whole.Make(plan.Quick)
		if err != nil {
			t.Fatal(err)
		}
		launch := anew.Boats[len(anew.Boats)-1].Launch
		if by := b.Launch.Since(launch); by < -14 || by > 14 {
			t.Errorf("%s: the desk says %s, a plan of the whole %s", name, b.Launch, launch)
		} else {
			t.Logf("%s: the desk says %s, a plan of the whole %s", name, b.Launch, launch)
		}
	}
}
