package screen_test

import (
	"strings"
	"testing"
)

// Fragments have ids of their own, and each stands in the page in the element with that id.
func TestFragmentsStandInThePage(t *testing.T) {
	for name, v := range pages() {
		page := v.page
		text := map[string]string{}
		for _, e := range page.all() {
			if id := e.attr["id"]; id != "" {
				text[id] = e.text
			}
		}
		seen := map[string]bool{}
		for _, f := range v.fragments {
			if f.ID == "" || seen[f.ID] {
				t.Errorf("%s: the fragment %q is there twice", name, f.ID)
			}
			seen[f.ID] = true
			if shown, ok := text[f.ID]; !ok || shown != parse(t, f.HTML).text {
				t.Errorf("%s: the fragment %q is not in the page, or another", name, f.ID)
			}
			if !strings.Contains(v.markup, f.HTML) {
				t.Errorf("%s: the fragment %q is not in the page as it is", name, f.ID)
			}
		}
	}
}

func TestIDsAreUnique(t *testing.T) {
	for name, v := range pages() {
		seen := map[string]bool{}
		for _, e := range v.page.all() {
			if id, ok := e.attr["id"]; ok {
				if id == "" || seen[id] || strings.ContainsAny(id, " \t\n") {
					t.Errorf("%s: the id %q of a <%s> is empty, not one word, or there twice", name, id, e.name)
				}
				seen[id] = true
			}
		}
	}
}

// What an element refers to is there. Radios once named a reason that was not.
func TestReferencesAreThere(t *testing.T) {
	for name, v := range pages() {
		page := v.page
		ids := map[string]bool{}
		for _, e := range page.all() {
			ids[e.attr["id"]] = true
		}
		for _, e := range page.all() {
			for _, a := range []string{"for", "aria-describedby", "aria-labelledby"} {
				for _, to := range strings.Fields(e.attr[a]) { // a list of names, by the recommendation of WAI-ARIA
					if !ids[to] {
						t.Errorf("%s: the %s of <%s id=%q> names %q, which is not there", name, a, e.name, e.attr["id"],
							to)
					}
				}
			}
			// the page in another language lies beside this one
			if to, ok := e.attr["href"]; ok && !strings.HasPrefix(to, "?lang=") && !ids[strings.TrimPrefix(to, "#")] {
				t.Errorf("%s: a link goes to %q", name, to)
			}
		}
	}
}

func TestControlsAreLabelled(t *testing.T) {
	for name, v := range pages() {
		page := v.page
		labels := map[string]string{}
		for _, l := range page.all("label") {
			labels[l.attr["for"]] += strings.TrimSpace(l.text)
		}
		for _, e := range page.all("input", "select", "textarea") {
			if e.attr["type"] != "hidden" && labels[e.attr["id"]] == "" && e.attr["aria-label"] == "" {
				t.Errorf("%s: <%s id=%q> has no label", name, e.name, e.attr["id"])
			}
		}
		for _, e := range page.all("button", "summary", "a") {
			if strings.TrimSpace(e.text) == "" && e.attr["aria-label"] == "" {
				t.Errorf("%s: a <%s> says nothing", name, e.name)
			}
		}
		for _, e := range page.all("fieldset") {
			if len(e.children) == 0 || e.children[0].name != "legend" || e.children[0].text == "" {
				t.Errorf("%s: a <fieldset> has no legend: %.60s", name, e.text)
			}
		}
		for _, e := range page.all("th") {
			if s := e.attr["scope"]; s != "row" && s != "col" {
				t.Errorf("%s: the header %q has the scope %q", name, e.text, s)
			}
		}
	}
}

// The page's policy allows scripts from files only; so nothing on it runs by itself, and every button says that it does
// not submit.
func TestNothingOnThePageRuns(t *testing.T) {
	for name, v := range pages() {
		for _, e := range v.page.all() {
			if e.name == "script" || e.name == "style" || e.name == "object" || e.name == "embed" {
				t.Errorf("%s: there is a <%s>", name, e.name)
			}
			for a, value := range e.attr {
				// a picture is a file beside the page
				if e.name == "img" && a == "src" && strings.HasPrefix(value, "assets/picture-") && e.attr["alt"] != "" {
					continue
				}
				if strings.HasPrefix(a, "on") || a == "style" || a == "src" || a == "srcdoc" || a == "action" ||
					a == "formaction" || strings.HasPrefix(strings.ToLower(value), "javascript:") {
					t.Errorf("%s: <%s %s=%q>", name, e.name, a, value)
				}
			}
			if e.name == "button" && e.attr["type"] != "button" && (e.attr["type"] != "submit" || !e.within("form")) {
				t.Errorf("%s: the button %q is of type %q", name, e.text, e.attr["type"])
			}
		}
	}
}
