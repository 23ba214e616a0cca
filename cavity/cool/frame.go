package cool

import (
	"context"
	"fmt"
	"math"
	"sync/atomic"

	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// frame is a lattice of nodes h apart round a body, each the middle of a cell.
type frame struct {
	h      float64
	origin r3.Vector // of node 0
	nx     int
	ny     int
	nz     int
}

// mostCells keeps the frame's arrays below 2 GB.
const mostCells = 60_000_000

// newFrame lays a lattice of pitch h with a node at a place round a body, with two
// empty cells all round.
func newFrame(b *Body, h float64, at r3.Vector) (frame, error) {
	box := b.mesh.Bounds()
	const margin = 2
	f := frame{h: h}
	count := 1.0
	along := func(lo, hi, at float64) (origin float64, n int) {
		first := math.Floor((lo-at)/h) - margin
		steps := math.Ceil((hi-at)/h) + margin - first + 1
		count *= steps
		return at + first*h, int(min(steps, mostCells))
	}
	f.origin.X, f.nx = along(box.Min.X, box.Max.X, at.X)
	f.origin.Y, f.ny = along(box.Min.Y, box.Max.Y, at.Y)
	f.origin.Z, f.nz = along(box.Min.Z, box.Max.Z, at.Z)
	if !(count <= mostCells) {
		return f, fmt.Errorf("%w: a grid of %.3g mm takes %.3g million cells round this model, more than %d; give a coarser one",
			ErrBody, h, count/1e6, mostCells/1_000_000)
	}
	return f, nil
}

func (f frame) cells() int { return f.nx * f.ny * f.nz }

// node returns where node c is.
func (f frame) node(c int) r3.Vector {
	i, j, k := f.split(c)
	return r3.Vector{X: f.origin.X + f.h*float64(i), Y: f.origin.Y + f.h*float64(j), Z: f.origin.Z + f.h*float64(k)}
}

func (f frame) split(c int) (i, j, k int) { return c % f.nx, c / f.nx % f.ny, c / (f.nx * f.ny) }

func (f frame) at(i, j, k int) int { return (k*f.ny+j)*f.nx + i }

// cellOf returns the cell that a place inside the box of the body is in.
func (f frame) cellOf(p r3.Vector) int {
	near := func(x, origin float64, n int) int {
		return min(max(int((x-origin)/f.h+0.5), 0), n-1)
	}
	return f.at(near(p.X, f.origin.X, f.nx), near(p.Y, f.origin.Y, f.ny), near(p.Z, f.origin.Z, f.nz))
}

// clearAround zeroes the values within so many cells of one.
func (f frame) clearAround(values []float64, c, reach int) {
	i, j, k := f.split(c)
	for z := max(k-reach, 0); z <= min(k+reach, f.nz-1); z++ {
		for y := max(j-reach, 0); y <= min(j+reach, f.ny-1); y++ {
			for x := max(i-reach, 0); x <= min(i+reach, f.nx-1); x++ {
				values[f.at(x, y, z)] = 0
			}
		}
	}
}

// crossing is where a line goes in or out of a body.
type crossing struct {
	at    float64 // along the line, in cells from its first node
	slope float64 // cosine between the line and the wall's normal there, positive
	in    bool
}

// mostTries bounds how often a line is put elsewhere because it went through an
// edge, which counts both facets there.
const mostTries = 8

// crossings returns where a line of nodes enters and leaves the body, and whether
// what it crosses adds up. Solids in each other count as one.
func (b *Body) crossings(from, along r3.Vector, h float64, list []crossing) ([]crossing, bool) {
	aside := r3.Vector{X: along.Y + along.Z*math.Sqrt2/2, Y: along.Z + along.X*math.Sqrt2/2, Z: along.X + along.Y*math.Sqrt2/2}
	for try := range mostTries {
		start := from.Add(aside.Mul(h * 1e-7 * float64(try*try+1))).Sub(along.Mul(h))
		list = list[:0]
		depth := 0
		for _, hit := range b.all.Ray(start, along) {
			was := depth
			if depth--; hit.Inward {
				depth += 2
			}
			if (was > 0) != (depth > 0) {
				p, q, r := b.mesh.Corners(hit.Facet)
				normal := q.Sub(p).Cross(r.Sub(p)).Normalize()
				list = append(list, crossing{at: hit.DistanceMM/h - 1, slope: math.Abs(normal.Dot(along)), in: depth > 0})
			}
		}
		if depth == 0 && len(list)%2 == 0 {
			return list, true
		}
	}
	return nil, false
}

// insideNodes says which nodes of a lattice are inside, from the crossings of its
// rows along x.
func (b *Body) insideNodes(ctx context.Context, f frame) ([]bool, error) {
	inside := make([]bool, f.cells())
	var broken atomic.Int64
	parallel.Blocks(f.ny*f.nz, 16, func(_, from, to int) {
		var list []crossing
		for row := from; row < to && ctx.Err() == nil; row++ {
			var ok bool
			if list, ok = b.crossings(f.node(row*f.nx), r3.Vector{X: 1}, f.h, list); !ok {
				broken.Store(int64(row) + 1)
			}
			for i := 0; i+1 < len(list); i += 2 {
				for x := max(0, int(math.Ceil(list[i].at))); x < f.nx && float64(x) < list[i+1].at; x++ {
					inside[row*f.nx+x] = true
				}
			}
		}
	})
	if row := int(broken.Load()); row > 0 {
		return nil, b.notClosed(f.node((row - 1) * f.nx))
	}
	return inside, ctx.Err()
}

func (b *Body) notClosed(at r3.Vector) error {
	p := b.back(at)
	return fmt.Errorf("%w: the model is not closed along a line through (%.3g, %.3g, %.3g)", ErrBody, p.X, p.Y, p.Z)
}
