//go:build !buyer

package screen

// The panels of the yard's own desks, by their place among the others in [panels]. The engine of the public page is
// built without them, and so without all that they alone need: a buyer waits for nothing that he cannot see.

var ownHead = []Panel{
	{ID: "reopened", Reads: partQuotation | partBoat | partDeal, Render: (*View).reopened, needs: quotes},
}

var ownWork = []Panel{
	{ID: "build", Reads: partBoat | partDeal, Render: (*View).build, needs: builds, box: &buildBox,
		class: "drawing", Effort: 15, first: none},
	{ID: "hours", Reads: partBoat | partDeal, Render: (*View).hours, needs: sheets, box: &hoursBox, Effort: 15,
		first: none},
	{ID: "stores", Reads: partBoat | partDeal, Render: (*View).stores, needs: sheets, box: &storesBox, Effort: 15,
		first: none},
	{ID: "loom", Reads: partBoat, Render: (*View).loom, needs: sheets, box: &loomBox, Effort: 15,
		first: none},
	{ID: "prices", Reads: partBoat | partDeal, Render: (*View).prices, needs: sheets, box: &pricesBox, Effort: 15,
		first: none},
}

var ownDeal = []Panel{
	{ID: "launch", Reads: partBoat | partDeal, Render: (*View).launch, needs: plans, box: &launchBox, Effort: 15,
		first: none},
	{ID: "discounts", Reads: partBoat | partDeal, Render: (*View).deal, needs: dealt, box: &discountsBox},
	// the same under another title, for whom there are no extra items and no margin
	{ID: "discounts", Reads: partBoat | partDeal, Render: (*View).deal, needs: dealers, box: &dealerBox},
	{ID: CustomerPanel, Reads: partQuotation | partBoat | partDeal, Render: (*View).customer, needs: quotes,
		box: &customerBox},
}
