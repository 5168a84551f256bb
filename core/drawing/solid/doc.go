// Package solid makes the boat in three dimensions of what the views are drawn of: a mesh whose parts are named, and
// still pictures of it as SVG, in ink and wash. Where things stand comes from core/drawing, so that plan, profile and
// solid show one boat.
//
// Lengths are in m in the axes of the offsets: x forward from the aft end, y to starboard, z up from the base line. The
// places of a mesh are whole millimetres. A face is seen from outside where its normal, the cross product of two
// sides in their order, points to the eye; since the axes are left-handed, its corners then run clockwise.
//
// A mesh is made of grids and not of loose triangles: a grid needs no indices, neighbours lie near each other, and one
// side of the boat stands for both. That makes what travels to the page small. The page's twin of [Mesh.Faces] is
// web/page/mesh.ts.
//
// The same boat gives the same bytes on every processor: products in sums are rounded by themselves, see
// DEVELOPERS.md.
//
// Caution: what is made here is an impression. Only the skin of the hull is measured, by its offsets; cockpit, top and
// fittings are placed as core/drawing places them.
package solid
