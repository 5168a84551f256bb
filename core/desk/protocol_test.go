package desk_test

import (
	"fmt"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"ribband/core/deals"
	"ribband/core/desk"
	"ribband/core/money"
	"ribband/core/screen"
)

// The messages are written twice, here and in the page's script. The twins agree field by field, in name, kind and
// whether it may be absent.
func TestProtocolTwins(t *testing.T) {
	text, err := os.ReadFile("../../web/page/protocol.ts")
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("export const VERSION = %d;", desk.Version); !strings.Contains(string(text), want) {
		t.Errorf("%q is not in the script", want)
	}
	store, err := os.ReadFile("../../web/page/store.ts")
	if err != nil {
		t.Fatal(err)
	}
	text = append(text, store...)
	for name, twin := range map[string]reflect.Type{
		"Deal":      reflect.TypeFor[deals.Record](),
		"Past":      reflect.TypeFor[desk.Past](),
		"Did":       reflect.TypeFor[desk.Did](),
		"Effect":    reflect.TypeFor[screen.Effect](),
		"Request":   reflect.TypeFor[desk.Request](),
		"Reply":     reflect.TypeFor[desk.Reply](),
		"Fragment":  reflect.TypeFor[screen.Fragment](),
		"Paper":     reflect.TypeFor[desk.Paper](),
		"Frame":     reflect.TypeFor[desk.Frame](),
		"SavedFile": reflect.TypeFor[desk.File](),
	} {
		if got, want := scriptFields(t, string(text), name), goFields(twin); !reflect.DeepEqual(got, want) {
			t.Errorf("%s is in the script\n%v\nand here\n%v", name, got, want)
		}
	}
}

// scriptFields are the fields of an interface: by name, with a question mark where it may be absent, the type.
func scriptFields(t *testing.T, text, name string) map[string]string {
	t.Helper()
	body := regexp.MustCompile(`(?s)export interface ` + name + ` \{\n(.*?)\n\}`).FindStringSubmatch(text)
	if body == nil {
		t.Fatalf("the script has no interface %s", name)
	}
	fields := map[string]string{}
	for _, line := range strings.Split(body[1], "\n") {
		field, kind, ok := strings.Cut(strings.TrimSuffix(strings.TrimSpace(line), ";"), ": ")
		if !ok {
			t.Fatalf("%s: what is %q?", name, line)
		}
		fields[field] = kind
	}
	return fields
}

func goFields(t reflect.Type) map[string]string {
	fields := map[string]string{}
	for i := range t.NumField() {
		name, options, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		if options == "omitempty" || options == "omitzero" {
			name += "?"
		}
		fields[name] = scriptType(t.Field(i).Type)
	}
	return fields
}

func scriptType(t reflect.Type) string {
	switch t.Kind() {
	case reflect.String:
		return "string"
	case reflect.Int, reflect.Float64:
		return "number"
	case reflect.Bool:
		return "boolean"
	case reflect.Map:
		return "Record<" + scriptType(t.Key()) + ", " + scriptType(t.Elem()) + ">"
	case reflect.Slice:
		return scriptType(t.Elem()) + "[]"
	case reflect.Pointer:
		return scriptType(t.Elem())
	}
	switch t {
	case reflect.TypeFor[money.Amount](): // as text, so that no reader makes a float of it
		return "string"
	case reflect.TypeFor[desk.File]():
		return "SavedFile"
	case reflect.TypeFor[deals.Record]():
		return "Deal"
	}
	return t.Name()
}
