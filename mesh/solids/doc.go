// Package solids draws closed bodies with known volumes, for tests of
// every package, and boxes for whoever needs one.
//
// A body is a list of corners in millimetres, three a facet, counter-clockwise
// seen from outside. Corners that belong together are equal to the last bit, so
// an exact weld closes every body drawn here. Curved bodies have their vertices
// on the true surface.
package solids
