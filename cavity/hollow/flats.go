package hollow

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// flat is a plane on which a good part of the surface lies, facing one way.
type flat struct {
	normal  r3.Vector
	height  float64 // along normal, mm
	area    float64 // mm2
	outside bool    // nothing lies in front of it: a face of the convex hull
}

const (
	// leastFlat is the part of the whole surface from which a plane counts. The
	// rim of a thin-walled cup has some hundredths.
	leastFlat = 0.002
	// mostFlats bounds the work on a body of very many faces.
	mostFlats = 40
)

// flats finds the planes of the surface, the largest first. Facets are gathered
// by the way they face, then by height, and each plane is fitted to the corners
// that lie on it. It costs a few passes over the facets for each direction.
func (s *surface) flats() []flat {
	var found []flat
	for _, d := range s.directions() {
		found = append(found, s.flatsAlong(d)...)
	}
	slices.SortStableFunc(found, func(a, b flat) int { return cmp.Compare(b.area, a.area) })
	return distinct(found, s.size, s.tol)
}

// distinct drops planes that were found from two directions.
func distinct(found []flat, size, tol float64) []flat {
	var out []flat
	for _, f := range found {
		same := func(g flat) bool {
			return f.normal.Dot(g.normal) > 1-1e-9 && math.Abs(f.height-g.height) < 10*tol+1e-5*size
		}
		if !slices.ContainsFunc(out, same) {
			out = append(out, f)
		}
	}
	return out
}

// bin is a little patch of directions and the area that faces that way.
type bin [3]int16

const binsAcross = 48 // of the unit cube's half edge: about 1.2 degrees

func binOf(n r3.Vector) bin {
	return bin{int16(math.Round(n.X * binsAcross)), int16(math.Round(n.Y * binsAcross)), int16(math.Round(n.Z * binsAcross))}
}

// directions returns the ways that a good part of the surface faces, one for each
// peak of area over direction.
func (s *surface) directions() []r3.Vector {
	faced := map[bin]r3.Vector{}
	for t, n := range s.normals {
		b := binOf(n)
		faced[b] = faced[b].Add(n.Mul(s.areas[t]))
	}
	type peak struct {
		at  bin
		sum r3.Vector
	}
	var peaks []peak
	for b, v := range faced {
		if v.Norm() > leastFlat/4*s.total { // a peak may straddle the bins' borders
			peaks = append(peaks, peak{b, v})
		}
	}
	slices.SortFunc(peaks, func(a, b peak) int {
		return cmp.Or(cmp.Compare(b.sum.Norm2(), a.sum.Norm2()), slices.Compare(a.at[:], b.at[:]))
	})
	var out []r3.Vector
	for _, p := range peaks {
		d := p.sum.Normalize()
		near := func(o r3.Vector) bool { return o.Dot(d) > math.Cos(2*math.Pi/180) }
		if len(out) < mostFlats && !slices.ContainsFunc(out, near) {
			out = append(out, d)
		}
	}
	return out
}

// flatsAlong finds the planes across roughly one direction.
func (s *surface) flatsAlong(d r3.Vector) []flat {
	type layer struct {
		facet  int32
		height float64
	}
	const around = 0.9990 // cosine of 2.6 degrees, more than a bin
	loose := 2e-3 * s.size
	var facing []int32
	var layers []layer
	for t, n := range s.normals {
		if n.Dot(d) > around {
			lo, hi := s.heightsOf(t, d)
			facing = append(facing, int32(t))
			layers = append(layers, layer{int32(t), (lo + hi) / 2})
		}
	}
	slices.SortFunc(layers, func(a, b layer) int { return cmp.Or(cmp.Compare(a.height, b.height), cmp.Compare(a.facet, b.facet)) })
	var found []flat
	for i := 0; i < len(layers); {
		// A window over the heights. A plane that is tilted against d fills several;
		// each of them is fitted to the same plane.
		var near gathered
		k := i
		for k < len(layers) && layers[k].height <= layers[i].height+loose {
			near.add(s, layers[k].facet)
			k++
		}
		if near.area > leastFlat/2*s.total {
			if f, ok := s.fit(facing, near, loose); ok {
				found = append(found, f)
			}
		}
		i = k
	}
	return found
}

// gathered adds up facets: their area, the way they face, their centre.
type gathered struct {
	area         float64
	face, centre r3.Vector // weighted by area
}

func (g *gathered) add(s *surface, t int32) {
	a, b, c := s.mesh.Corners(int(t))
	g.area += s.areas[t]
	g.face = g.face.Add(s.normals[t].Mul(s.areas[t]))
	g.centre = g.centre.Add(a.Add(b).Add(c).Mul(1.0 / 3).Sub(s.centre).Mul(s.areas[t]))
}

// fit tightens a plane round the facets that lie near it until only those are
// left whose corners are on it.
func (s *surface) fit(facing []int32, g gathered, within float64) (flat, bool) {
	for last := false; ; {
		if g.area == 0 || g.face.Norm2() == 0 {
			return flat{}, false
		}
		normal := snapped(g.face.Normalize())
		height := g.centre.Mul(1 / g.area).Add(s.centre).Dot(normal)
		if last {
			f := flat{normal: normal, height: height, area: g.area}
			f.outside = !s.inFront(f.normal, f.height, s.tol)
			return f, f.area > leastFlat*s.total
		}
		last = within == s.tol
		within = max(s.tol, within/8)
		g = gathered{}
		for _, t := range facing {
			if lo, hi := s.heightsOf(int(t), normal); lo >= height-within && hi <= height+within {
				g.add(s, t)
			}
		}
	}
}

// snapped returns a direction that is an axis but for rounding as that axis.
func snapped(n r3.Vector) r3.Vector {
	const rounding = 1e-12
	for _, a := range []r3.Vector{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}} {
		if n.Sub(a).Norm() < rounding {
			return a
		}
	}
	return n
}
