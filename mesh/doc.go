// Package mesh is triangle geometry in millimetres: it says whether a surface is
// closed, measures what it encloses, and cuts it by planes and folds. It knows nothing
// of plastic.
//
// Other rooms stand on it, a package each: stl reads and writes files, mend repairs
// surfaces, fill counts overlaps once, tree looks facets up by place, smooth estimates
// what facets cut off, inset goes below the skin, carve takes prisms out. None is
// imported from here.
//
// # What holds everywhere
//
//  1. Coordinates are float64 millimetres. They entered as float32 from an STL
//     file and were multiplied by the unit that the caller gave, never by one
//     that was guessed.
//  2. Facets are counter-clockwise seen from outside, so a closed surface that
//     is the right way out has a positive volume. Signs are kept: a negative
//     volume means inside out.
//  3. Triangle i of a Mesh is facet i of its file, broken facets included, so
//     that a problem can be named by the number that other programs show
//     (messages count from 1, indices from 0).
//  4. Sums are taken about a point near the surface and compensated, so a result
//     does not depend on where the part sits.
//  5. Which side of a plane a vertex lies on is decided exactly.
//  6. Values go in and values come out: no function changes the Mesh it is given.
package mesh
