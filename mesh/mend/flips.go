package mend

import (
	"fmt"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
)

// turnFacets makes facets agree with their neighbours: first within patches, by
// turning the smaller area of each, then whole patches where they meet along
// edges of more than two facets. Which way a closed part has to face is looked at
// when all holes are closed, see turnShells.
func (d *mender) turnFacets() error {
	s := d.survey()
	if s.Misoriented == 0 && len(busyEdges(s, isCrooked)) == 0 {
		return nil
	}
	p, err := d.patches(s)
	if err != nil {
		return err
	}
	turn := make([]bool, len(d.m.Triangles))
	for f, i := range p.Of {
		if i >= 0 {
			turn[f] = p.Turned[f] != (2*p.All[i].TurnedArea > p.All[i].Area)
		}
	}
	d.turn(turn)
	return d.turnPatches(p)
}

// busyEdge is an edge that has to do with more than two facets, or is wrong.
type busyEdge struct {
	a, b int32
	uses []halfedge.Use
}

// isCrooked says whether neither a hole nor turning within patches explains an
// edge: it is run twice as often or more one way than the other.
func isCrooked(uses []halfedge.Use) bool {
	net := 2*halfedge.Forward(uses) - len(uses)
	return net < -1 || net > 1
}

// busyEdges lists the edges of a kind.
func busyEdges(s *halfedge.Survey, kind func(uses []halfedge.Use) bool) []busyEdge {
	var found []busyEdge
	if s.Table == nil { // all in order
		return nil
	}
	s.Table.EachEdge(0, s.Vertices, func(v int32, uses []halfedge.Use) {
		if kind(uses) {
			found = append(found, busyEdge{v, uses[0].Other(), append([]halfedge.Use(nil), uses...)})
		}
	})
	return found
}

// turn turns facets over, and remembers which.
func (d *mender) turn(facets []bool) {
	if !slices.Contains(facets, true) {
		return
	}
	triangles := make([][3]int32, len(d.m.Triangles))
	for f, t := range d.m.Triangles {
		if facets[f] {
			t[1], t[2] = t[2], t[1]
		}
		triangles[f] = t
	}
	d.m = &mesh.Mesh{Vertices: d.m.Vertices, Triangles: triangles}
	for f, turn := range facets {
		d.turned[f] = d.turned[f] != turn
	}
}

// turnPatches turns whole patches so that edges of four facets and more balance.
// Two patches that do not balance at an edge by themselves, but would together,
// have to face one way. The smaller area of patches so tied is turned.
func (d *mender) turnPatches(p *halfedge.Patches) error {
	s := d.survey()
	if len(busyEdges(s, isCrooked)) == 0 {
		return nil
	}
	ties := newTies(len(p.All))
	for _, e := range busyEdges(s, func(uses []halfedge.Use) bool { return len(uses) > 2 && len(uses)%2 == 0 || isCrooked(uses) }) {
		bent, nets := bentAt(p, e)
		settled := len(bent) == 2 && ties.tie(bent[0], bent[1], nets[0] == nets[1])
		if isCrooked(e.uses) && !settled {
			return d.crookedAt(e)
		}
	}
	turned := make([]float64, len(p.All)) // area by the first patch of those tied
	whole := make([]float64, len(p.All))
	for i := range p.All {
		root, against := ties.find(int32(i))
		whole[root] += p.All[i].Area
		if against {
			turned[root] += p.All[i].Area
		}
	}
	flip := make([]bool, len(d.m.Triangles))
	for f, i := range p.Of {
		if i >= 0 {
			root, against := ties.find(i)
			flip[f] = against != (2*turned[root] > whole[root])
		}
	}
	d.turn(flip)
	if edges := busyEdges(d.survey(), isCrooked); len(edges) > 0 {
		return d.crookedAt(edges[0])
	}
	return nil
}

// bentAt returns the patches that do not balance at an edge by themselves, and how
// much more often each runs it one way.
func bentAt(p *halfedge.Patches, e busyEdge) (bent []int32, nets []int) {
	for _, u := range e.uses {
		i := p.Of[u.Half().Facet()]
		k := slices.Index(bent, i)
		if k < 0 {
			k = len(bent)
			bent, nets = append(bent, i), append(nets, 0)
		}
		if u.Backward() {
			nets[k]--
		} else {
			nets[k]++
		}
	}
	for k := len(bent) - 1; k >= 0; k-- {
		if nets[k] == 0 {
			bent, nets = slices.Delete(bent, k, k+1), slices.Delete(nets, k, k+1)
		}
	}
	return bent, nets
}

func (d *mender) crookedAt(e busyEdge) error {
	return fmt.Errorf("%w: %d facets meet at the edge from %s to %s, and it is not clear which of them to turn",
		ErrBeyond, len(e.uses), mesh.PlaceText(d.m.Vertices[e.a]), mesh.PlaceText(d.m.Vertices[e.b]))
}

// ties holds which patches have to face one way or opposite ways: disjoint sets,
// each member with its sense relative to the first.
type ties struct {
	parent  []int32
	against []bool // relative to the parent
}

func newTies(n int) *ties {
	t := &ties{parent: make([]int32, n), against: make([]bool, n)}
	for i := range t.parent {
		t.parent[i] = int32(i)
	}
	return t
}

// find returns the first of a set and whether i has the opposite sense.
func (t *ties) find(i int32) (root int32, against bool) {
	root = i
	for t.parent[root] != root {
		against = against != t.against[root]
		root = t.parent[root]
	}
	for sense := against; t.parent[i] != root && i != root; {
		next, own := t.parent[i], t.against[i]
		t.parent[i], t.against[i] = root, sense
		sense = sense != own
		i = next
	}
	return root, against
}

// tie puts two into one set, opposite or not, and reports false if they were
// there already with another sense.
func (t *ties) tie(i, j int32, opposite bool) bool {
	ri, ai := t.find(i)
	rj, aj := t.find(j)
	sense := (ai != aj) != opposite
	if ri == rj {
		return !sense
	}
	if rj < ri {
		ri, rj = rj, ri
	}
	t.parent[rj], t.against[rj] = ri, sense
	return true
}
