// Package begin writes the first book of a yard: a small one that works, with one hull, for an owner to change line by
// line. A few answers decide what it says: who the yard is, its money and tax, how large its boat is.
//
// What it writes is invented, and the files say so beside the numbers: lines, masses, powers, hours and costs fit
// together and are nobody's. It asks and writes no file by itself; the command new does. Its texts are those of
// templates/, its words in other languages those of words/.
package begin

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strconv"
	"strings"
	"text/template"

	"github.com/goccy/go-yaml"

	"ribband/core/hull"
	"ribband/core/money"
)

//go:embed templates words
var embedded embed.FS

// Languages are those that a first book can be written in.
var Languages = []string{"en", "nl", "de"}

// Words are the texts of the templates in a language other than English.
func Words(language string) (map[string]string, error) {
	words := map[string]string{}
	if language == Languages[0] {
		return words, nil
	}
	text, err := embedded.ReadFile("words/" + language + ".yaml")
	if err != nil {
		return nil, fmt.Errorf("beginning a book in %q: there are no words in it", language)
	}
	return words, yaml.Unmarshal(text, &words)
}

// Files writes the book, by the names of its files. The answers are taken as they are: those that [Questions] let
// through give a book without an error or a warning.
func Files(a Answers) (map[string][]byte, error) {
	view, err := newView(a)
	if err != nil {
		return nil, fmt.Errorf("beginning the book of %s: %w", a.Yard, err)
	}
	words, err := Words(a.Language)
	if err != nil {
		return nil, err
	}
	currency, err := money.CurrencyOf(a.Currency)
	if err != nil {
		return nil, err
	}
	lacking := ""
	functions := template.FuncMap{
		// a text in the language of the book
		"t": func(text string) string {
			if a.Language != Languages[0] {
				known, ok := words[text]
				if !ok && text != view.Region {
					lacking = text
				}
				if ok {
					text = known
				}
			}
			return quoted(text)
		},
		"q":     quoted,
		"cost":  func(cents int) string { return amount(cents*view.Factor, currency.Digits) },
		"price": func(euros int) string { return amount(100*euros*view.Factor, currency.Digits) },
		"step":  func() string { return amount(500*view.Factor, currency.Digits) },
	}
	files := map[string][]byte{}
	names, err := fs.Glob(embedded, "templates/*.yaml")
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		text, err := embedded.ReadFile(name)
		if err != nil {
			return nil, err
		}
		made, err := template.New(path.Base(name)).Delims("[[", "]]").Funcs(functions).Parse(string(text))
		if err != nil {
			return nil, fmt.Errorf("reading the template %s: %w", name, err)
		}
		var out bytes.Buffer
		if err := made.Execute(&out, view); err != nil {
			return nil, fmt.Errorf("writing %s: %w", path.Base(name), err)
		}
		files[path.Base(name)] = out.Bytes()
	}
	if lacking != "" {
		return nil, fmt.Errorf("beginning a book in %s: its words lack %q", a.Language, lacking)
	}
	return files, nil
}

// amount writes cents of a currency with so many digits as the book writes money. What is finer than the currency is
// rounded up.
func amount(cents, digits int) string {
	switch {
	case digits == 0:
		return strconv.Quote(strconv.Itoa((cents + 99) / 100))
	case cents%100 == 0:
		return strconv.Quote(strconv.Itoa(cents / 100))
	}
	return fmt.Sprintf(`"%d.%02d"`, cents/100, cents%100)
}

// plain is a text that YAML reads as itself wherever it stands.
var plain = regexp.MustCompile(`^\pL[\pL\pM0-9 .;/()%+-]*[\pL\pM0-9.)%]$`)

// quoted writes a text as a value of YAML: bare where it can stand so, in quotes where not.
func quoted(text string) string {
	switch strings.ToLower(text) {
	case "true", "false", "null", "yes", "no", "on", "off", "inf", "nan":
	default:
		if plain.MatchString(text) {
			return text
		}
	}
	out, _ := json.Marshal(text) // a text always marshals, and a string of JSON is one of YAML
	return string(out)
}

// view is what the templates read.
type view struct {
	Answers
	Factor int // of amounts that were made up in euros

	// the region, its tax as a share, and where that is from
	Region, TaxName, TaxRate, TaxMode, TaxFrom string
	Taxed                                      bool
	Limits, Latitude, Sunshine                 string

	// the hull: its identifier, lengths in m, areas in m², masses in kg, speeds in kn; trial and stations as the book
	// writes them
	ID                       string
	Draft, BootTop, Cockpit  string
	Deck, Sole, Seat, Top    string
	Mass, TrialMass          int
	Persons, StandardPersons int
	Speed, MostSpeed         string
	Trial                    string
	Stations                 []string

	// the motor asked for and a larger one; costs in cents
	MotorTitle, LargeTitle, LargeKW            string
	MotorMass, LargeMass, MotorCost, LargeCost int

	// banks and chargers for either, by the battery modules in them
	Modules, LargeModules                      int
	BankTitle, LargeBankTitle                  string
	BankKWh, LargeBankKWh, BankLength          string
	BankMass, LargeBankMass, BankA, LargeBankA int
	ChargerTitle, LargeChargerTitle            string
	ChargerKW, LargeChargerKW                  string
	InletKW, LargeInletKW                      string
	ChargerMass, LargeChargerMass              int
}

func newView(a Answers) (*view, error) {
	// What no question asks follows from the country: how the tax is shown, whose limits hold, where the sun stands.
	c := of(a.Country)
	v := &view{Answers: a, Factor: max(1, size[a.Currency]), Region: "Home waters", TaxName: c.kind,
		TaxMode: "inclusive", TaxFrom: c.from(), Limits: c.limits, Latitude: c.latitude, Sunshine: c.sunshine,
		ID: identifier(a.Hull)}
	if c.added {
		v.TaxMode = "exclusive"
	}
	rate, err := money.ParseRate(a.Tax)
	if err != nil {
		return nil, err
	}
	v.Taxed, v.TaxRate = rate.Sign() > 0, hundredth(a.Tax)
	v.drive()
	if a.Language != Languages[0] { // Dutch and German have a decimal comma
		for _, title := range []*string{&v.MotorTitle, &v.LargeTitle, &v.BankTitle, &v.LargeBankTitle,
			&v.ChargerTitle, &v.LargeChargerTitle} {
			*title = strings.Replace(*title, ".", ",", 1)
		}
	}
	return v, v.boat()
}

// hundredth is percent as a share: 25.5 as 0.255.
func hundredth(percent string) string {
	whole, part, _ := strings.Cut(percent, ".")
	return "0." + strings.Repeat("0", 2-len(whole)) + whole + part
}

// drive chooses motors, banks and chargers: a larger motor of half as much again, modules of 5.1 kWh for some 1.2 hours
// at full power, and twice as many; a charger of 0.6 kW for each module. Common practice, no source.
func (v *view) drive() {
	large := v.MotorKW * 1.5
	v.LargeKW = tidy(large)
	title := func(kw float64) string { return tidy(kw) + " kW, 48 V" }
	v.MotorTitle, v.LargeTitle = title(v.MotorKW), title(large)
	v.MotorMass, v.LargeMass = int(10+float64(4*v.MotorKW)), int(10+float64(4*large))
	v.MotorCost, v.LargeCost = 100*int(900+float64(420*v.MotorKW)), 100*int(900+float64(420*large))
	v.Modules = int(v.MotorKW/4.0001) + 1
	v.LargeModules = 2 * v.Modules
	bank := func(n int) (title, kwh string, mass, a int) {
		kwh = strconv.FormatFloat(5.12*float64(n), 'f', 2, 64)
		return "LiFePO4, " + strconv.FormatFloat(5.12*float64(n), 'f', 1, 64) + " kWh, 48 V", kwh, 50 * n, 100 * n
	}
	v.BankTitle, v.BankKWh, v.BankMass, v.BankA = bank(v.Modules)
	v.LargeBankTitle, v.LargeBankKWh, v.LargeBankMass, v.LargeBankA = bank(v.LargeModules)
	v.BankLength = metres(0.45 * float64(v.Modules))
	charger := func(n int) (title, kw, inlet string, mass int) {
		kw = strconv.FormatFloat(0.6*float64(n), 'f', 1, 64)
		return kw + " kW", kw, strconv.FormatFloat(0.75*float64(n), 'f', 2, 64), 4 * n
	}
	v.ChargerTitle, v.ChargerKW, v.InletKW, v.ChargerMass = charger(v.Modules)
	v.LargeChargerTitle, v.LargeChargerKW, v.LargeInletKW, v.LargeChargerMass = charger(v.LargeModules)
}

// boat scales the hull: areas by length and beam, the draught by what it weighs.
func (v *view) boat() error {
	a := &v.Answers
	offsets := lines(a.Length, a.Beam, a.Depth)
	h, err := hull.New(offsets)
	if err != nil {
		return err
	}
	for _, s := range offsets.Stations {
		v.Stations = append(v.Stations, row(s))
	}
	area := a.Length * a.Beam
	v.Deck, v.Cockpit = metres(0.62*area), metres(0.55*a.Length)
	v.Sole, v.Seat, v.Top = metres(0.24*area), metres(0.17*area), metres(0.42*area)
	v.Mass = int(baseMass(a))
	// bank, motor, sole, table and cushions at their heaviest; a hard top with panels and windows
	heaviest := float64(v.LargeMass+v.LargeBankMass+v.LargeChargerMass) + 120 + float64(8*area)
	roof := 14 + float64(11*0.42*area) + float64(1.1*a.Length) + float64(3*a.Beam)
	if v.Persons, err = carried(a, h, heaviest, roof); err != nil {
		return err
	}
	v.StandardPersons = min(4, v.Persons-1)
	// the standard build with its persons, and what the program adds for growth
	afloat := float64(1.03*float64(v.Mass+v.MotorMass+v.BankMass+80)) + float64(person*v.StandardPersons)
	draft, y, err := draught(h, afloat, a.Depth)
	if err != nil {
		return err
	}
	v.Draft, v.BootTop = metres(draft), metres(draft+0.06)
	v.TrialMass = int(1.1 * afloat)
	points := trial(float64(v.TrialMass), y.WaterlineLength, a.MotorKW*1.5)
	list := make([]string, len(points))
	for i, p := range points {
		list[i] = fmt.Sprintf("{speed_kn: %s, power_w: %s}", tidy(p.speed), tidy(p.watts))
	}
	v.Trial = "[" + strings.Join(list, ", ") + "]"
	v.Speed, v.MostSpeed = tidy(max(2, float64(cruising(a))-0.5)), tidy(cruising(a))
	return nil
}
