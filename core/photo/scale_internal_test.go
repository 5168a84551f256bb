package photo

import (
	"image"
	"image/color"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// A smaller pixel is the mean of the area that it covers, by fractions, half up: against the sum over all pairs of
// pixels that overlap.
func TestPropertyScaledIsTheMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 8).Draw(t, "w"), rapid.IntRange(1, 8).Draw(t, "h")
		side := rapid.IntRange(1, 8).Draw(t, "side")
		from := image.NewRGBA(image.Rect(0, 0, w, h))
		for y := range h {
			for x := range w {
				from.SetRGBA(x, y, color.RGBA{rapid.Byte().Draw(t, "r"), uint8(17 * x), uint8(19 * y), 255})
			}
		}
		to := scaled(from, side)
		width, height := to.Rect.Dx(), to.Rect.Dy()
		if max(width, height) != min(side, max(w, h)) {
			t.Fatalf("%d × %d of %d × %d at most %d", width, height, w, h, side)
		}
		for y := range height {
			for x := range width {
				for c := range 3 {
					sum := new(big.Rat)
					for j := range h {
						for i := range w {
							share := new(big.Rat).Mul(overlap(i, w, x, width), overlap(j, h, y, height))
							sum.Add(sum, share.Mul(share, big.NewRat(int64(from.Pix[j*from.Stride+4*i+c]), 1)))
						}
					}
					half := sum.Add(sum, big.NewRat(1, 2))
					want := new(big.Int).Div(half.Num(), half.Denom()).Int64()
					if got := int64(to.Pix[y*to.Stride+4*x+c]); got != want {
						t.Fatalf("%d × %d to %d × %d: colour %d at %d, %d is %d, want %d", w, h, width, height, c, x,
							y, got, want)
					}
				}
			}
		}
	})
}

// overlap is the share of pixel x of n that pixel i of m covers, both lines as long as each other.
func overlap(i, m, x, n int) *big.Rat {
	low, high := big.NewRat(int64(i), int64(m)), big.NewRat(int64(i+1), int64(m))
	if l := big.NewRat(int64(x), int64(n)); l.Cmp(low) > 0 {
		low = l
	}
	if h := big.NewRat(int64(x+1), int64(n)); h.Cmp(high) < 0 {
		high = h
	}
	if high.Cmp(low) <= 0 {
		return new(big.Rat)
	}
	return new(big.Rat).Mul(new(big.Rat).Sub(high, low), big.NewRat(int64(n), 1))
}
