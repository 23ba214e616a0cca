package mend

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
)

// part is a closed piece of the surface that can face either way by itself.
type part struct {
	facets  []int32 // ascending
	volume  float64 // mm^3, signed as the part faces now
	box     mesh.Box
	flipped bool    // some of its facets were turned, so how it faced says little
	was     int     // which way it faced: +1 outward, -1 inward, 0 neither
	within  bool    // it lies in larger parts
	open    float64 // mm^3 that its facing leaves open
}

// turned says whether a part faces outward now and did not.
func (p *part) turned() bool { return p.was < 0 && p.volume > 0 }

// turnShells turns closed parts that are inside out, and notes all facets that
// were turned.
//
// A part that lies in no other has to face outward. One within another is taken
// as it faces: outward it is more of the same, inward it is a void; if its facets
// disagreed, the larger area of them has said so. But where a part around was
// inside out as a whole, one within becomes a void: either both were inside out,
// or it was a void already. Once a part was inside out, each void may have been meant
// as a body too. A part that reaches into others may have been meant to
// be cut out of them, see readings.
//
// Where every part faced inward and none lies in others, the whole was exported
// inside out, and turning it decides nothing.
func (d *mender) turnShells() error {
	if !d.mayFaceIn() {
		return nil
	}
	parts, err := d.closedParts()
	if err != nil {
		return err
	}
	slices.SortStableFunc(parts, func(a, b *part) int { return cmp.Compare(math.Abs(b.volume), math.Abs(a.volume)) })
	mend := Mend{Kind: InsideOutShell}
	turn := make([]bool, len(d.m.Triangles))
	var flippedOpen float64
	for i, p := range parts {
		if err := d.ctx.Err(); err != nil {
			return err
		}
		p.was = sign(p.volume)
		want := d.facing(parts[:i], p)
		if p.was == 0 || want == p.was {
			continue
		}
		p.volume = -p.volume
		for _, f := range p.facets {
			turn[f] = true
		}
		if !p.flipped {
			mend.add(d, p)
		}
	}
	d.turn(turn)
	for _, p := range parts {
		if mend.Count > 0 && p.within && p.volume < 0 {
			p.open = 2 * math.Abs(p.volume)
		}
		if p.flipped {
			flippedOpen += p.open
		} else {
			mend.VolumeMM3 += p.open
		}
	}
	r, err := d.readingsOf(parts)
	if err != nil {
		return err
	}
	if mend.Count == 0 {
		flippedOpen += r.apartMM3
	} else {
		mend.VolumeMM3, mend.Readings = mend.VolumeMM3+r.apartMM3, r.text()
	}
	mend.MayChangeVolume = slices.ContainsFunc(parts, func(p *part) bool { return !p.turned() || p.flipped || p.within })
	d.noteFlipped(parts, flippedOpen)
	d.note(mend)
	return nil
}

// facing returns which way a part has to face among the larger ones.
func (d *mender) facing(larger []*part, p *part) int {
	if p.was > 0 && !p.flipped && !slices.ContainsFunc(larger, func(q *part) bool { return q.turned() && !q.flipped }) {
		return 1
	}
	insideOut, winding := partsAround(d.m, larger, p)
	p.within = winding >= 1
	switch {
	case !p.within:
		return 1
	case p.flipped:
		p.open = 2 * math.Abs(p.volume)
	case insideOut:
		p.open = 2 * math.Abs(p.volume)
		return -1
	}
	return p.was
}

// mayFaceIn says whether some part may have to be turned. Parts are finer than
// shells only where edges have more than two facets.
func (d *mender) mayFaceIn() bool {
	s := d.survey()
	return s.Nonmanifold > 0 || slices.Contains(d.turned, true) ||
		slices.ContainsFunc(d.m.Shells(), func(shell mesh.Shell) bool { return shell.VolumeMM3 < 0 })
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// add counts a part that was inside out and has been turned.
func (mend *Mend) add(d *mender, p *part) {
	mend.Count++
	if len(mend.Places) < mesh.MaxPlaces {
		at, _, _ := d.m.Corners(int(p.facets[0]))
		mend.Places = append(mend.Places, mesh.Place{Facet: int(d.file[p.facets[0]]), At: at,
			Text: fmt.Sprintf("of %d facets, at %s: %.6g mm3 become %.6g", len(p.facets), mesh.PlaceText(at), -p.volume, p.volume)})
	}
}

// noteFlipped notes facets that now face against the way they came, in parts whose
// facets disagreed.
func (d *mender) noteFlipped(parts []*part, open float64) {
	mend := Mend{Kind: FlippedFacet, MayChangeVolume: true, VolumeMM3: open}
	var flipped []int32
	for _, p := range parts {
		for _, f := range p.facets {
			if p.flipped && d.turned[f] {
				flipped = append(flipped, f)
			}
		}
	}
	slices.Sort(flipped)
	mend.Count = len(flipped)
	for _, f := range flipped[:min(len(flipped), mesh.MaxPlaces)] {
		at, _, _ := d.m.Corners(int(f))
		mend.Places = append(mend.Places, mesh.Place{Facet: int(d.file[f]), At: at, Text: "faces against its neighbours, at " + mesh.PlaceText(at)})
	}
	d.note(mend)
}

// closedParts splits the surface as finely as it can be turned: patches, joined
// where they meet along edges at which they balance only together.
func (d *mender) closedParts() ([]*part, error) {
	s := d.survey()
	p, err := d.patches(s)
	if err != nil {
		return nil, err
	}
	sets := halfedge.NewSets(len(p.All))
	for _, e := range busyEdges(s, func(uses []halfedge.Use) bool { return len(uses) > 2 }) {
		bent, _ := bentAt(p, e)
		for _, i := range bent {
			sets.Join(bent[0], i)
		}
	}
	byRoot := map[int32]*part{}
	var parts []*part
	for i, patch := range p.All {
		root := sets.Root(int32(i))
		if byRoot[root] == nil {
			byRoot[root] = &part{}
			parts = append(parts, byRoot[root])
		}
		byRoot[root].facets = append(byRoot[root].facets, patch.Facets...)
	}
	for _, q := range parts {
		slices.Sort(q.facets)
		q.box = d.m.BoxOf(q.facets)
		q.volume = d.m.VolumeOf(q.facets, q.box.Centre())
		q.flipped = slices.ContainsFunc(q.facets, func(f int32) bool { return d.turned[f] })
	}
	return parts, nil
}

// partsAround returns how often the larger parts enclose p as they are to face, 0 if
// p reaches out of them anywhere, and whether one of those around was inside out as a
// whole. It asks at facets spread over p, its outermost ones included.
func partsAround(m *mesh.Mesh, larger []*part, p *part) (insideOut bool, winding int) {
	winding = math.MaxInt
	for _, f := range sampleFacets(m, p) {
		a, b, c := m.Corners(int(f))
		at := a.Add(b).Add(c).Mul(1.0 / 3)
		var all float64
		turned := false
		for _, q := range larger {
			if !q.box.Contains(at) {
				continue
			}
			w := m.WindingNumber(q.facets, at)
			if sign(q.volume) != q.was {
				w = -w
			}
			turned = turned || math.Abs(w) > 0.5 && q.turned() && !q.flipped
			all += w
		}
		if n := math.Round(all); math.Abs(all-n) < 1e-6 { // not on a surface, where it is NaN
			winding = min(winding, int(n))
			insideOut = insideOut || turned
			if n < 1 {
				return false, 0
			}
		}
	}
	if winding == math.MaxInt {
		return false, 0
	}
	return insideOut, winding
}

// sampleFacets returns some facets of a part: one with a corner at each side of
// its box, and others at even steps through the list.
func sampleFacets(m *mesh.Mesh, p *part) []int32 {
	const spread = 8
	var some []int32
	for k := range min(spread, len(p.facets)) {
		some = append(some, p.facets[len(p.facets)*k/min(spread, len(p.facets))])
	}
	for axis := range 3 {
		for _, end := range []float64{coordinate(p.box.Min, axis), coordinate(p.box.Max, axis)} {
			i := slices.IndexFunc(p.facets, func(f int32) bool {
				a, b, c := m.Corners(int(f))
				return coordinate(a, axis) == end || coordinate(b, axis) == end || coordinate(c, axis) == end
			})
			some = append(some, p.facets[i])
		}
	}
	slices.Sort(some)
	return slices.Compact(some)
}
