package mend

import (
	"math"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/exact"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
)

// menderLimits are the lengths and the volume by which mends are decided.
type menderLimits struct {
	tolerance float64 // mm
	size      float64 // mm, of the bulk
	hole      float64 // mm
	// harmless is the volume in mm^3 that the rounding of the file can be worth: the
	// area times half a float32 step, but no more than harmlessPart of the size
	// cubed, so that a corner far off does not excuse anything.
	harmless float64
}

const (
	harmlessPart = 1e-6
	// finestTolerance is the least tolerance in parts of the size; a grid of cells
	// that small still has numbers that fit into 32 bits.
	finestTolerance = 1e-8
)

func limitsFor(m *mesh.Mesh, opts Options) menderLimits {
	box := m.Bounds()
	size := bulkSize(m, box)
	l := menderLimits{tolerance: opts.ToleranceMM, size: size, hole: opts.HoleMM}
	if l.tolerance == 0 {
		l.tolerance = tolerancePart * size
	}
	l.tolerance = max(l.tolerance, finestTolerance*box.Diagonal())
	if l.hole == 0 {
		l.hole = holePart * size
	}
	var area exact.Sum
	for t := range m.Triangles {
		area = area.Plus(m.AreaOf(t))
	}
	l.harmless = min(area.Value()*box.Float32Step()/2, harmlessPart*size*size*size)
	return l
}

// bulkSize is the diagonal of the box, but at most ten times that of the box
// round the middle 98 % of the vertices along each axis, as a sample of them
// tells: one corner with a wrong exponent must not make every length look small.
func bulkSize(m *mesh.Mesh, box mesh.Box) float64 {
	const sample = 4096
	step := max(1, len(m.Vertices)/sample)
	var bulk r3.Vector
	for axis, width := range []*float64{&bulk.X, &bulk.Y, &bulk.Z} {
		var along []float64
		for v := 0; v < len(m.Vertices); v += step {
			p := m.Vertices[v]
			along = append(along, vector.XYZ(p)[axis])
		}
		slices.Sort(along)
		cut := len(along) / 100
		if len(along) > 0 {
			*width = along[len(along)-1-cut] - along[cut]
		}
	}
	return math.Min(box.Diagonal(), 10*bulk.Norm())
}
