package stl

import (
	"math"
	"runtime"
	"sync"

	"bellyline/mesh"
	"bellyline/mesh/internal/hugepages"
	"bellyline/mesh/internal/weld"
	"bellyline/mesh/parallel"

	"github.com/golang/geo/r3"
)

// A span is a run of a file's facets that one worker reads and welds by
// itself. The spans of a file are then numbered together: what comes out is
// what one worker would have made of the whole.
type span struct {
	run        func(*span) error // fills points, triangles and oddNormals
	points     []weld.Corner     // distinct corners in the order of their first use
	find       *weld.Welder      // finds the number of one of points
	box        pointBox          // around points, of all spans but the last
	triangles  [][3]int32        // of numbers in points
	oddNormals int
	err        error

	owner  []uint8 // by point: the first span that has it
	number []int32 // by point: its number in the owner, then in the whole
}

const (
	// mostWorkers bounds how many spans there are: each looks its points up in
	// all before it.
	mostWorkers = 8
	// workerBytes is how much of a file is worth another worker.
	workerBytes = 1 << 18
	// blockPoints is how many points or facets are worth handing out.
	blockPoints = 1 << 14
)

// workersFor returns into how many spans a file is split.
func workersFor(size int64) int {
	return int(max(1, min(int64(runtime.GOMAXPROCS(0)), mostWorkers, size/workerBytes)))
}

// closedVertices returns room for the vertices of so many facets of a closed
// surface, half as many (Euler), and of the rim that a part of one has.
func closedVertices(facets int) int { return facets/2 + facets/64 + 16 }

// assemble runs the spans, which are in the order of the file, and puts them
// together in model, whose mesh may have room for the triangles already. Of
// several errors it returns the first in the file.
func (j *job) assemble(model *Model, spans []span, unit Unit) (*Model, error) {
	var wait sync.WaitGroup
	for k := range spans {
		wait.Go(func() {
			s := &spans[k]
			if s.err = s.run(s); s.err == nil && k+1 < len(spans) {
				s.box = boxOf(s.points)
			}
		})
	}
	wait.Wait()
	facets, oddNormals := 0, 0
	for _, s := range spans {
		if s.err != nil {
			return nil, s.err
		}
		facets += len(s.triangles)
		oddNormals += s.oddNormals
	}
	switch {
	case facets == 0:
		return nil, errNoFacet()
	case facets > mostFacets:
		return nil, errTooMany(int64(facets))
	}
	if oddNormals > 0 {
		model.Notes = append(model.Notes, noteOnNormals(oddNormals))
	}
	points := j.number(spans)
	if err := j.ctx.Err(); err != nil {
		return nil, err
	}
	if hash := join(model.Mesh, spans, facets, points, unit); hash != 0 {
		closeCracks(model)
	}
	return model, j.ctx.Err()
}

// number gives each point its number in the whole and returns how many there
// are. Points of the first span keep theirs, then come those of the second
// that the first does not have, and so on, which is the order of their first use
// in the file.
func (j *job) number(spans []span) int {
	next := len(spans[0].points)
	for k := 1; k < len(spans); k++ {
		s := &spans[k]
		s.owner = hugepages.Make[uint8](len(s.points))
		s.number = hugepages.Make[int32](len(s.points))
		parallel.Blocks(len(s.points), blockPoints, func(_, from, to int) {
			if j.ctx.Err() == nil {
				s.findOwners(spans[:k], from, to)
			}
		})
		for i, owner := range s.owner {
			switch {
			case int(owner) == k:
				s.number[i] = int32(next)
				next++
			case owner > 0:
				s.number[i] = spans[owner].number[s.number[i]]
			}
		}
	}
	return next
}

// findOwners looks points up in the spans before theirs.
func (s *span) findOwners(before []span, from, to int) {
	var b weld.Batch
	for i := from; i < to; i++ {
		s.owner[i] = uint8(len(before))
	}
	for k := range before {
		for i := from; i < to; {
			var picked [weld.BatchCorners]int32
			n := 0
			for ; i < to && n < weld.BatchCorners; i++ {
				if c := &s.points[i]; int(s.owner[i]) == len(before) && before[k].box.has(c) {
					b.Tags[n], picked[n] = c.Tag(), int32(i)
					n++
				}
			}
			b.Touch(before[k].find, n)
			for j, i := range picked[:n] {
				if at := before[k].find.FindTagged(&s.points[i], b.Tags[j]); at >= 0 {
					s.owner[i], s.number[i] = uint8(k), at
				}
			}
		}
	}
}

// pointBox is a box around points, of coordinates as a file has them.
type pointBox struct{ low, high [3]float32 }

// boxOf returns the box around points. The facets of most files go from one end
// of the body to the other or shell by shell, so that the boxes of spans hardly
// meet and few points need to be looked up.
func boxOf(points []weld.Corner) pointBox {
	inf := float32(math.Inf(1))
	b := pointBox{low: [3]float32{inf, inf, inf}, high: [3]float32{-inf, -inf, -inf}}
	for i := range points {
		for k, u := range &points[i] {
			x := math.Float32frombits(u)
			if x < b.low[k] {
				b.low[k] = x
			}
			if x > b.high[k] {
				b.high[k] = x
			}
		}
	}
	return b
}

// has reports whether the point is in the box.
func (b *pointBox) has(c *weld.Corner) bool {
	x, y, z := math.Float32frombits(c[0]), math.Float32frombits(c[1]), math.Float32frombits(c[2])
	return x >= b.low[0] && x <= b.high[0] && y >= b.low[1] && y <= b.high[1] && z >= b.low[2] && z <= b.high[2]
}

// join writes the triangles and vertices of all spans by their numbers in the
// whole, and returns the hash of the edges.
func join(m *mesh.Mesh, spans []span, facets, points int, unit Unit) (hash uint64) {
	m.Vertices = hugepages.Make[r3.Vector](points)
	if m.Triangles == nil && len(spans) == 1 {
		m.Triangles = spans[0].triangles
	}
	if m.Triangles == nil {
		m.Triangles = hugepages.Make[[3]int32](facets)
	}
	at := 0
	for k := range spans {
		s := &spans[k]
		triangles := m.Triangles[at:][:len(s.triangles)]
		at += len(triangles)
		parallel.Blocks(len(s.points), blockPoints, func(_, from, to int) {
			s.place(m.Vertices, k, from, to, unit)
		})
		hashes := make([]uint64, len(triangles)/blockPoints+1)
		parallel.Blocks(len(triangles), blockPoints, func(block, from, to int) {
			hashes[block] = s.renumber(triangles[from:to], from)
		})
		for _, h := range hashes {
			hash ^= h
		}
	}
	return hash
}

// place writes the vertices that span k is the first to have.
func (s *span) place(vertices []r3.Vector, k, from, to int, unit Unit) {
	for i := from; i < to; i++ {
		switch {
		case k == 0:
			vertices[i] = unit.position(&s.points[i])
		case int(s.owner[i]) == k:
			vertices[s.number[i]] = unit.position(&s.points[i])
		}
	}
}

// renumber writes the triangles from one on by their numbers in the whole and
// returns the hash of their edges.
func (s *span) renumber(triangles [][3]int32, from int) uint64 {
	local := s.triangles[from:][:len(triangles)]
	if s.number == nil {
		copy(triangles, local)
	} else {
		for i, t := range local {
			triangles[i] = [3]int32{s.number[t[0]], s.number[t[1]], s.number[t[2]]}
		}
	}
	return edgesHash(triangles)
}
