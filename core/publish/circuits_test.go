package publish_test

import (
	"strings"
	"testing"

	"ribband/core/book"
	"ribband/core/publish"
)

// A circuit of the demo book that is not protected on one boat alone is found with that boat, although no single option
// in the standard build shows it: the largest motor asks for a large bank, other steering, throttle and cooling. The
// message names boat, circuit, place and remedy.
func TestBoatWithAnUnprotectedCircuit(t *testing.T) {
	for _, c := range []struct {
		circuit, fault string
		want           []string
	}{
		{"bow-thruster", `has("motor-48-15") and has("bow-thruster-tunnel") ? 30000 : figures.bank_fault_a`,
			[]string{"on osier-76 with ", "motor-48-15", "bow-thruster-tunnel",
				`: sizing circuit "Bow thruster": of the fuses kept none has 70 A or more, for 57.6 V and a fault ` +
					`current of 30 kA; keep such a fuse`}},
		{"solar", `has("bank-agm-48-10") and has("top-solar") ? 0 : figures.bank_fault_a`,
			[]string{" with ", "bank-agm-48-10", "top-solar",
				`: sizing circuit "Solar regulator": the fault current of its source is 0 A`}},
	} {
		b := readDemo(t)
		var at book.Position
		for i := range b.Circuits {
			if x := &b.Circuits[i]; x.ID.Value == c.circuit {
				x.FaultA.Value, at = c.fault, x.At
			}
		}
		_, _, diagnostics := publish.Make(b)
		diagnostics = book.Errors(diagnostics)
		if len(diagnostics) != 1 {
			t.Fatalf("%s: %d diagnostics: %v", c.circuit, len(diagnostics), reported(diagnostics))
		}
		p := diagnostics[0]
		if p.File != "circuits.yaml" || p.Line < at.Line || p.Line > at.Line+12 || p.Advice == "" {
			t.Errorf("%s: %+v, the circuit stands at %s", c.circuit, p, at)
		}
		for _, part := range c.want {
			if !strings.Contains(p.Message, part) {
				t.Errorf("%s: %q lacks %q", c.circuit, p.Message, part)
			}
		}
	}
}
