package sheet

import (
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/works"
)

// ShopHours are the hours of a shop against those of the standard build of the hull.
type ShopHours struct {
	Shop     string        `json:"shop"`      // title
	Base     measure.Hours `json:"base_h"`    // of the base boat: the hull before any option
	Options  measure.Hours `json:"options_h"` // and of extra items
	Total    measure.Hours `json:"total_h"`
	Standard measure.Hours `json:"standard_h"`      // of the standard build
	Over     measure.Hours `json:"over_standard_h"` // total beyond the standard build; below zero where it is less
}

// OptionHours are the hours that an option or an extra item adds. An extra item has no identifier.
type OptionHours struct {
	ID    string        `json:"id,omitempty"`
	Slot  string        `json:"slot,omitempty"` // title
	Title string        `json:"title"`
	Count int           `json:"count"`
	Hours measure.Hours `json:"hours"` // of all of them
}

// WorkPart is the hours of an operation for the base boat or an option.
type WorkPart struct {
	For       string        `json:"for"` // identifier of the option, or [engine.BoatKey]
	Operation string        `json:"operation"`
	Shop      string        `json:"shop"`
	Hours     measure.Hours `json:"hours"`
	Amount    money.Amount  `json:"amount"` // at the rate of the shop
	Trace     engine.Trace  `json:"trace"`
}

// shopHours are the hours by shop, and their sum.
func shopHours(e *engine.Engine, a *engine.Answer) (shops []ShopHours, all ShopHours) {
	of := func(title string, h, standard works.KindHours) ShopHours {
		return ShopHours{Shop: title, Base: h.Base, Options: h.Options + h.Extras, Total: h.Total(),
			Standard: standard.Total(), Over: h.Total() - standard.Total()}
	}
	// a shop that this boat does not need stands there with 0: the yard plans them all
	for i, shop := range e.Work.Shops {
		shops = append(shops, of(shop.Title, a.Work.ByShop[i], a.StandardWork.ByShop[i]))
	}
	return shops, of(e.Say("sheet.all-shops"), a.Work.Hours(), a.StandardWork.Hours())
}

// optionHours are those of all options in the boat, of those that take none, too: the yard looks for what it forgot.
func optionHours(e *engine.Engine, a *engine.Answer) (list []OptionHours) {
	for _, c := range a.Work.ByCause {
		switch c.Kind {
		case works.Option:
			o := &e.Pack.Options[c.Index]
			list = append(list, OptionHours{o.ID, e.Pack.Slots[o.Slot].Title, o.Title, c.Count, c.Hours})
		case works.ExtraItem:
			list = append(list, OptionHours{Title: a.Work.Extras[c.Index].Title, Slot: e.Say("sheet.extra-item"),
				Count: c.Count, Hours: c.Hours})
		}
	}
	return list
}

// workParts are the operations of the shops as they are done, each for one cause after the other. Extra items, which
// are none, stand among the options.
func workParts(e *engine.Engine, a *engine.Answer) (list []WorkPart) {
	for _, t := range a.Work.Tasks() {
		if t.Operation == works.NoOperation || t.Shop == works.Outside {
			continue
		}
		for _, i := range t.Lines {
			l := &a.Cost.Work[i]
			list = append(list, WorkPart{causeID(e, l.For), e.Work.Operations[t.Operation].Title,
				e.Work.Shops[t.Shop].Title, l.Hours, l.Amount, e.Unfold(a.Build, l.At)})
		}
	}
	return list
}

// causeID is what hours or a quantity are for, as a table for machines has it: by identifiers, which no change of a
// title touches. The base boat has the key of its line in the price.
func causeID(e *engine.Engine, c works.Cause) string {
	if c.Kind == works.BaseBoat {
		return engine.BoatKey
	}
	return e.Pack.Options[c.Index].ID
}

// causeTitle is what hours or a quantity are for, as the shop reads it.
func causeTitle(e *engine.Engine, c works.Cause) string {
	if c.Kind == works.BaseBoat {
		return e.Say("sheet.base-boat")
	}
	o := &e.Pack.Options[c.Index]
	return e.Say("sheet.option", msg.Text("slot", e.Pack.Slots[o.Slot].Title), msg.Text("option", o.Title))
}
