package cool

// stepShare is the step in time over pitch squared by diffusivity. Up to 1/6 no
// temperature can leave the range of its neighbours; 1/7 keeps away from where
// even and odd nodes part, and its error in time takes most of that in space away.
const stepShare = 1.0 / 7

// plan is how the unknowns are stepped in time: runs of whole cells, and one by one
// what is cut by the wall.
type plan struct {
	runs   []run
	cuts   []cut
	blocks []block // of the work, in a fixed order
}

// run is whole cells along x, all of whose neighbours are whole as well.
type run struct {
	first, count int32
	ym, yp       int32 // where the neighbours of the first one are
	zm, zp       int32
}

// cut is an unknown with its own shares.
type cut struct {
	u     int32
	next  [6]int32   // neighbours; itself where there is none
	share [3]float64 // by axis: of the difference to a neighbour that one step brings
	wall  float64    // of the difference to the wall that one step brings
}

// block is what one goroutine takes at once: unknowns in their order, so that those
// at the wall find their neighbours still at hand.
type block struct{ first, end, run, runEnd, cut, cutEnd int32 }

// makePlan sorts the unknowns into runs and cuts.
func (g *Grid) makePlan() *plan {
	p := &plan{}
	whole := make([]bool, len(g.cellOf))
	for u := range g.cellOf {
		whole[u] = g.volume[u] == 1 && g.surrounded(u)
	}
	for u := 0; u < len(whole); {
		if !whole[u] {
			p.cuts = append(p.cuts, g.cutOf(int32(u)))
			u++
			continue
		}
		end := u + 1
		for end < len(whole) && whole[end] && g.cellOf[end] == g.cellOf[end-1]+1 {
			end++
		}
		c := int(g.cellOf[u])
		p.runs = append(p.runs, run{
			first: int32(u), count: int32(end - u),
			ym: g.owner[c-g.nx], yp: g.owner[c+g.nx], zm: g.owner[c-g.nx*g.ny], zp: g.owner[c+g.nx*g.ny],
		})
		u = end
	}
	p.cutBlocks()
	return p
}

// surrounded says whether all six neighbours are unknowns.
func (g *cellSet) surrounded(u int) bool {
	c := int(g.cellOf[u])
	for _, step := range g.strides() {
		if !g.active[c-step] || !g.active[c+step] {
			return false
		}
	}
	return true
}

func (g *Grid) cutOf(u int32) cut {
	c := int(g.cellOf[u])
	k := cut{u: u}
	weight := g.weights(u)
	wall, sum := 0.0, 0.0
	for axis, step := range g.strides() {
		k.share[axis] = stepShare / weight[axis]
		for side, o := range [2]int{c - step, c + step} {
			n := 2*axis + side
			k.next[n] = u
			if g.active[o] {
				k.next[n] = g.owner[o]
				sum += k.share[axis]
			} else if e := g.edge[u]; e >= 0 {
				wall += stepShare * g.wall[e][n] / weight[axis]
			}
		}
	}
	if sum > 1 { // no temperature may leave the range of its neighbours
		for n := range k.share {
			k.share[n] /= sum
		}
		wall /= sum
	}
	// Implicit, so that a near wall does not ask for short steps.
	k.wall = wall / (1 + wall)
	return k
}

// weights returns what the flow along each axis is divided by, in cells. Insulated,
// that is the volume of the cell. At a wall that is held at its temperature it is
// the way from the middle of one arm to the middle of the other, which makes the
// second derivative right for any parabola. In between, the wall's own share of the
// resistance counts: along a line at right angles to a flat wall, a parabola that
// fits a contact of thickness d at a distance a asks for a + 1/2 - a/2 a/(a+d), and
// the volume there is a + 1/2.
func (g *Grid) weights(u int32) [3]float64 {
	v := g.volume[u]
	if v == 1 && g.edge[u] < 0 {
		return [3]float64{1, 1, 1}
	}
	e := edge{}
	held := 1 / (1 + g.contactMM/g.h) // share of the nearest way's resistance that lies in plastic
	if n := g.edge[u]; n >= 0 {
		e = g.edges[n]
		held = 0
		for side, arm := range e.arm {
			held = max(held, arm*g.wall[n][side])
		}
	}
	var w [3]float64
	for axis := range w {
		length := 0.0
		for _, arm := range e.arm[2*axis : 2*axis+2] {
			if arm == 0 {
				arm = 1
			}
			length += arm / 2
		}
		w[axis] = (1-held)*v + held*length
	}
	return w
}

// cutBlocks parts the work: a cut takes about as long as six whole cells.
func (p *plan) cutBlocks() {
	const aBlock = 16384
	const weight = 6
	b, work := block{}, 0
	for int(b.runEnd) < len(p.runs) || int(b.cutEnd) < len(p.cuts) {
		if int(b.cutEnd) < len(p.cuts) && p.cuts[b.cutEnd].u == b.end {
			b.end++
			b.cutEnd++
			work += weight
		} else {
			count := p.runs[b.runEnd].count
			b.end += count
			b.runEnd++
			work += int(count) + 4
		}
		if work >= aBlock {
			p.blocks = append(p.blocks, b)
			b, work = block{b.end, b.end, b.runEnd, b.runEnd, b.cutEnd, b.cutEnd}, 0
		}
	}
	if work > 0 {
		p.blocks = append(p.blocks, b)
	}
}
