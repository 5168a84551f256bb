package main

import (
	"bytes"
	"encoding/json"
	"image/png"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"ribband/core/pack"
)

// The icon is whole: all of the drawing lies in the circle that every mask leaves, four fifths of the side across (W3C
// Web Application Manifest, "maskable"), and the same bytes come each time.
func TestIconIsMaskable(t *testing.T) {
	for _, pixels := range iconSizes {
		text, err := drawIcon(pixels)
		if err != nil {
			t.Fatal(err)
		}
		if again, _ := drawIcon(pixels); !bytes.Equal(text, again) {
			t.Error("the second time it has other bytes")
		}
		img, err := png.Decode(bytes.NewReader(text))
		if err != nil || img.Bounds().Dx() != pixels || img.Bounds().Dy() != pixels {
			t.Fatalf("%v, %v", img.Bounds(), err)
		}
		paper := img.At(0, 0)
		drawn := 0
		for y := range pixels {
			for x := range pixels {
				if img.At(x, y) == paper {
					continue
				}
				drawn++
				if dx, dy := 2*x+1-pixels, 2*y+1-pixels; 25*(dx*dx+dy*dy) > 16*pixels*pixels {
					t.Fatalf("at %d, %d of %d a mask may cut it", x, y, pixels)
				}
			}
		}
		if share := 100 * drawn / (pixels * pixels); share < 3 || share > 30 {
			t.Errorf("the drawing fills %d %%", share)
		}
	}
}

// Each desk can be installed: Chromium reads its manifest without a complaint, and it opens the desk within the site,
// wherever that lies.
func TestDesksCanBeInstalled(t *testing.T) {
	s := siteOf(t)
	h := newHost(t, map[string]site{"/": s, "/boats/": s})
	link := regexp.MustCompile(`<link rel="manifest" href="([^"]*)">`)
	for _, d := range pack.Desks {
		p := newTab(t)
		p.open(h.URL + "/boats/" + mainPage(d))
		got, err := chromedp.Call(p.ctx, page.GetAppManifest, page.GetAppManifestParams{})
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Errors) > 0 || !strings.HasPrefix(got.URL, h.URL+"/boats/assets/") {
			t.Errorf("%s: %s has the faults %v", d, got.URL, got.Errors)
		}
		var m webManifest
		file := link.FindSubmatch(s[mainPage(d)])
		if file == nil || json.Unmarshal(s[string(file[1])], &m) != nil || path.Join("/assets", m.StartURL) != "/"+
			mainPage(d) {
			t.Errorf("%s has %s: %+v", d, file, m)
		}
		faults, err := chromedp.Call(p.ctx, page.GetInstallabilityErrors, struct{}{})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults.InstallabilityErrors {
			if f.ErrorID != "in-incognito" { // as every tab of a test is
				t.Errorf("%s cannot be installed: %s %v", d, f.ErrorID, f.ErrorArguments)
			}
		}
	}
}
