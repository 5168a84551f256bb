package engine_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/formula"
	"ribband/core/msg"
)

// Every fault of package figures has words, with its cause in them where it has one.
func TestFaultsHaveWords(t *testing.T) {
	files, err := filepath.Glob("../figures/*.go")
	if err != nil {
		t.Fatal(err)
	}
	code := regexp.MustCompile(`formula\.FaultCode = "([a-z-]+)"`)
	seen, caused := 0, 0
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range code.FindAllStringSubmatch(string(text), -1) {
			seen++
			words := engine.FaultWords(formula.Fault{Code: formula.FaultCode(m[1]),
				Cause: msg.Plain("the reason")}).String()
			if words == "" || strings.Contains(words, "%") {
				t.Errorf("the fault %s is said as %q", m[1], words)
			}
			if strings.Contains(words, "the reason") {
				caused++
			}
		}
	}
	if seen < 7 || caused != 3 {
		t.Errorf("%d faults, %d with a cause", seen, caused)
	}
}
