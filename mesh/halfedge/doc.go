// Package halfedge finds out how the facets of a surface hang together. It knows a
// surface as triples of vertex numbers only: where the vertices are is no question of
// it, so that every room of mesh can stand on it.
//
// Survey says what is out of order; Table finds the facets at each edge, Sets joins
// what belongs together, and AllBalanced says in one pass whether a surface is closed
// and oriented.
package halfedge
