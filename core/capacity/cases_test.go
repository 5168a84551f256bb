package capacity_test

import (
	"testing"

	"ribband/testdata/published"
)

// runners say how a kind of case is run.
var runners = map[string]func(t *testing.T, c published.Case){
	"persons":       runPersons,
	"persons share": runPersonsShare,
	"chambers":      runChambers,
	"submerged":     runSubmerged,
	"formulas":      runFormulas,
	"capacity":      runCapacity,
	"whole persons": runWholePersons,
	"least pounds":  runLeastPounds,
	"load":          runLoad,
	"load parts":    runLoadParts,
	"foam":          runFoam,
	"covered":       runCovered,
	"subparts":      runSubparts,
	"factors":       runFactors,
	"label":         runLabel,
	"constants":     runConstants,
	"worksheet":     runWorksheet,
	"bilge tests":   runBilgeTests,
	"net buoyancy":  runNetBuoyancy,
	"lift":          runLift,
	"number":        runNumber,
}

func TestPublishedCases(t *testing.T) {
	published.Run(t, "../../testdata/capacity.json", 39, 7, runners)
}
