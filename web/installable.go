package main

import (
	"encoding/json"
	"fmt"
	"path"
)

// webManifest is what a browser asks for before it installs a page (W3C Web Application Manifest). It has no "id": that
// would be the same for two sites of one origin, where the start address is not.
type webManifest struct {
	Name       string    `json:"name"`
	ShortName  string    `json:"short_name"`
	StartURL   string    `json:"start_url"`
	Scope      string    `json:"scope"`
	Display    string    `json:"display"`
	Background string    `json:"background_color"`
	Theme      string    `json:"theme_color"`
	Icons      []webIcon `json:"icons"`
}

// webIcon is a picture of the app. The same one serves whole and below a mask, since all of it lies where no mask cuts.
type webIcon struct {
	Source  string `json:"src"`
	Sizes   string `json:"sizes"`
	Type    string `json:"type"`
	Purpose string `json:"purpose"`
}

// iconSizes are those that browsers ask for before they install a page, px.
var iconSizes = []int{192, 512}

// installable makes a desk's manifest and its icons for a page with this title, by which a person tells it from the
// yard's other desks. Addresses in the manifest count from its own place. Browsers install a page with TLS or of this
// machine alone; elsewhere the manifest does nothing.
func (s site) installable(parts *pageParts, title string) error {
	// Of a sealed desk the title is all that its manifest tells, and the buyer's page tells that there are such desks.
	parts.Title = title
	// "standalone" has no bar of addresses: the page's own buttons lead everywhere, and its link is a button, too.
	m := webManifest{Name: title, ShortName: title, StartURL: "../" + parts.File, Scope: "../",
		Display: "standalone", Background: "#efece2", Theme: "#efece2"}
	drawn, err := icons()
	if err != nil {
		return err
	}
	for _, pixels := range iconSizes {
		icon := webIcon{s.add(fmt.Sprintf("icon-%d.png", pixels), drawn[pixels]), fmt.Sprintf("%dx%d", pixels, pixels),
			"image/png", "any maskable"}
		parts.Icons = append(parts.Icons, icon) // named by the page, so that they are kept with it
		icon.Source = path.Base(icon.Source)
		m.Icons = append(m.Icons, icon)
	}
	// Under assets, as all that never changes: a new edition names new files, and the app is the same by its start
	// address.
	text, err := json.Marshal(m)
	if err != nil {
		return fmt.Errorf("writing the manifest of a desk: %w", err)
	}
	parts.Manifest = s.add(string(parts.Desk)+".webmanifest", text)
	return nil
}
