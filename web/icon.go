package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"sync"
)

// The icon of an installed desk: the midship section of a launch on its water, drawn here at publishing. All of it is
// whole numbers, so that every processor draws the same bytes.

// Colours of the page's style: drawing paper, ink, water and varnished wood.
var (
	iconPaper = color.NRGBA{0xef, 0xec, 0xe2, 0xff}
	iconInk   = color.NRGBA{0x16, 0x26, 0x2d, 0xff}
	iconWater = color.NRGBA{0x17, 0x58, 0x6a, 0xff}
	iconWood  = color.NRGBA{0x86, 0x48, 0x1c, 0xff}
)

// iconUnits is the side of the drawing, in which all of it is measured. All stands within the middle four fifths, the
// safe zone of a maskable icon (W3C Web Application Manifest, "maskable").
const iconUnits = 1000

// iconSection is half of the section, from the keel up to the sheer: height below the top of the drawing, half-breadth.
// Between the points the breadth is linear.
var iconSection = [][2]int{{325, 305}, {395, 297}, {470, 283}, {540, 255}, {600, 205}, {650, 130}, {690, 45}, {715, 22},
	{735, 0}}

// Heights below the top of the drawing: the waterline, the rubbing strake and the skin's thickness.
const (
	iconWaterline = 560
	iconStrake    = 345
	iconSkin      = 30
)

// halfBreadth of the section at a height; -1 above the sheer and below the keel. Division cuts off what is left over,
// which is less than a pixel of the largest icon.
func halfBreadth(y int) int {
	for i := 1; i < len(iconSection); i++ {
		a, b := iconSection[i-1], iconSection[i]
		if y >= a[0] && y < b[0] {
			return a[1] + (b[1]-a[1])*(y-a[0])/(b[0]-a[0])
		}
	}
	return -1
}

// iconAt is what stands at a place: the hull over the water, the water over the paper.
// A case stands before those that it hides.
func iconAt(x, y int) color.NRGBA {
	across := x - iconUnits/2
	if across < 0 {
		across = -across
	}
	half := halfBreadth(y)
	switch {
	case half >= 0 && across <= half+12 && y < iconStrake:
		return iconWood
	case half >= 0 && across <= half && (across > half-iconSkin || halfBreadth(y+iconSkin) < across):
		return iconInk
	case half >= 0 && across <= half: // inside, where there is no water
		return iconPaper
	case y >= iconWaterline && y < iconWaterline+14 && across < 380:
		return iconWater
	case y >= iconWaterline+60 && y < iconWaterline+70 && across > 255 && across < 360:
		return iconWater
	}
	return iconPaper
}

// icons are the icon at each of its sizes, which all pages share: drawing them is a second's work.
var icons = sync.OnceValues(func() (map[int][]byte, error) {
	drawn := map[int][]byte{}
	for _, pixels := range iconSizes {
		picture, err := drawIcon(pixels)
		if err != nil {
			return nil, fmt.Errorf("drawing the icon: %w", err)
		}
		drawn[pixels] = picture
	}
	return drawn, nil
})

// drawIcon draws the icon as PNG, so many pixels wide. Each pixel is the mean of samples by samples points of it.
func drawIcon(pixels int) ([]byte, error) {
	const samples = 4 // in each direction: edges without steps at 192 pixels
	img := image.NewNRGBA(image.Rect(0, 0, pixels, pixels))
	for py := range pixels {
		for px := range pixels {
			var r, g, b int
			for i := range samples * samples {
				// The middle of each sample, in units of the drawing.
				c := iconAt(((px*samples+i%samples)*2+1)*iconUnits/(2*pixels*samples),
					((py*samples+i/samples)*2+1)*iconUnits/(2*pixels*samples))
				r, g, b = r+int(c.R), g+int(c.G), b+int(c.B)
			}
			const n = samples * samples
			img.SetNRGBA(px, py, color.NRGBA{uint8(r / n), uint8(g / n), uint8(b / n), 0xff})
		}
	}
	var out bytes.Buffer
	err := png.Encode(&out, img)
	return out.Bytes(), err
}
