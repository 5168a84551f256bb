package main

import (
	"encoding/json"
	"fmt"
	"path"

	"ribband/core/pack"
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

// addInstallable makes a desk's manifest and its icons, and gives the paths of both. Addresses in it count from the
// manifest's own place. Browsers install a page with TLS or of this machine alone; elsewhere the manifest does nothing.
func addInstallable(s site, d pack.Desk, title string) (manifest string, icons []string, err error) {
	// "standalone" has no bar of addresses: the page's own buttons lead everywhere, and its link is a button, too.
	m := webManifest{Name: title, ShortName: title, StartURL: "../" + pageNames[d], Scope: "../",
		Display: "standalone", Background: "#efece2", Theme: "#efece2"}
	for _, pixels := range iconSizes {
		picture, err := drawIcon(pixels)
		if err != nil {
			return "", nil, fmt.Errorf("drawing the icon: %w", err)
		}
		file := s.add(fmt.Sprintf("icon-%d.png", pixels), picture)
		icons = append(icons, file)
		m.Icons = append(m.Icons, webIcon{path.Base(file), fmt.Sprintf("%dx%d", pixels, pixels), "image/png",
			"any maskable"})
	}
	// Under assets, as all that never changes: a new edition names new files, and the app is the same by its start
	// address.
	text, err := json.Marshal(m)
	if err != nil {
		return "", nil, fmt.Errorf("writing the manifest of a desk: %w", err)
	}
	return s.add(string(d)+".webmanifest", text), icons, nil
}
