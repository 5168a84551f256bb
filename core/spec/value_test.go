package spec

import (
	"encoding/json"
	"testing"
)

func TestValue(t *testing.T) {
	for text, want := range map[string]Value{"4": {Number: 4}, "-0.5": {Number: -0.5}, "1e3": {Number: 1000},
		`"us"`: {Choice: "us"}, `"48"`: {Choice: "48"}} {
		var v Value
		if err := json.Unmarshal([]byte(text), &v); err != nil || v != want {
			t.Errorf("%s: %+v (%v), want %+v", text, v, err, want)
		}
	}
	for _, c := range []struct {
		v          Value
		text, json string
	}{
		{Value{Number: 4}, "4", "4"}, {Value{Number: 4.5}, "4.5", "4.5"}, {Value{}, "0", "0"},
		{Value{Choice: "us"}, "us", `"us"`}, {Value{Choice: "48"}, "48", `"48"`},
	} {
		got, err := json.Marshal(c.v)
		if err != nil || string(got) != c.json || c.v.String() != c.text {
			t.Errorf("%+v: %s, %s (%v)", c.v, got, c.v, err)
		}
	}
	for _, text := range []string{"null", "true", "[]", "{}", `""`, "1e999"} {
		var v Value
		if err := json.Unmarshal([]byte(text), &v); err == nil {
			t.Errorf("%s was read as %+v", text, v)
		}
	}
}
