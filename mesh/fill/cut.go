package fill

import (
	"cmp"
	"context"
	"sync"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/outline"
)

// Cut is mesh.Mesh.Cut for a surface whose shells overlap: all numbers are those of
// what fills, which is where the winding number is 1 or more. Loops are left as
// that gives them, each shell's own; they may cross.
//
// Cost: three times Volume, and for the outline the square of the number of
// crossing points of the section.
func Cut(ctx context.Context, m *mesh.Mesh, p mesh.Plane) (*mesh.Cut, error) {
	cut, err := m.Cut(p)
	if err != nil {
		return nil, err
	}
	below, above, err := m.CutSolids(p)
	if err != nil {
		return nil, err
	}
	if cut.Below, cut.Above, cut.SectionAreaMM2, err = Parts(ctx, m, below, above); err != nil {
		return nil, err
	}
	cut.OutlineMM, cut.Pieces = outline.Joined(flatten(p, cut.Loops))
	return cut, nil
}

// Below returns the volume below a plane as Cut does, and nothing else: a
// third of its cost.
func Below(ctx context.Context, m *mesh.Mesh, p mesh.Plane) (float64, error) {
	below, _, err := m.CutSolids(p)
	if err != nil {
		return 0, err
	}
	fill, err := Volume(ctx, below)
	return fill.VolumeMM3, err
}

// Parts measures two closed bodies into which the mesh was cut, along a plane or
// any other surface: volumes and skins of what fills, without centroids, and the
// area in which they join. What lies in the cut is the skin that both have and the
// whole has not. Cost: three times Volume.
func Parts(ctx context.Context, m *mesh.Mesh, below, above *mesh.Mesh) (low, high mesh.Part, joinedMM2 float64, err error) {
	var fills [3]Fill
	var errs [3]error
	var all sync.WaitGroup
	for i, part := range [3]*mesh.Mesh{m, below, above} {
		all.Go(func() { fills[i], errs[i] = Volume(ctx, part) })
	}
	all.Wait()
	if err = cmp.Or(errs[:]...); err != nil {
		return low, high, 0, err
	}
	// A cut across which nothing overlaps leaves a rounding error here.
	joinedMM2 = max(0, fills[1].AreaMM2+fills[2].AreaMM2-fills[0].AreaMM2) / 2
	low = mesh.Part{VolumeMM3: fills[1].VolumeMM3, OutsideMM2: fills[1].AreaMM2 - joinedMM2}
	high = mesh.Part{VolumeMM3: fills[2].VolumeMM3, OutsideMM2: fills[2].AreaMM2 - joinedMM2}
	return low, high, joinedMM2, nil
}

// flatten gives loops places in the plane: right-handed seen from above.
func flatten(p mesh.Plane, loops [][]r3.Vector) [][]r2.Point {
	n := p.Normal.Normalize()
	east := n.Ortho()
	north := n.Cross(east)
	flat := make([][]r2.Point, len(loops))
	for i, loop := range loops {
		for _, v := range loop {
			flat[i] = append(flat[i], r2.Point{X: east.Dot(v), Y: north.Dot(v)})
		}
	}
	return flat
}
