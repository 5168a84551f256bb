package book

import "math"

// Block is flotation foam of an option at one place: a block on each side of the boat, along the edge of the deck.
type Block struct {
	// Where it is, in words.
	Title Text `yaml:"title,required"`
	// Its share of the foam_l that the option carries, both sides together.
	Share Number `yaml:"share,required"`
	// Where it begins: share of the length of the hull, from the aft end.
	From Number `yaml:"from,required"`
	// Where it ends, likewise.
	To Number `yaml:"to,required"`
	// How far its outer face is inside of the edge of the deck, mm.
	InboardMm Number `yaml:"inboard_mm"`
	// How broad it is, mm; how high follows from its volume.
	BreadthMm Number `yaml:"breadth_mm,required"`
}

// blocks reports foam that lies nowhere, or is not all of it.
func (v *validation) blocks(o *Option) {
	sum := 0.0
	for i := range o.Blocks {
		b := &o.Blocks[i]
		sum += b.Share.Value
		if !(b.From.Value >= 0 && b.To.Value > b.From.Value && b.To.Value <= 1) {
			v.error(b.From.At, "write both as shares of the length from the aft end, such as from: 0.2, to: 0.7",
				"the block %s lies from %g to %g of the length", b.Title, b.From.Value, b.To.Value)
		}
		if !(b.BreadthMm.Value > 0) {
			v.error(b.BreadthMm.At, "write it in mm, such as 220", "the block %s is %g mm broad", b.Title,
				b.BreadthMm.Value)
		}
	}
	// a thousandth is lost where thirds are written
	if len(o.Blocks) > 0 && math.Abs(sum-1) > 0.001 {
		v.error(o.Blocks[0].Share.At, "let the shares of its blocks make 1",
			"the blocks of %s are %g of its foam", o.ID, sum)
	}
}
