package wiring

import (
	"fmt"
	"slices"
	"strings"
)

// Rating is the temperature rating of an insulation in °C.
type Rating int

var ratings = []Rating{60, 75, 80, 90, 105, 125, 200}

// Ratings lists the temperature ratings that the table of ampacities has, in °C.
func Ratings() []Rating { return slices.Clone(ratings) }

func (r Rating) known() bool { return slices.Contains(ratings, r) }

func ratingList() string {
	words := make([]string, len(ratings))
	for i, r := range ratings {
		words[i] = fmt.Sprint(int(r))
	}
	return strings.Join(words, ", ") + " °C"
}

// table5 holds amperes by gauge (rows as in gauges) and rating (columns as in ratings). Source: 33 CFR 183.425 Table 5,
// found.
var table5 = [][]int{
	{10, 10, 15, 20, 20, 25, 25},
	{15, 15, 20, 25, 25, 30, 35},
	{20, 20, 25, 30, 35, 40, 45},
	{25, 25, 35, 40, 45, 50, 55},
	{40, 40, 50, 55, 60, 70, 70},
	{55, 65, 70, 70, 80, 90, 100},
	{80, 95, 100, 100, 120, 125, 135},
	{105, 125, 130, 135, 160, 170, 180},
	{120, 145, 150, 155, 180, 195, 210},
	{140, 170, 175, 180, 210, 225, 240},
	{165, 195, 210, 210, 245, 265, 280},
	{195, 230, 245, 245, 285, 305, 325},
	{225, 265, 285, 285, 330, 355, 370},
	{260, 310, 330, 330, 385, 410, 430},
	{300, 360, 385, 385, 445, 475, 510},
}

// engineSpace holds the factor in per cent by rating. Source: 33 CFR 183.425 Table 5, note 1; 105 °C found, the others
// from memory.
var engineSpace = []int{58, 75, 78, 82, 85, 89, 100}

// Ampacity is the current in A that a single conductor may carry.
//
// Formula: table value; in the engine space × the factor of note 1, rounded half to even to whole amperes (AWG 14 at
// 105 °C: 0.85 × 35 = 29.75, so 30). Cutting the fraction off would give 29, which is not the printed column.
// Valid: AWG 18 to 4/0, ratings of [Ratings], stranded copper, below 50 V; above see [Bundle].
// Source: 33 CFR 183.425 Table 5 and its note 1 (factors other than that of 105 °C from memory).
func Ampacity(g Gauge, r Rating, inEngineSpace bool) (int, error) {
	return ampacity(g, r, inEngineSpace, 100)
}

func ampacity(g Gauge, r Rating, inEngineSpace bool, bundle int) (int, error) {
	row, column := slices.Index(gauges, g), slices.Index(ratings, r)
	if row < 0 {
		return 0, fmt.Errorf("looking up an ampacity: there is no row for AWG %s; give a gauge from 18 to 4/0", g)
	}
	if column < 0 {
		return 0, fmt.Errorf("looking up an ampacity: there is no column for %d °C; give one of %s", int(r),
			ratingList())
	}
	return derated(row, column, inEngineSpace, bundle), nil
}

// derated is an entry of the table where the conductor runs.
func derated(row, column int, inEngineSpace bool, bundle int) int {
	factor := 100
	if inEngineSpace {
		factor = engineSpace[column]
	}
	return halfEven(table5[row][column]*factor*bundle, 100*100)
}

// Bundle is the factor in per cent for conductors that carry current side by side.
//
// Formula: up to 2 conductors 100; 3: 70; 4 to 6: 60; 7 to 24: 50; 25 and more: 40.
// Valid: 50 V and more; below it the factor is 100.
// Source: 33 CFR 183.425 Table 5, note 2, from memory.
func Bundle(conductors int, volts float64) int {
	switch {
	case volts < LowVoltage || conductors < 3:
		return 100
	case conductors == 3:
		return 70
	case conductors <= 6:
		return 60
	case conductors <= 24:
		return 50
	}
	return 40
}

// halfEven is n/d rounded to the nearest whole number, ties to the even one; n is not negative.
func halfEven(n, d int) int {
	whole, rest := n/d, n%d
	if 2*rest > d || 2*rest == d && whole%2 == 1 {
		whole++
	}
	return whole
}
