package layout

import (
	"fmt"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// Halves returns both mold halves as closed solids: the block with its cavities as
// hollows inside, cut at the parting face, which caps what it cuts. Cavities do not
// touch, so nothing has to be joined. Runner, gates, vents and pins are not in them:
// they are cut by hand along the drawing.
func (l *Plan) Halves(b *Bait) (below, above *mesh.Mesh, err error) {
	corners := boxCorners(l.BlockMM[0], l.BlockMM[1], -l.HalvesMM[0], l.HalvesMM[1])
	solid := mesh.New(corners)
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
	below, above, err = solid.CutSolids(mesh.Plane{Normal: r3.Vector{Z: 1}})
	if err != nil {
		return nil, nil, fmt.Errorf("%w: the halves: %w", ErrSize, err)
	}
	return below, above, nil
}

// boxCorners draws a box from (0, 0, low) to (x, y, high), facets outward.
func boxCorners(x, y, low, high float64) []r3.Vector {
	var corners []r3.Vector
	at := func(i, j, k float64) r3.Vector { return r3.Vector{X: i * x, Y: j * y, Z: low + k*(high-low)} }
	quad := func(a, b, c, d r3.Vector) { corners = append(corners, a, b, c, a, c, d) }
	quad(at(0, 0, 0), at(0, 1, 0), at(1, 1, 0), at(1, 0, 0))
	quad(at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1))
	quad(at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1))
	quad(at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1))
	quad(at(1, 1, 0), at(0, 1, 0), at(0, 1, 1), at(1, 1, 1))
	quad(at(0, 1, 0), at(0, 0, 0), at(0, 0, 1), at(0, 1, 1))
	return corners
}
