// Package union makes one clean surface of any closed one: the boundary of where the
// winding number is 1 or more.
package union

import (
	"context"

	"bellyline/mesh"
	"bellyline/mesh/fill"
)

// Solid is what a closed surface encloses, counted once, and its boundary.
type Solid struct {
	// Mesh is the boundary of what is enclosed: closed, oriented, no two facets
	// crossing. It is the mesh that was given where no shells cross or overlap.
	Mesh *mesh.Mesh

	SignedMM3   float64 // sum over shells, voids subtracted
	VolumeMM3   float64 // where the winding number is 1 or more
	OverlapMM3  float64 // what SignedMM3 counts more than once
	NegativeMM3 float64 // what SignedMM3 subtracts where nothing is
	AreaMM2     float64 // of the skin of what is enclosed
	ErrorMM3    float64 // bounds the error of VolumeMM3
	MovedMM     float64 // how far corners of Mesh may be from where facets cross
	Crossings   int     // pairs of facets that go through each other
	Overlaps    []Overlap
}

// Overlap is a place where a surface encloses something more than once.
type Overlap = fill.Overlap

// Errors of Of besides mesh.ErrNotClosed, for errors.Is.
var (
	ErrInsideOut = fill.ErrInsideOut // a surface, or a part of it worth speaking of, is the wrong way out
	ErrWinding   = fill.ErrWinding   // no winding number can be given to the space beside some facets
)

// Of returns the solid that a balanced surface encloses. Errors wrap those above,
// mesh.ErrNotClosed, or are ctx's.
func Of(ctx context.Context, m *mesh.Mesh) (Solid, error) {
	f, err := fill.Volume(ctx, m)
	return solid(m, f), err
}

// OfChecked is Of for a mesh whose check is at hand.
func OfChecked(ctx context.Context, m *mesh.Mesh, report *mesh.Report) (Solid, error) {
	f, err := fill.VolumeChecked(ctx, m, report, m.Moments())
	return solid(m, f), err
}

// Crossings counts the pairs of facets that go through each other, and names the
// first few.
func Crossings(ctx context.Context, m *mesh.Mesh) (pairs int, places []mesh.Place, err error) {
	return fill.Crossings(ctx, m)
}

func solid(m *mesh.Mesh, f fill.Fill) Solid {
	return Solid{
		Mesh: m, SignedMM3: f.SignedMM3, VolumeMM3: f.VolumeMM3, OverlapMM3: f.OverlapMM3, NegativeMM3: f.NegativeMM3,
		AreaMM2: f.AreaMM2, ErrorMM3: f.ErrorMM3, Crossings: f.Crossings, Overlaps: f.Overlaps,
	}
}
