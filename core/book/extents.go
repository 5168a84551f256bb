package book

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ribband/core/hull"
	"ribband/core/suggest"
)

// extents are the hull fields that follow from the offsets, by the name in `computed`.
var extents = map[string]func(*hull.Extents) float64{
	"hull.length_m":      func(e *hull.Extents) float64 { return e.Length },
	"hull.beam_m":        func(e *hull.Extents) float64 { return e.Beam },
	"hull.depth_m":       func(e *hull.Extents) float64 { return e.Depth },
	"hull.gunwale_m":     func(e *hull.Extents) float64 { return e.Gunwale },
	"hull.shell_m2":      func(e *hull.Extents) float64 { return e.Shell },
	"hull.bottom_m2":     func(e *hull.Extents) float64 { return e.Bottom },
	"hull.waterline_m":   func(e *hull.Extents) float64 { return e.Waterline },
	"hull.waterplane_m2": func(e *hull.Extents) float64 { return e.Waterplane },
}

// heights are the hull fields that say at which height the offsets are cut, by what is measured there.
var heights = map[string]string{"hull.bottom_m2": "boot_top_m", "hull.waterline_m": "draft_m",
	"hull.waterplane_m2": "draft_m"}

// departs is how far a stated number may be from the computed one.
const departs = 0.03

// ExtentNames are what a hull field may have computed.
func ExtentNames() []string {
	var names []string
	for name := range extents {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// Dimensions are the fields of a hull in the order of [Book.HullFields]: as stated, or from the offsets, rounded to 3
// decimals. What the book gives in neither way is zero; [Book.Validate] reports it.
func (b *Book) Dimensions(h *Hull) []float64 {
	list := make([]float64, len(b.HullFields))
	measured := b.measure(h)
	for i, f := range b.HullFields {
		if d, ok := h.dimension(f.ID.Value); ok {
			list[i] = d.Value
		} else if of := extents[f.Computed.Value]; of != nil && measured != nil {
			list[i] = math.Round(of(measured)*1000) / 1000
		}
	}
	return list
}

// dimension is what a hull states of a field.
func (h *Hull) dimension(field string) (Number, bool) {
	for _, d := range h.Dimensions {
		if d.Key.Value == field {
			return d.Value, true
		}
	}
	return Number{}, false
}

// measure takes a hull's extents from its offsets; nil where the book has none of it, or none that are sound, or where
// no field asks for it.
func (b *Book) measure(h *Hull) *hull.Extents {
	i := slices.IndexFunc(b.Offsets, func(o Offsets) bool { return o.Hull.Value == h.ID.Value })
	if i < 0 || !slices.ContainsFunc(b.HullFields, func(f Field) bool { return f.Computed.Value != "" }) {
		return nil
	}
	made, err := hull.New(b.Offsets[i].Table())
	if err != nil {
		return nil
	}
	draft, _ := h.dimension(heights["hull.waterline_m"])
	bootTop, _ := h.dimension(heights["hull.bottom_m2"])
	measured, err := made.Extents(draft.Value, bootTop.Value)
	if err != nil {
		return nil
	}
	return &measured
}

// computedFields reports names of computed hull fields that there are not.
func (v *validation) computedFields() {
	for _, f := range v.book.HullFields {
		if name := f.Computed.Value; name != "" && extents[name] == nil {
			v.error(f.Computed.At, suggest.Nearest(name, ExtentNames(),
				"the computed fields are "+strings.Join(ExtentNames(), ", ")), "unknown computed field %q", f.Computed)
		}
	}
}

// dimensions reports fields that a hull lacks, and stated numbers that the offsets contradict.
func (v *validation) dimensions(h *Hull) {
	measured := v.book.measure(h)
	for _, f := range v.book.HullFields {
		stated, given := h.dimension(f.ID.Value)
		of, height := extents[f.Computed.Value], heights[f.Computed.Value]
		_, cut := h.dimension(height)
		switch {
		case measured != nil && height != "" && !cut:
			v.error(h.ID.At, fmt.Sprintf("add %s: to its dimensions, m above the base line", height),
				"%s of the hull %s is measured at a height that is not stated", f.ID, h.ID)
		case !given && of != nil && measured == nil:
			v.error(h.ID.At, fmt.Sprintf("add %s: to its dimensions, or a table of offsets", f.ID),
				"the hull %s has no %s, and no sound offsets from which it follows", h.ID, f.ID)
		case !given && of == nil:
			v.error(h.ID.At, fmt.Sprintf("add %s: to its dimensions", f.ID), "the hull %s has no %s", h.ID, f.ID)
		case given && of != nil && measured != nil:
			if m := of(measured); !(math.Abs(stated.Value-m) <= departs*m) {
				text := strconv.FormatFloat(math.Round(m*1000)/1000, 'f', -1, 64)
				v.error(stated.At, "leave it out, so that "+text+" is taken, or mend the offsets",
					"%s of %s is stated as %s, and by its offsets it is %s: more than 3 %% apart",
					f.ID, h.ID, strconv.FormatFloat(stated.Value, 'f', -1, 64), text)
			}
		}
	}
}
