package hollow

import (
	"math"

	"github.com/golang/geo/r2"

	"bellyline/mesh/vector"
)

// How many cells of a grid lie along the longest side of a hollow. A gate that is
// narrower than a cell shows as a neck or as a gap; then the grid is made finer,
// until the narrowest neck has some cells.
const (
	fewCells  = 240
	mostCells = 1600
	neckCells = 3 // of clearance, so twice that wide
)

// partsOf cuts one hollow at its gates.
func (h *Half) partsOf(p *piece) []part {
	v := h.view
	if v.isRoundHole(p) {
		return []part{{piece: p, kind: Hole}}
	}
	b := v.basinsOf(p, fewCells)
	if finer := b.cellsNeeded(fewCells); finer > fewCells {
		b = v.basinsOf(p, finer)
	}
	if len(b.list) == 0 {
		return []part{{piece: p, kind: Cavity, depths: b.d}}
	}
	n := b.rolesOf()
	gates := n.gates()
	if len(gates) == 0 {
		return []part{{piece: p, kind: v.kindOfOne(p, n), depths: b.d}}
	}
	return h.cutAtGates(p, n, gates)
}

// basinsOf parts a hollow at its necks on a grid of so many cells.
func (v *view) basinsOf(p *piece, cells int) *basins {
	d, through := v.depths(p, cells)
	beyond, ways := d.beyondMouths(v.mouths(p))
	if len(through) > 0 {
		ways = append(ways, through)
	}
	return partAtNecks(d, d.clearance(beyond), ways)
}

// cellsNeeded is how many cells there should be for the narrowest neck to be seen.
func (b *basins) cellsNeeded(now int) int {
	least := math.Inf(1)
	for _, k := range b.necks {
		least = min(least, k.clearance/b.d.CellMM)
	}
	if len(b.necks) < len(b.list)-1 { // what hangs together fell apart
		return mostCells
	}
	if least >= neckCells {
		return now
	}
	return min(mostCells, int(float64(now)*neckCells/max(least, 0.5)))
}

// mostThrough is the share of its opening from which a hollow with a hole in its
// floor is a through hole, and not a cavity with a drain.
const mostThrough = 0.3

// kindOfOne names a hollow without gates.
func (v *view) kindOfOne(p *piece, n network) Kind {
	at := v.farOpening(p)
	switch {
	case p.rim.sides+p.rim.slopes > 0:
		if n.runner[0] {
			return Runner
		}
	case at > mostThrough*p.opening:
		return Hole
	}
	return Cavity
}

// farOpening is the area of a piece's openings in the face behind, mm2.
func (v *view) farOpening(p *piece) float64 {
	area := 0.0
	for _, l := range p.loops {
		for _, s := range v.stretches(l) {
			if s.what != down {
				continue
			}
			for i := 1; i+1 < len(s.corners); i++ {
				area -= v.shadow(s.corners[0], s.corners[i], s.corners[i+1])
			}
		}
	}
	return area
}

// cutAtGates cuts a hollow at each gate and measures what comes apart. All parts
// are measured from the hollow's own rim, so that they add up to it.
func (h *Half) cutAtGates(p *piece, n network, gates []neck) []part {
	v := h.view
	var cuts []cutGate
	for _, g := range gates {
		line, section, ok := v.placeGate(v.rimsOf(p), n.basins, g)
		if !ok {
			at := n.d.middle(g.saddle)
			h.warn("the neck at (%.1f, %.1f) mm could not be cut: what it joins is given as one hollow", at.X, at.Y)
			continue
		}
		corner := v.cut(section, line)
		cuts = append(cuts, cutGate{section, line, corner})
		// What the cut added belongs to the piece until all gates are cut.
		p = v.remade(p)
	}
	pieces := v.separate(p)
	var list []part
	for _, q := range pieces {
		one := part{piece: q, kind: Cavity, depths: n.d.only(v, q)}
		for _, c := range cuts {
			switch v.sideOfGate(q, c) {
			case -1: // the runner's side of a gate
				one.kind = Runner
				fallthrough
			case 1:
				one.gates = append(one.gates, c)
			}
		}
		list = append(list, one)
	}
	return list
}

// remade gathers a piece's facets again after a cut.
func (v *view) remade(p *piece) *piece {
	q := &piece{facets: p.facets}
	for t := int32(v.cutFrom); t < int32(len(v.label)); t++ {
		q.facets = append(q.facets, t)
	}
	v.cutFrom = len(v.label)
	q.loops = v.loopsOf(q.facets)
	q.rimMM = p.rimMM
	return q
}

// separate returns the parts that facets fall into, measured from one rim.
func (v *view) separate(p *piece) []*piece {
	seen := make([]bool, len(v.label))
	var list []*piece
	for _, t := range p.facets {
		if !seen[t] {
			q := v.connected(t, seen)
			v.measureFrom(q, p.rimMM)
			list = append(list, q)
		}
	}
	return list
}

// sideOfGate returns -1 for a part before a gate, 1 for one behind it, where the
// cavity is, and 0 for one that does not reach it.
func (v *view) sideOfGate(p *piece, g cutGate) int {
	for _, t := range p.facets {
		c := v.mesh.Triangles[t]
		if c[0] != g.corner && c[1] != g.corner && c[2] != g.corner {
			continue
		}
		// The facet was split along the line: all of it lies on one side.
		if g.line.off(v.plan(c[0]))+g.line.off(v.plan(c[1]))+g.line.off(v.plan(c[2])) < 0 {
			return -1
		}
		return 1
	}
	return 0
}

// only returns the depths within a part's own outlines.
func (d *Depths) only(v *view, p *piece) *Depths {
	one := *d
	one.MM = make([]float32, len(d.MM))
	d.fill(v.openings(p), func(i int) { one.MM[i] = d.MM[i] })
	return &one
}

// describe writes down what there is to say about a part.
func (h *Half) describe(i int) Hollow {
	v, p := h.view, h.parts[i]
	box := v.box(v.frame, p.facets)
	centre := v.openingCentre(p.piece)
	seen, area := v.undercut(p.facets)
	o := Hollow{
		ID: i + 1, Kind: p.kind, VolumeMM3: p.volume, OpeningMM2: p.opening, DepthMM: p.rimMM - p.low,
		CentreMM: [2]float64{centre.X, centre.Y}, UndercutMM2: seen, UndercutSurfaceMM2: area, Gates: []Gate{},
		MinMM: vector.XYZ(box.Min), MaxMM: vector.XYZ(box.Max), DeepestMM: vector.XYZ(v.frame.To(v.mesh.Vertices[p.lowest])),
		RimMM: p.rimMM - v.parting(), RimSpreadMM: p.rim.spread, BoundMM3: p.opening * p.rim.spread,
		Through: p.rim.far > 0, SideMM3: p.sidesMM3, Outlines: v.openings(p.piece), Depths: p.depths,
	}
	if o.Depths == nil {
		o.Depths, _ = v.depths(p.piece, 60) // a hole: only drawn
	}
	for _, t := range p.facets {
		o.AreaMM2 += v.areas[t]
	}
	if steps := p.rim.highest - p.rim.lowest; steps > 2*v.tol {
		o.RimSpreadMM = steps
		o.BoundMM3 = p.opening * steps
		h.warn("hollow %d: its rim lies on parting faces %.3f mm apart; it was closed along both, and between them the volume is open to %.3f mm3", o.ID, steps, o.BoundMM3)
	}
	if p.kind == Cavity && o.Through {
		h.warn("cavity %d is open to the face behind over %.2f mm2: it was measured down to there, and plastic would run out", o.ID, v.farOpening(p.piece))
	}
	if math.Abs(o.SideMM3) > 1e-6*o.VolumeMM3 {
		h.warn("hollow %d opens in a sloped side; it was closed along the block's face there, which makes %+.3f mm3 of its volume", o.ID, o.SideMM3)
	}
	return o
}

// parting is the height of the frame's origin over the middle of the box.
func (v *view) parting() float64 { return v.frame.PartingMM - v.centre.Dot(v.pull) }

// openingCentre returns the centroid of a piece's opening in the frame.
func (v *view) openingCentre(p *piece) r2.Point {
	var area float64
	var moment r2.Point
	for _, o := range v.openings(p) {
		for i := 1; i+1 < len(o); i++ {
			a := o[i].Sub(o[0]).Cross(o[i+1].Sub(o[0])) / 2
			area += a
			moment = moment.Add(o[0].Add(o[i]).Add(o[i+1]).Mul(a / 3))
		}
	}
	if area == 0 {
		return r2.Point{}
	}
	return moment.Mul(1 / area)
}

// nameGates writes each gate into the two hollows that it joined.
func (h *Half) nameGates() {
	for i, p := range h.parts {
		for _, g := range p.gates {
			for k, o := range h.parts {
				if k == i || o.whole != p.whole {
					continue
				}
				for _, other := range o.gates {
					if other.corner == g.corner {
						h.Hollows[i].Gates = append(h.Hollows[i].Gates, Gate{WidthMM: g.widthMM, AreaMM2: g.areaMM2, To: k + 1,
							EndsMM: [2][2]float64{{g.from.X, g.from.Y}, {g.to.X, g.to.Y}}})
					}
				}
			}
		}
	}
}
