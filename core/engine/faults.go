package engine

import (
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/msg"
)

// FaultWords says why figures of a boat cannot be computed. Its arms are the codes of package figures. A boat that
// cannot be computed clashes, so that these words stand where a rule's reason would.
func FaultWords(f formula.Fault) msg.Message {
	return msg.New("engine.fault", msg.Choice("fault", string(f.Code)), msg.Words("cause", f.Cause))
}

// Because is the reason of a clash: of the boat, or as the book words it.
func Because(c fit.Clash) msg.Message {
	if c.Kind == fit.Unsound {
		return FaultWords(c.Fault)
	}
	return c.Reason
}
