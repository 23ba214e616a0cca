// Package hollow reads a mold half: a block with hollows open on its parting
// face. It finds the face and the way the half is pulled off, tells cavities from
// runners and holes, parts what gates join, and measures each hollow.
//
// # What holds everywhere
//
//  1. The pull points out of the half, towards its partner. In the half's own
//     frame it is +z, and the parting face lies at z = 0.
//  2. A hollow's volume is a plain sum over its own facets. The field
//     (0, 0, z-rim) has divergence 1, is zero on the rim's plane and tangent to
//     upright walls, so that neither the opening, nor an open end in an upright
//     side, nor the upright plane of a gate needs a cap. Undercuts are counted
//     as they are. Only a far end of a through hole and an opening in a sloped
//     side are closed, along the block's own face.
//  3. Gates are cut by upright planes, so the parts of a hollow add up to it but
//     for the rounding of the sums.
//  4. Nothing but the shape decides what a hollow is for.
//  5. Heights from above (a grid) serve to find necks and to draw; no volume and
//     no area that is printed comes from them.
package hollow
