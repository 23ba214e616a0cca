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
	fill.Fill
	MovedMM float64 // how far corners of Mesh may be from where facets cross
}

// Of returns the solid that a balanced surface encloses. Errors are those of fill.Volume.
func Of(ctx context.Context, m *mesh.Mesh) (Solid, error) {
	f, err := fill.Volume(ctx, m)
	return Solid{Mesh: m, Fill: f}, err
}

// OfChecked is Of for a mesh whose check and moments are at hand.
func OfChecked(ctx context.Context, m *mesh.Mesh, report *mesh.Report, moments mesh.Moments) (Solid, error) {
	f, err := fill.VolumeChecked(ctx, m, report, moments)
	return Solid{Mesh: m, Fill: f}, err
}
