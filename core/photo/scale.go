package photo

import "image"

// scaled is a picture whose longer side is at most so many pixels; the picture itself where it is. Each pixel is the
// mean of what it covers, with parts of pixels at its edges.
func scaled(from *image.RGBA, side int) *image.RGBA {
	w, h := from.Rect.Dx(), from.Rect.Dy()
	long := max(w, h)
	if long <= side {
		return from
	}
	// a line stays a line, however thin
	width, height := max(1, (w*side+long/2)/long), max(1, (h*side+long/2)/long)
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	across, down := shares(w, width), shares(h, height)
	// line by line, so that the room needed is that of two lines
	row, sums := make([]uint64, 3*width), make([]uint64, 3*width)
	y := 0
	for i := range h {
		narrow(row, from.Pix[i*from.Stride:], across)
		for _, s := range down[i] {
			if s.to > y {
				put(out, y, sums, uint64(w)*uint64(h))
				clear(sums)
				y = s.to
			}
			for x, v := range row {
				sums[x] += s.weight * v
			}
		}
	}
	put(out, y, sums, uint64(w)*uint64(h))
	return out
}

// share is how much of a pixel goes to a pixel of the smaller picture.
type share struct {
	to     int
	weight uint64
}

// shares divide a line of so many pixels among fewer: a pixel is as long as the line to is, and one of the other as
// long as the line from. So all is in whole numbers, and the weights of one pixel of the smaller picture add up to
// from.
func shares(from, to int) [][]share {
	list := make([][]share, from)
	for i := range list {
		for at, end := i*to, (i+1)*to; at < end; {
			pixel := at / from
			until := min(end, (pixel+1)*from)
			list[i] = append(list[i], share{pixel, uint64(until - at)})
			at = until
		}
	}
	return list
}

// narrow adds up a line of pixels. A sum is at most 255 times the length of the line, and that of lines 255 times the
// pixels of the picture: far from 2⁶⁴.
func narrow(into []uint64, line []uint8, across [][]share) {
	clear(into)
	for i, list := range across {
		r, g, b := uint64(line[4*i]), uint64(line[4*i+1]), uint64(line[4*i+2])
		for _, s := range list {
			into[3*s.to] += s.weight * r
			into[3*s.to+1] += s.weight * g
			into[3*s.to+2] += s.weight * b
		}
	}
}

// put writes a line of means, half up.
func put(out *image.RGBA, y int, sums []uint64, area uint64) {
	line := out.Pix[y*out.Stride:]
	for x := range len(sums) / 3 {
		for c := range 3 {
			line[4*x+c] = uint8((sums[3*x+c] + area/2) / area)
		}
		line[4*x+3] = 0xff
	}
}
