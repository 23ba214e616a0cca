package mend

import (
	"fmt"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/internal/weld"
)

// weldCracks welds corners on open edges that are no further apart than the
// tolerance, where that closes an edge: makes it one that is run as often either
// way. Edges of parts that only lie side by side run the same way, and so stay
// apart. A set of corners whose welding would collapse a facet stays as it was. Of
// corners welded the first stays.
func (d *mender) weldCracks() error {
	s := d.survey()
	if s.Boundary == 0 {
		return nil
	}
	odd := oddKeys(s)
	corners := make([]int32, 0, 2*len(odd))
	for _, key := range odd {
		corners = append(corners, int32(key>>32), int32(uint32(key)))
	}
	slices.Sort(corners)
	into, welded := weld.NearCorners(d.m.Vertices, d.m.Triangles, slices.Compact(corners), d.tolerance)
	if welded == 0 {
		return nil
	}
	bent := bentKeys(surveyOf(weldedTo(d.m, into)))
	closed := map[int32]bool{} // corners at an edge that is open no more
	for _, key := range odd {
		a, b := into[key>>32], into[uint32(key)]
		if _, open := slices.BinarySearch(bent, endsKey(a, b)); !open {
			closed[a], closed[b] = true, true
		}
	}
	for v, to := range into {
		if to != int32(v) && !closed[to] {
			into[v] = int32(v)
		}
	}
	trial := weldedTo(d.m, into)
	if len(bentKeys(surveyOf(trial))) >= len(bentKeys(s)) {
		return nil
	}
	d.note(d.crackMend(trial, into))
	d.m = trial
	return nil
}

// bentKeys names the edges that are not run as often one way as the other, in
// ascending order.
func bentKeys(s *halfedge.Survey) []uint64 {
	if s.Boundary+s.Misoriented == 0 {
		return nil
	}
	var keys []uint64
	s.Table.EachEdge(0, s.Vertices, func(v int32, uses []halfedge.Use) {
		if !halfedge.Balanced(uses) {
			keys = append(keys, endsKey(v, uses[0].Other()))
		}
	})
	return keys
}

// oddKeys names the edges used an odd number of times, in ascending order.
func oddKeys(s *halfedge.Survey) []uint64 {
	edges := s.BoundaryEdges()
	keys := make([]uint64, len(edges))
	for i, e := range edges {
		keys[i] = endsKey(e.From, e.To)
	}
	return keys
}

// weldedTo returns the surface with each vertex v replaced by into[v]. All vertices
// stay, used or not.
func weldedTo(m *mesh.Mesh, into []int32) *mesh.Mesh {
	triangles := make([][3]int32, len(m.Triangles))
	for i, t := range m.Triangles {
		triangles[i] = [3]int32{into[t[0]], into[t[1]], into[t[2]]}
	}
	return &mesh.Mesh{Vertices: m.Vertices, Triangles: triangles}
}

// crackMend says what welding does. The true place of a corner is taken to be
// within the set that was welded, so no corner of a facet there is off by more
// than the reach r of the set, and sweeping the facet from one to the other fills
// no more than r times its greatest area on the way, which is its area + r times
// its perimeter + 2 r^2.
func (d *mender) crackMend(after *mesh.Mesh, into []int32) Mend {
	mend := Mend{Kind: Crack, WithinMM: d.foundMM}
	reach := map[int32]float64{}
	for v, to := range into {
		if to == int32(v) {
			continue
		}
		gap := d.m.Vertices[v].Distance(d.m.Vertices[to])
		reach[to] = max(reach[to], gap)
		mend.Count++
		if len(mend.Places) < mesh.MaxPlaces {
			mend.Places = append(mend.Places, mesh.Place{Facet: -1, At: d.m.Vertices[to],
				Text: fmt.Sprintf("%.2g mm wide at %s", gap, mesh.PlaceText(d.m.Vertices[to]))})
		}
	}
	for f, t := range after.Triangles {
		r := max(reach[t[0]], reach[t[1]], reach[t[2]])
		if r == 0 {
			continue
		}
		a, b, c := after.Corners(f)
		mend.VolumeMM3 += r * (after.AreaOf(f) + r*(a.Distance(b)+b.Distance(c)+c.Distance(a)) + 2*r*r)
	}
	mend.MayChangeVolume = mend.VolumeMM3 > d.harmless
	return mend
}
