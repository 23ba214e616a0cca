package layout

import (
	"fmt"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// Halves are both mold halves as closed solids, parted at height 0.
type Halves struct {
	Below, Above *mesh.Mesh
	// WithRunner tells that runner and gates are in them. Vents, pins and bolts are
	// not: they are drilled and cut along the drawing.
	WithRunner bool
}

// Halves returns the block with its cavities as hollows inside, runner and gates carved
// out, cut at the parting face, which caps what it cuts. Where runner or gates cannot
// be carved, say because a gate's wall runs along a facet of the bait, both are left
// out. The cost is a few passes over the facets of all cavities for each gate.
func (l *Plan) Halves(b *Bait) (*Halves, error) {
	solid := l.hollowBlock(b)
	h := &Halves{}
	if carved, err := l.carveFeed(solid, b); err == nil {
		solid, h.WithRunner = carved, true
	}
	var err error
	if h.Below, h.Above, err = solid.CutSolids(mesh.Plane{Normal: r3.Vector{Z: 1}}); err != nil {
		return nil, fmt.Errorf("%w: the halves: %w", ErrSize, err)
	}
	return h, nil
}

// hollowBlock is the block with its cavities as hollows. They do not touch.
func (l *Plan) hollowBlock(b *Bait) *mesh.Mesh {
	low, high := r3.Vector{Z: -l.HalvesMM[0]}, r3.Vector{X: l.BlockMM[0], Y: l.BlockMM[1], Z: l.HalvesMM[1]}
	solid := mesh.New(solids.Box(low, high))
	for _, c := range l.Places {
		first := int32(len(solid.Vertices))
		for _, v := range b.Mesh.Vertices {
			at := c.inBlock(v.X, v.Y)
			solid.Vertices = append(solid.Vertices, r3.Vector{X: at.X, Y: at.Y, Z: v.Z})
		}
		for _, t := range b.Mesh.Triangles { // inside out: a hollow
			solid.Triangles = append(solid.Triangles, [3]int32{first + t[0], first + t[2], first + t[1]})
		}
	}
	return solid
}
