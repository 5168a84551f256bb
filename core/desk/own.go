//go:build !buyer

package desk

// own are the acts of the yard's own desks. The engine of the public page is built without them, and refuses them as it
// does any word that it does not know.
var own = map[string]act{
	"discount": (*Desk).discount, "extra": (*Desk).extra, "trade-in": (*Desk).tradeIn, "dealer": (*Desk).dealer,
	"remove": (*Desk).remove,
	"freeze": (*Desk).freeze, "sheet": (*Desk).sheet, "deals-compare": (*Desk).compared,
}
