// Package shells draws invented baits made of many closed shells that are sunk into
// each other, as sculpting programs leave them: a body with fins, eyes, teeth, legs
// and strings. Tests, benchmarks and mutants share them. Nothing is measured from a
// real bait.
//
//	go run ./testdata/shells/draw DIR      writes all of them as binary STL
//
// Each shell is closed, faces outward and crosses none of its own facets. Corners lie
// on a grid of 2^-16 mm, so that float32 keeps them exactly below 256 mm, and the
// models come out the same on every machine.
package shells
