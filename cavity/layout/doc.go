// Package layout sizes a mold that is not cut yet: where it parts, how many
// cavities the injector fills, where they lie, how large runner, gates and block
// are, and what a shot then wastes.
//
// # What holds everywhere
//
//  1. The block lies with its parting face at height 0 and its first half below;
//     the runner runs along x from the edge at x = 0, rows of cavities along y.
//  2. Every cavity is the bait turned about the pull, never mirrored: the same
//     side of it lies in the same half.
//  3. Cavities keep their distance from each other, from the runner and from the
//     edge of the block.
//  4. Sizes that come from common practice are in Practice, can be changed, and
//     are no facts.
package layout
