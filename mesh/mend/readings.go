package mend

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/union"
)

// readings is what parts that reach into each other hold, of which some were turned
// outward and some had faced so: taken all as bodies, or with one side cut out of the
// other.
type readings struct {
	bodiesMM3 float64 // all of them together, overlaps once
	apartMM3  float64 // how much less the other reading can leave
}

// clearSide is how much more one side of parts must hold than the other to be what
// the other was cut out of.
const clearSide = 2

// readingsOf compares readings of the parts as they face now. Parts that touch nothing
// but their like can be read in one way only.
//
// If inward parts hold less than a clearSide-th of the outward ones, they may be cuts in
// these. If it is the other way round, the file is inside out as a whole, and the
// outward ones may be cuts. In between either may be, and whether a place that is
// enclosed twice is full or empty is not known either. What a cut takes out is at
// most what the cutting parts hold together.
func (d *mender) readingsOf(parts []*part) (readings, error) {
	var all readings
	if !slices.ContainsFunc(parts, (*part).turned) {
		return all, nil
	}
	for _, group := range groupsOf(parts) {
		var in, out []int32
		for _, p := range group {
			if p.turned() {
				in = append(in, p.facets...)
			} else {
				out = append(out, p.facets...)
			}
		}
		if len(in) == 0 || len(out) == 0 {
			continue
		}
		r, err := d.readingsOfSides(in, out)
		if err != nil {
			return all, err
		}
		all.bodiesMM3 += r.bodiesMM3
		all.apartMM3 += r.apartMM3
	}
	return all, nil
}

// readingsOfSides compares parts that faced in with parts that faced out.
func (d *mender) readingsOfSides(in, out []int32) (readings, error) {
	both, err := d.solidOf(slices.Concat(in, out))
	if err != nil || both.OverlapMM3 == 0 {
		return readings{}, err
	}
	inward, err := d.solidOf(in)
	if err != nil {
		return readings{}, err
	}
	outward, err := d.solidOf(out)
	if err != nil {
		return readings{}, err
	}
	less, more := min(inward.VolumeMM3, outward.VolumeMM3), max(inward.VolumeMM3, outward.VolumeMM3)
	apart := less
	if more < clearSide*less {
		apart = max(more, both.OverlapMM3)
	}
	apart += both.ErrorMM3 + inward.ErrorMM3 + outward.ErrorMM3
	return readings{both.VolumeMM3, min(apart, both.VolumeMM3+both.ErrorMM3)}, nil
}

// solidOf returns what some facets enclose. Where that cannot be told, a ball of their
// area stands for it, which holds no less.
func (d *mender) solidOf(facets []int32) (union.Solid, error) {
	some := &mesh.Mesh{Vertices: d.m.Vertices, Triangles: make([][3]int32, len(facets))}
	var area float64
	for i, f := range facets {
		some.Triangles[i] = d.m.Triangles[f]
		area += d.m.AreaOf(int(f))
	}
	solid, err := union.Of(d.ctx, some)
	if errors.Is(err, union.ErrInsideOut) || errors.Is(err, union.ErrWinding) {
		most := ballOfArea(area)
		return union.Solid{VolumeMM3: most, OverlapMM3: most}, nil
	}
	return solid, err
}

// groupsOf joins the parts that face outward now where their boxes meet. Voids are left
// out.
func groupsOf(parts []*part) [][]*part {
	var bodies []*part
	for _, p := range parts {
		if p.volume > 0 {
			bodies = append(bodies, p)
		}
	}
	slices.SortStableFunc(bodies, func(a, b *part) int { return cmp.Compare(a.box.Min.X, b.box.Min.X) })
	sets := halfedge.NewSets(len(bodies))
	var open []int32 // whose boxes may still meet the next one
	for j, p := range bodies {
		open = slices.DeleteFunc(open, func(i int32) bool { return bodies[i].box.Max.X < p.box.Min.X })
		for _, i := range open {
			if bodies[i].box.Meets(&p.box) {
				sets.Join(i, int32(j))
			}
		}
		open = append(open, int32(j))
	}
	groups := make([][]*part, len(bodies))
	for i, p := range bodies {
		root := sets.Root(int32(i))
		groups[root] = append(groups[root], p)
	}
	return slices.DeleteFunc(groups, func(g []*part) bool { return len(g) < 2 })
}

// text gives both readings, or nothing where there is one.
func (r readings) text() string {
	if r.apartMM3 == 0 {
		return ""
	}
	return fmt.Sprintf("some reach into parts that face outward: together they hold %.6g mm3 as bodies, and down to %.6g mm3 if one side is cut out of the other",
		r.bodiesMM3, math.Max(0, r.bodiesMM3-r.apartMM3))
}

// ballOfArea is the most that a surface of this area can enclose, a ball's volume
// A^(3/2) / (6 sqrt(pi)). Windings of more than 1 count as often in that bound
// (isoperimetric inequality, Federer, Geometric Measure Theory, 1969, 4.5.9(31); from
// memory).
func ballOfArea(area float64) float64 { return math.Pow(area, 1.5) / (6 * math.Sqrt(math.Pi)) }
