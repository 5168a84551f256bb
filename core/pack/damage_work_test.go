package pack_test

import (
	"ribband/core/money"
	"ribband/core/pack"
)

// damagedWork are numbers of the work that no plan could be made of.
func damagedWork() []damage {
	// of the small book: canvas-shop and assembly, sew-canvas and fit-out, top, cloth and stowage
	shop := func(do func(s *pack.ShopWork)) func(*pack.Pack) { return func(p *pack.Pack) { do(&p.Work.Shops[0]) } }
	fitOut := func(do func(o *pack.OperationWork)) func(*pack.Pack) {
		return func(p *pack.Pack) {
			p.Work.Equipment = []pack.Equipment{{ID: "bench", Title: "Bench", Count: 1}}
			do(&p.Work.Operations[1])
		}
	}
	slot := func(do func(s *pack.SlotWork)) func(*pack.Pack) { return func(p *pack.Pack) { do(&p.Work.Slots[0]) } }
	check := func(c pack.Check) func(*pack.Pack) {
		return fitOut(func(o *pack.OperationWork) { o.Checks = []pack.Check{c} })
	}
	negative, one, two := -1.0, 1.0, 2.0
	return []damage{
		{"slots of the work", pack.Yard, func(p *pack.Pack) { p.Work.Slots = nil }, "the work has 0 slots, want 3"},
		{"who reads the launch", pack.Yard, func(p *pack.Pack) { p.Work.Launch = "press" }, `"press"`},
		{"day that there is not", pack.Yard, func(p *pack.Pack) {
			p.Work.Closed = []pack.Period{{First: "2027-02-30", Last: "2027-03-01"}}
		}, `the yard is closed from "2027-02-30"`},
		{"period backwards", pack.Yard, shop(func(s *pack.ShopWork) {
			s.Closed = []pack.Period{{First: "2027-03-02", Last: "2027-03-01"}}
		}), "shop canvas-shop is closed from"},
		{"nobody in a shop", pack.Yard, shop(func(s *pack.ShopWork) { s.People = 0 }), "with 0 people"},
		{"no hours", pack.Yard, shop(func(s *pack.ShopWork) { s.Week = [7]float64{} }), "works 0 h a week"},
		{"day of 25 h", pack.Yard, shop(func(s *pack.ShopWork) { s.Week[6] = 25 }),
			"a day of shop canvas-shop has 25 h"},
		{"skill of more than all", pack.Yard, shop(func(s *pack.ShopWork) {
			s.Skills = []pack.Skill{{ID: "sailmaker", People: 5}}
		}), "5 of 1 people of shop canvas-shop"},
		{"no equipment", pack.Yard, func(p *pack.Pack) { p.Work.Equipment = []pack.Equipment{{ID: "bench"}} },
			"0 of the equipment bench"},
		{"hull of equipment", pack.Yard, func(p *pack.Pack) {
			p.Work.Equipment = []pack.Equipment{{ID: "bench", Count: 1, Hulls: []int{9}}}
		}, "hull of equipment bench"},
		{"wait backwards", pack.Yard, fitOut(func(o *pack.OperationWork) { o.After[0].Wait = -1 }), "takes -1 h"},
		{"wait for ever", pack.Yard, fitOut(func(o *pack.OperationWork) { o.After[0].Wait = 1e9 }), "takes 1e+09 h"},
		{"window that is shut", pack.Yard, fitOut(func(o *pack.OperationWork) {
			o.After[0].Wait, o.After[0].Within = 2, &one
		}), "waits 2 h and begins within 1 h"},
		{"crew of nobody", pack.Yard, fitOut(func(o *pack.OperationWork) { o.Crew = 0 }),
			"crew of operation fit-out is 0"},
		{"crew of more than all", pack.Yard, fitOut(func(o *pack.OperationWork) { o.Crew = 3 }), "is 3 of 2 people"},
		{"skill of nobody", pack.Yard, fitOut(func(o *pack.OperationWork) { o.Skill = 1 }),
			"skill of operation fit-out 1"},
		{"spread upwards", pack.Yard, fitOut(func(o *pack.OperationWork) { o.Spread.Low = 1.1 }), "from 1.1 to 1"},
		{"spread downwards", pack.Yard, func(p *pack.Pack) { p.Work.Spread.High = 0.9 }, "from 1 to 0.9"},
		{"equipment used", pack.Yard, fitOut(func(o *pack.OperationWork) { o.Uses = []int{1} }),
			"equipment of operation"},
		{"equipment held", pack.Yard, fitOut(func(o *pack.OperationWork) { o.Holds = []pack.Hold{{Equipment: -1}} }),
			"equipment of operation fit-out -1"},
		{"held until", pack.Yard, fitOut(func(o *pack.OperationWork) { o.Holds = []pack.Hold{{Until: 2}} }),
			"gives free what fit-out holds 2"},
		{"batch", pack.Yard, fitOut(func(o *pack.OperationWork) { o.Batch = "smell" }), `same "smell"`},
		{"set-up", pack.Yard, fitOut(func(o *pack.OperationWork) { o.SetUp = -2 }), "setting up operation fit-out"},
		{"bounds of a check", pack.Yard, check(pack.Check{ID: "gap", Least: &two, Most: &one}), "between 2 and 1"},
		{"figure of a check", pack.Yard, check(pack.Check{ID: "gap", Figure: "gap_mm"}),
			`"gap_mm", which there is not`},
		{"free until", pack.Yard, slot(func(s *pack.SlotWork) { s.FreeUntil = 3 }), "until which slot top is free 3"},
		{"more lost than there is", pack.Yard, slot(func(s *pack.SlotWork) {
			s.Undo = &pack.Undo{ShareLost: money.MustRate("1.1")}
		}), "loses a share of 1.1"},
		{"who undoes", pack.Yard, slot(func(s *pack.SlotWork) {
			s.Undo = &pack.Undo{Hours: []pack.ShopHours{{Shop: 2}}}
		}), "shop that undoes slot top 2"},
		{"undoing backwards", pack.Yard, slot(func(s *pack.SlotWork) {
			s.Undo = &pack.Undo{Hours: []pack.ShopHours{{Hours: negative}}}
		}), "undoing slot top takes -1 h"},
	}
}
