package book_test

import (
	"fmt"
	"reflect"
	"testing"

	"ribband/core/book"
)

// Each judgement has a range and a reason.
func TestLimitsHaveReasons(t *testing.T) {
	list := map[string]book.Limit{}
	all := reflect.ValueOf(book.Limits)
	for i := range all.NumField() {
		list[all.Type().Field(i).Name] = all.Field(i).Interface().(book.Limit)
	}
	for unit, l := range book.MostQuantity {
		list["a quantity in "+unit] = l
	}
	if len(list) < 20 {
		t.Fatalf("%d limits", len(list))
	}
	for name, l := range list {
		if !(l.Least < l.Most) || l.Reason == "" {
			t.Errorf("%s: %+v", name, l)
		}
		if !l.Holds(l.Least) || !l.Holds(l.Most) || l.Holds(l.Least-1) || l.Holds(2*l.Most) {
			t.Errorf("%s does not hold what it says", name)
		}
	}
}

// Warnings come behind errors, and never in their place.
func TestReportKeepsErrors(t *testing.T) {
	var list []book.Diagnostic
	for i := range book.MaxDiagnostics {
		list = append(list, book.Diagnostic{Grade: book.Warning, Message: fmt.Sprint("warned ", i)})
	}
	list = append(list, book.Diagnostic{Message: "wrong"})
	got := new(book.Book).Report(list)
	if len(got) != book.MaxDiagnostics || got[0].Message != "wrong" || len(book.Errors(got)) != 1 {
		t.Errorf("%d diagnostics, the first %v", len(got), got[0])
	}
}

// A grade is read as it is written.
func TestGradeText(t *testing.T) {
	for _, g := range []book.Grade{book.Error, book.Warning} {
		text, err := g.MarshalText()
		var back book.Grade
		if err != nil || back.UnmarshalText(text) != nil || back != g {
			t.Errorf("%v is written as %q and read as %v", g, text, back)
		}
	}
	var g book.Grade
	if g.UnmarshalText([]byte("hint")) == nil {
		t.Error("any word is a grade")
	}
}
