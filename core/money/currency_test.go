package money_test

import (
	"encoding/csv"
	"errors"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"testing"

	"ribband/core/money"
)

// table is the list of ISO 4217 as a public data set (2026-02-01), where it is kept beside the repository.
const table = "../../../shared/datasets/codes-iso4217/minor-units.csv"

func TestEveryCodeOfISO4217(t *testing.T) {
	f, err := os.Open(table)
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("the table of ISO 4217 is not beside the repository")
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	known := 0
	for _, row := range rows[1:] {
		code, digits := row[0], row[2]
		got, err := money.CurrencyOf(code)
		if digits == "-" { // metals, tests and special codes have no minor unit
			if err == nil {
				t.Errorf("%s has %d digits, want none", code, got.Digits)
			}
			continue
		}
		known++
		if err != nil || strconv.Itoa(got.Digits) != digits {
			t.Errorf("%s: %d digits, %v; want %s", code, got.Digits, err, digits)
		}
	}
	ours := 0
	for _, codes := range money.Codes() {
		ours += len(strings.Fields(codes))
	}
	if ours != known {
		t.Errorf("%d codes here, %d in the table", ours, known)
	}
}

func TestCodesAreUniqueAndSpaced(t *testing.T) {
	seen := map[string]bool{}
	for _, codes := range money.Codes() {
		if len(codes)%4 != 0 {
			t.Errorf("codes are not groups of four: %q", codes)
		}
		for _, code := range strings.Fields(codes) {
			if len(code) != 3 || seen[code] {
				t.Errorf("code %q is wrong or there twice", code)
			}
			seen[code] = true
		}
	}
}

func TestMinor(t *testing.T) {
	for code, want := range map[string]string{"EUR": "0.01", "JPY": "1", "KWD": "0.001", "CLF": "0.0001"} {
		c, err := money.CurrencyOf(code)
		if err != nil || c.Minor().String() != want {
			t.Errorf("%s: %s, %v; want %s", code, c.Minor(), err, want)
		}
	}
}

func TestCurrencyOfErrors(t *testing.T) {
	for _, c := range []struct{ code, shown string }{
		{"", `""`}, {"eur", `"eur"`}, {"EU", `"EU"`}, {"EURO", `"EURO"`}, {"XAU", `"XAU"`}, {"XXX", `"XXX"`},
		{"978", `"978"`},
		{"UR ", `"UR "`}, {" EU", `" EU"`}, {"R G", `"R G"`}, {"   ", `"   "`}, {"€\x00"[:3], `"€"`},
		{strings.Repeat("E", 50), `"` + strings.Repeat("E", 40) + `…"`},
	} {
		_, err := money.CurrencyOf(c.code)
		wantError(t, err, "looking up currency "+c.shown+
			": not an alphabetic code of ISO 4217 with a minor unit, like EUR")
	}
}
