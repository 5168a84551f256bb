package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/brief"
)

var update = flag.Bool("update", false, "write the answers to the briefs of testdata/briefs anew")

// The demo's briefs are answered as they were on the yard's desk, which shows most.
func TestBriefsAreAnsweredAsBefore(t *testing.T) {
	files, err := filepath.Glob("../testdata/briefs/*.json")
	if err != nil || len(files) < 2 {
		t.Fatalf("%d briefs, %v", len(files), err)
	}
	schema, answer := schemaNamed(t, "brief"), schemaNamed(t, "brief-answer")
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		validate(t, schema, file, string(text))
		args := []string{"brief", "-book", rulesFolder, "-wishes", file, "-desk", "yard"}
		o := worked(t, tool(t, "", args...))
		golden := strings.TrimSuffix(file, ".json") + ".txt"
		if *update {
			if err := os.WriteFile(golden, []byte(o.out), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal([]byte(o.out), want) {
			t.Errorf("%s is answered otherwise than before:\n%s\nwant\n%s", file, o.out, want)
		}
		validate(t, answer, "the answer to "+file, worked(t, tool(t, "", append(args, "-format", "json")...)).out)
	}
}

func TestBriefSchemaSeesFaults(t *testing.T) {
	schema := schemaNamed(t, "brief")
	for _, text := range []string{`{"format": 1, "wishes": {"range": false}}`,
		`{"format": 1, "wishes": {"range": [1]}}`, `{"format": "1", "wishes": {}}`,
		`{"format": 1, "wishes": {}, "hull": "reed-65"}`} {
		invalid(t, schema, text)
		if _, err := brief.Decode([]byte(text)); err == nil {
			t.Errorf("the reader takes %s", text)
		}
	}
}

// What the command line states goes before the file, and comes back in the answer.
func TestBriefOfTheCommandLine(t *testing.T) {
	file := write(t, filepath.Join(t.TempDir(), "brief.json"),
		`{"format": 1, "wishes": {"range": 90, "weather": true}}`)
	o := worked(t, tool(t, "", "brief", "-book", rulesFolder, "-wishes", file, "-wish", "range=15", "-wish",
		"price=90000", "-wish", "water=salt", "-use", "region=nl", "-hull", "reed-65", "-format", "json"))
	var r brief.Report
	decode(t, o.out, &r)
	w := r.Brief.Wishes
	if w["range"].Number != 15 || !w["weather"].Yes || w["price"].Number != 90000 || w["water"].Text != "salt" ||
		r.Brief.Use["region"].Choice != "nl" {
		t.Errorf("the brief is %s", r.Brief.Encode())
	}
	if len(r.Boats) == 0 || r.Boats[0].Hull != "Reed 65" || r.Boats[0].Hours != "" || !r.Proved {
		t.Errorf("answered with %+v", r)
	}
}

// That there is no boat is an answer: the exit code is 0.
func TestBriefWithoutABoat(t *testing.T) {
	o := worked(t, tool(t, "", "brief", "-book", rulesFolder, "-wish", "range=100", "-wish", "speed=6", "-hull",
		"sedge-46"))
	if !strings.Contains(o.out, "No boat meets all of these needs") || strings.Contains(o.out, "lowest price") {
		t.Errorf("it said %s", o.out)
	}
}

func TestBriefsRefused(t *testing.T) {
	for _, c := range []struct {
		args  string
		code  int
		words []string
	}{
		{"-wish =3", 2, []string{`"=3" is no wish`}},
		{"-wish range=", 2, []string{`"range=" is no wish`, "range=25"}},
		{"-use region", 2, []string{`"region" states nothing`, "region=nl"}},
		{"-format html", 2, []string{`"html"`, "text or json"}},
		{"-desk owner", 2, []string{`"owner"`}},
		{"-wish rang=20", 1, []string{"wishes.rang", `did you mean "range"`}},
		{"-wish range=far", 1, []string{"wishes.range", "write a number"}},
		{"-wish persons=13", 1, []string{"wishes.persons", "from 1 to 10"}},
		{"-hull reed", 1, []string{"hulls[0]"}},
		{"-wishes FILE", 1, []string{"brief.json", "line 1, column 25: wishes", "an object in { }"}},
		{"-wishes none.json", 1, []string{"none.json", "no such file"}},
	} {
		t.Run(c.args, func(t *testing.T) {
			file := write(t, filepath.Join(t.TempDir(), "brief.json"), `{"format": 1, "wishes": 3}`)
			args := strings.Fields(strings.ReplaceAll(c.args, "FILE", file))
			refused(t, tool(t, "", append([]string{"brief", "-book", rulesFolder}, args...)...), c.code, c.words...)
		})
	}
}
