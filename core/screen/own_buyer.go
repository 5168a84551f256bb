//go:build buyer

package screen

// The engine of the public page has none of the panels of the yard's own desks.
var ownHead, ownWork, ownDeal []Panel
