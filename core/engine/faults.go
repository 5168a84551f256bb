package engine

import (
	"strings"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
)

// faultWords are why figures of a boat cannot be computed, in a buyer's words; %s stands for the cause.
var faultWords = map[formula.FaultCode]string{
	figures.TooHeavy: "The boat is too heavy: its sheer would be under water. Choose lighter options, or " +
		"carry fewer persons.",
	figures.Unstable: "The boat would not stay upright: too much weight is high up. Choose a lighter or lower " +
		"top.",
	figures.NotAfloat: "How the boat floats cannot be computed: %s.",
	figures.NoRange:   "Range cannot be computed: %s.",
	figures.MotorOverloaded: "The motor would take more current than its cable and fuse carry. Choose a bank of " +
		"higher voltage, or a smaller motor.",
	figures.BankOverloaded: "Motor, thruster and house together would take more current than the cables and fuses " +
		"of this bank carry. Choose a larger bank, or a smaller motor.",
	figures.CableNotSized: "The main cable cannot be computed: %s.",
}

// FaultWords says why figures of a boat cannot be computed.
func FaultWords(f formula.Fault) string {
	return strings.Replace(faultWords[f.Code], "%s", f.Cause, 1)
}

// Because is the reason of a clash.
func Because(c fit.Clash) string {
	if c.Kind == fit.Unsound {
		return FaultWords(c.Fault)
	}
	return c.Reason
}
