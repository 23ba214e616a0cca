package layout

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/carve"
	"bellyline/mesh/tree"
)

const (
	// boreSides is how many flat sides stand for a round bore; its area is that of the
	// circle.
	boreSides = 16
	// carveTries is how often a bore that runs along a facet is moved by a hair, and
	// carveHairMM by how much: far less than a cutter is off.
	carveTries  = 5
	carveHairMM = 0.003
)

// carveFeed carves the runner and then the gates out of the block. Errors wrap
// carve.ErrCarve.
func (l *Plan) carveFeed(solid *mesh.Mesh, b *Bait) (*mesh.Mesh, error) {
	const before = 2 // mm that the cutter begins before the block
	runner := l.Runner
	axis := r3.Vector{Y: l.AxisMM}
	solid, err := carveBore(solid, axis.Add(r3.Vector{X: -before}), axis.Add(r3.Vector{X: runner.LengthMM}), runner.DiameterMM)
	if err != nil {
		return nil, err
	}
	for i, c := range l.Places {
		bore := runner.GatesMM[i/l.Rows]
		// It begins well inside the runner, on its own side of the axis.
		start := c.inBlock(0, -runner.DiameterMM*0.4-(runner.LandMM-b.MouthMM))
		end := c.inBlock(0, b.gateDepth(bore))
		if solid, err = carveBore(solid, r3.Vector{X: start.X, Y: start.Y}, r3.Vector{X: end.X, Y: end.Y}, bore); err != nil {
			return nil, err
		}
	}
	return solid, nil
}

// carveBore carves a round bore, a hair wider where it meets facets badly.
func carveBore(solid *mesh.Mesh, from, to r3.Vector, diameter float64) (carved *mesh.Mesh, err error) {
	for try := range carveTries {
		if carved, err = carve.Solid(solid, bore(from, to, diameter+carveHairMM*float64(try))); err == nil {
			return carved, nil
		}
	}
	return nil, err
}

// bore is a level bore with a flat side, not an edge, where the parting face cuts it.
func bore(from, to r3.Vector, diameter float64) carve.Prism {
	const turn = 2 * math.Pi / boreSides
	radius := diameter / 2 * math.Sqrt(turn/math.Sin(turn))
	across := to.Sub(from).Normalize().Cross(r3.Vector{Z: 1})
	var p carve.Prism
	for k := range boreSides {
		s, c := math.Sincos((float64(k) + 0.5) * turn)
		d := across.Mul(radius * c).Add(r3.Vector{Z: radius * s})
		p.Ends[0], p.Ends[1] = append(p.Ends[0], from.Add(d)), append(p.Ends[1], to.Add(d))
	}
	return p
}

// gateDepth is how far a gate goes along the bait: until all of its bore opens into the
// cavity, but no farther past the mouth than it is wide.
func (b *Bait) gateDepth(bore float64) float64 {
	const step = 0.1 // mm
	tree := tree.New(b.Mesh)
	most := b.MouthMM + bore
	for y := b.MouthMM + step; y < most; y += step {
		open := true
		for _, share := range [...]float64{-0.95, -0.7, 0, 0.7, 0.95} {
			high := bore / 2 * math.Sqrt(1-share*share)
			low, top := reachAt(tree, r2.Point{X: share * bore / 2, Y: y}, b)
			open = open && top >= high && low <= -high
		}
		if open {
			return y
		}
	}
	return most
}

// reachAt is from where to where the bait reaches along the pull at a place.
func reachAt(tree *tree.Tree, at r2.Point, b *Bait) (low, top float64) {
	start := -b.BelowMM - 1
	hits := tree.Ray(r3.Vector{X: at.X, Y: at.Y, Z: start}, r3.Vector{Z: 1})
	if len(hits) == 0 {
		return 0, 0
	}
	return start + hits[0].DistanceMM, start + hits[len(hits)-1].DistanceMM
}
