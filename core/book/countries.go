package book

import "strings"

// countries are the alpha-2 codes of ISO 3166-1. Source: the table of the IANA time zone database (iso3166.tab, public
// domain).
const countries = " AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR BS " +
	"BT BV BW BY BZ CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ EC EE EG EH " +
	"ER ES ET FI FJ FK FM FO FR GA GB GD GE GF GG GH GI GL GM GN GP GQ GR GS GT GU GW GY HK HM HN HR HT " +
	"HU ID IE IL IM IN IO IQ IR IS IT JE JM JO JP KE KG KH KI KM KN KP KR KW KY KZ LA LB LC LI LK LR LS " +
	"LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO MP MQ MR MS MT MU MV MW MX MY MZ NA NC NE NF NG NI " +
	"NL NO NP NR NU NZ OM PA PE PF PG PH PK PL PM PN PR PS PT PW PY QA RE RO RS RU RW SA SB SC SD SE SG " +
	"SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG TH TJ TK TL TM TN TO TR TT TV TW TZ UA UG " +
	"UM US UY UZ VA VC VE VG VI VN VU WF WS YE YT ZA ZM ZW "

// commonly are codes that many write and ISO 3166-1 does not have.
var commonly = map[string]string{"UK": "GB", "EL": "GR", "SU": "RU", "EN": "GB"}

// IsCountry says whether ISO 3166-1 has a code of two capitals. AA, QM to QZ, XA to XZ and ZZ are free for everybody's
// own use, as for an invented yard.
func IsCountry(code string) bool {
	if len(code) != 2 || strings.Trim(code, capitals) != "" {
		return false
	}
	own := code == "AA" || code == "ZZ" || code[0] == 'X' || code[0] == 'Q' && code[1] >= 'M'
	return own || strings.Contains(countries, " "+code+" ")
}

const capitals = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// country reports a code that is no country's.
func (v *validation) country(t Text) {
	code := t.Value
	if code == "" || IsCountry(code) {
		return
	}
	advice := "write the two capitals of ISO 3166-1, such as DE or GB"
	if right, ok := commonly[strings.ToUpper(code)]; ok {
		advice = "ISO 3166-1 says " + right
	} else if up := strings.ToUpper(code); len(up) == 2 && strings.Contains(countries, " "+up+" ") {
		advice = "write it in capitals: " + up
	}
	v.error(t.At, advice, "no country has the code %q", t)
}
