package smooth

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// A transition is a vertex between a finely divided curve and a flatter piece
// made of long facets, as at the end of a rounding. By Max's weights its normal
// is near that of the fine side, which is wrong here: it is the long facet that
// has the right one. How is this told from a smooth surface with facets of
// unequal size? On that all edges in one direction show the same curvature, long
// or short. Here a long edge, l times as long as a short one in its direction,
// shows less than 1/(1+l) of the short one's curvature: its normals turn by what
// the short edge's half turn leaves, over l times the length.

// fanEdge is an edge as seen from a vertex and within one group of its fan.
type fanEdge struct {
	slopes
	dir         r3.Vector // of length 1, away from the vertex
	length      float64
	leads       int32 // place of the corner that it leaves, or -1
	comes       int32 // place of the corner where it comes in, or -1
	farVertex   int32
	alongNormal r3.Vector // the normal that the slope was taken with
}

// curvature returns the mean curvature of the surface along the edge, in 1/mm.
func (e *fanEdge) curvature() float64 { return (e.near + e.far) / e.length }

// farCurvature returns the curvature along the edge as its far end shows it.
func (e *fanEdge) farCurvature() float64 { return 2 * e.far / e.length }

const (
	// transitionShare is which share of the curvature that the rule above
	// tells a long edge to lack is enough. Trials on rounded boxes, plates and
	// capsules show 0.72 to 1; smooth bodies with unequal facets seldom 0.5.
	transitionShare = 0.6
	// transitionRest is how much of a short edge's curvature must remain in the
	// direction of a long one once its surroundings have explained what they can.
	transitionRest = 0.25
	// fanSample is how many edges of a group are compared with each other. Fans
	// beyond that are those of hubs, with edges alike.
	fanSample = 48
)

// judgeFans flags the peaks among the groups of all fans, and the edges at
// transitions.
func (b *bending) judgeFans() {
	b.eachFan(func(w *fanWork, first, last int32) {
		for p := first; p < last; p++ {
			if b.fans.group[p] == p && b.fans.hasMore(p, last) {
				w.edges = b.edgesOf(p, last, w.edges[:0])
				b.flagPeak(p, last, w.edges)
				b.flagTransitions(w)
			}
		}
	})
}

// hasMore says whether the group that begins at place p has a second facet. One
// facet alone has its own normal, and no bend.
func (f *fans) hasMore(p, last int32) bool {
	return slices.Contains(f.group[p+1:last], p)
}

// edgesOf appends the edges of the group that begins at place p, each once.
func (b *bending) edgesOf(p, last int32, edges []fanEdge) []fanEdge {
	f := &b.fans
	for q := p; q < last; q++ {
		if f.group[q] == p {
			edges = append(edges, fanEdge{leads: q, comes: -1})
			b.measureEdge(&edges[len(edges)-1], q, 1)
		}
	}
	leading := len(edges)
	for q := p; q < last; q++ {
		if f.group[q] == p {
			far := b.neighbour(f.corner[q], 2)
			if known := leadingTo(edges[:leading], far); known != nil {
				known.comes = q
				continue
			}
			edges = append(edges, fanEdge{leads: -1, comes: q})
			b.measureEdge(&edges[len(edges)-1], q, 2)
		}
	}
	return edges
}

// leadingTo returns the edge to a vertex that has come in nowhere yet, or nil.
func leadingTo(edges []fanEdge, vertex int32) *fanEdge {
	for i := range edges {
		if e := &edges[i]; e.farVertex == vertex && e.comes < 0 {
			return e
		}
	}
	return nil
}

// measureEdge measures the edge from the corner at place q to the one that stands
// step corners after it in its facet. It fills e where it is: edges are large, and
// there are many.
func (b *bending) measureEdge(e *fanEdge, q, step int32) {
	corner := b.fans.corner[q]
	t, i := int(corner/3), int(corner%3)
	j := (i + int(step)) % 3
	near, far := b.mesh.Triangles[t][i], b.mesh.Triangles[t][j]
	vector := b.mesh.Vertices[far].Sub(b.mesh.Vertices[near])
	e.farVertex = far
	e.length = vector.Norm()
	e.dir, e.alongNormal = vector.Mul(1/e.length), *b.normalAt(t, i)
	e.near, e.far = -e.dir.Dot(e.alongNormal), e.dir.Dot(*b.normalAt(t, j))
}

// flagTransitions compares the edges of one group.
func (b *bending) flagTransitions(w *fanWork) {
	sample := w.edges
	if len(sample) > fanSample {
		sample = w.sample[:0]
		for i := range fanSample {
			sample = append(sample, w.edges[i*len(w.edges)/fanSample])
		}
		w.sample = sample
	}
	shortest := math.Inf(1)
	for i := range sample {
		shortest = min(shortest, sample[i].length)
	}
	for i := range w.edges {
		if long := &w.edges[i]; long.length >= unequalEdges*shortest {
			b.flagBeside(long, sample)
		}
	}
}

// flagBeside compares one edge with shorter ones.
func (b *bending) flagBeside(long *fanEdge, edges []fanEdge) {
	var twist, across float64
	known := false
	for j := range edges {
		short := &edges[j]
		if !long.mayBeStraightBeside(short) {
			continue
		}
		if !known {
			twist, across = surroundings(long, edges)
			known = true
		}
		if long.isStraightBeside(short, twist, across) {
			b.flag(long, func(f *edgeFlags) { f.straight = true })
			b.flag(short, func(f *edgeFlags) { f.far = true })
		}
	}
}

// flag changes the flags of an edge in the corners on both sides of it.
func (b *bending) flag(e *fanEdge, change func(*edgeFlags)) {
	if e.leads >= 0 {
		change(&b.fans.flags[e.leads].leads)
	}
	if e.comes >= 0 {
		change(&b.fans.flags[e.comes].comes)
	}
}

// turned returns the sine and cosine of the angle from e to another edge.
func (e *fanEdge) turned(other *fanEdge) (sin, cos float64) {
	return e.alongNormal.Cross(e.dir).Dot(other.dir), e.dir.Dot(other.dir)
}

// surroundings fits the curvatures of the edges around e by Euler's formula
//
//	k = k(e)·cos² + 2·twist·sin·cos + across·sin²
//
// of their angles to e, the curvature along e being given: least squares for the
// other two, or for the last alone where the edges do not tell them apart.
func surroundings(e *fanEdge, edges []fanEdge) (twist, across float64) {
	var tt, ta, aa, tk, ak float64
	for i := range edges {
		sin, cos := e.turned(&edges[i])
		t, a := 2*sin*cos, sin*sin
		k := edges[i].curvature() - e.curvature()*cos*cos
		tt, ta, aa = tt+t*t, ta+t*a, aa+a*a
		tk, ak = tk+t*k, ak+a*k
	}
	det := tt*aa - ta*ta
	switch {
	case det > 0.05*tt*aa && det > 1e-6:
		return (tk*aa - ak*ta) / det, (ak*tt - tk*ta) / det
	case aa > 0:
		return 0, ak / aa
	}
	return 0, 0
}

// mayBeStraightBeside is a quick look at what isStraightBeside asks: is e much
// longer than short in its direction, and bent less than short by far?
func (e *fanEdge) mayBeStraightBeside(short *fanEdge) bool {
	ratio := e.length * math.Abs(e.dir.Dot(short.dir)) / short.length
	return ratio >= unequalEdges &&
		math.Abs(short.farCurvature()) > transitionShare/2*(1+ratio)*math.Abs(e.curvature())
}

// isStraightBeside says whether e lacks the curvature that short has in the
// direction of e once the surroundings have explained what they can.
func (e *fanEdge) isStraightBeside(short *fanEdge, twist, across float64) bool {
	sin, cos := e.turned(short)
	ratio := e.length * math.Abs(cos) / short.length
	k := short.farCurvature()
	rest := k - 2*twist*sin*cos - across*sin*sin
	return rest*k > 0 &&
		math.Abs(rest) > transitionRest*math.Abs(k)*cos*cos &&
		math.Abs(rest) > transitionShare*(1+ratio)*math.Abs(e.curvature())
}
