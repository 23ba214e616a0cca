package cool

import (
	"context"
	"math"

	"github.com/golang/geo/r3"
)

// Grid is a body in cells and what its wall is made of.
//
// Between two nodes heat flows through a whole face. Where a node has no neighbour
// along an axis, it flows to the wall, as far as that is along the axis: a profile
// that is linear from the wall is then in balance at every node, however the wall
// lies, which makes the whole second order (Shortley and Weller, J. Appl. Phys. 9
// (1938) 334; from memory). The contact lengthens that way by its thickness over the
// cosine between axis and wall.
type Grid struct {
	*cellSet
	contactMM float64

	wall  [][6]float64 // of each edge, by side: conductance to the wall, a face over a pitch being 1
	own   []float64    // of each unknown: how much of its volume has its temperature, the rest has the wall's
	start []float64    // of each unknown: what is left of the jump between melt and mold, see start.go
	plan  *plan
}

// NewGrid lays cells of pitchMM into a body, a node in the middle of its thickest
// place. The cost is about that of ten nearest points for each cell at the wall.
// Errors wrap ErrBody.
func (b *Body) NewGrid(ctx context.Context, pitchMM, contactMM float64) (*Grid, error) {
	return b.gridAt(ctx, pitchMM, contactMM, b.middle)
}

func (b *Body) gridAt(ctx context.Context, pitchMM, contactMM float64, node r3.Vector) (*Grid, error) {
	c, err := b.layCells(ctx, pitchMM, node)
	if err != nil {
		return nil, err
	}
	return c.grid(contactMM), ctx.Err()
}

// grid gives the cells a wall with a contact. The cells are not changed.
func (g *cellSet) grid(contactMM float64) *Grid {
	out := &Grid{cellSet: g, contactMM: contactMM}
	out.conduct()
	out.level()
	out.plan = out.makePlan()
	out.findStart()
	return out
}

// conduct finds what each way to the wall conducts. The contact is given what the
// lines of the lattice miss of the wall more.
func (g *Grid) conduct() {
	g.wall = make([][6]float64, len(g.edges))
	if math.IsInf(g.contactMM, 1) {
		return
	}
	for i := range g.edges {
		e := &g.edges[i]
		for side, arm := range e.arm {
			if arm == 0 {
				continue
			}
			if g.contactMM > 0 {
				arm += g.contactMM / g.h / (max(e.slope[side], 1e-9) * g.missed)
			}
			g.wall[i][side] = 1 / arm
		}
	}
}

// level finds how much of the heat of each unknown at the wall belongs to the wall's
// temperature: its volume lies less deep than its node, and the temperature falls
// nearly in proportion.
func (g *Grid) level() {
	g.own = make([]float64, len(g.cellOf))
	for u := range g.own {
		g.own[u] = 1
	}
	if contact := g.contactMM / g.h; !math.IsInf(contact, 1) {
		for _, c := range g.cutOff {
			g.own[c.u] = min((c.mean+contact)/(c.depth+contact), 1)
		}
	}
}
