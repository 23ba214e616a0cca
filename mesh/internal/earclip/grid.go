package earclip

import (
	"math"

	"github.com/golang/geo/r2"
)

// grid finds places by where they are: square-ish cells over a box, about one
// place a cell, each cell a linked list.
type grid struct {
	origin        r2.Point
	perX, perY    float64 // cells per unit of length
	columns, rows int
	head          []int32 // first entry of a cell, -1 for none
	entries       []gridEntry
}

type gridEntry struct{ place, next int32 }

// newGrid makes an empty grid over the points, fit for count entries.
func newGrid(points []r2.Point, count int) grid {
	box := r2.RectFromPoints(points...)
	side := min(max(1, int(math.Sqrt(float64(count)))), 1<<10)
	g := grid{origin: box.Lo(), columns: side, rows: side, head: make([]int32, side*side)}
	if w := box.X.Length(); w > 0 {
		g.perX = float64(side) / w
	}
	if h := box.Y.Length(); h > 0 {
		g.perY = float64(side) / h
	}
	for i := range g.head {
		g.head[i] = -1
	}
	return g
}

func (g *grid) column(x float64) int {
	return min(max(0, int((x-g.origin.X)*g.perX)), g.columns-1)
}

func (g *grid) row(y float64) int { return min(max(0, int((y-g.origin.Y)*g.perY)), g.rows-1) }

func (g *grid) insert(place int32, at r2.Point) {
	cell := g.row(at.Y)*g.columns + g.column(at.X)
	g.entries = append(g.entries, gridEntry{place, g.head[cell]})
	g.head[cell] = int32(len(g.entries)) - 1
}

// any reports whether hit is true for some place in the cells that box meets.
func (g *grid) any(box r2.Rect, hit func(place int32) bool) bool {
	c0, c1 := g.column(box.X.Lo), g.column(box.X.Hi)
	for r, r1 := g.row(box.Y.Lo), g.row(box.Y.Hi); r <= r1; r++ {
		for c := c0; c <= c1; c++ {
			for e := g.head[r*g.columns+c]; e >= 0; e = g.entries[e].next {
				if hit(g.entries[e].place) {
					return true
				}
			}
		}
	}
	return false
}
