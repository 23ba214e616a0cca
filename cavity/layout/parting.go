package layout

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"bellyline/cavity/hollow"
	"bellyline/mesh"
	"bellyline/mesh/halfedge"
	"bellyline/mesh/vector"
)

// Parting is one way to part the mold.
type Parting struct {
	Number      int        `json:"number"`    // in the list, from 1 on: what --parting takes
	HeightMM    float64    `json:"height_mm"` // along the pull, in the model
	Pull        [3]float64 `json:"pull"`
	UndercutMM2 float64    `json:"undercut_mm2"` // seen along the pull
	UnevenMM    float64    `json:"uneven_mm"`    // between the lowest and the highest place of the outline, where the bait is widest
	LineAwayMM  *float64   `json:"line_away_mm"` // from the plane to the wanted colour line; null: the line stands on edge, or there is none
	ColourLine  bool       `json:"colour_line"`  // a level colour line runs along it
	Penalty     Penalty    `json:"penalty"`
	Name        string     `json:"name"`
}

// Penalty is what speaks against a parting, in percent of the bait: the least sum is
// proposed.
type Penalty struct {
	Undercut float64 `json:"undercut"` // of what is seen along the pull
	Uneven   float64 `json:"uneven"`   // of the bait's longest side
	Line     float64 `json:"line"`     // of the bait's longest side; 100 when two colours would stand on edge
	Sum      float64 `json:"sum"`
}

// Wanted is what a parting is chosen for.
type Wanted struct {
	Back, Nose r3.Vector // of the model
	Colours    int
	LineMM     float64   // height of the colour line along Back; of two colours
	Asked      r3.Vector // a pull that comes into the list besides; zero: none
}

// Partings returns candidates, what speaks least against first: along the back (for
// two colours also at the height of their line), to the side, along the nose, and the
// pull with the least undercut, each in the plane that leaves least undercut; and of
// the one along the back the middle of its outline.
func Partings(ctx context.Context, m *mesh.Mesh, w Wanted) ([]Parting, error) {
	w.Back, w.Nose = w.Back.Normalize(), w.Nose.Normalize()
	var list []Parting
	pulls := []struct {
		name string
		pull r3.Vector
	}{{"back from belly", w.Back}, {"side from side", w.Back.Cross(w.Nose).Normalize()}, {"nose from tail", w.Nose.Sub(w.Back.Mul(w.Nose.Dot(w.Back))).Normalize()}}
	if w.Asked.Norm() > 0 {
		pulls = append(pulls, struct {
			name string
			pull r3.Vector
		}{"as asked for", w.Asked})
	}
	var least hollow.Pull
	for _, c := range pulls {
		d, err := hollow.DraftOf(ctx, m, c.pull)
		if err != nil {
			return nil, err
		}
		list = append(list, w.parting(m, d.Pulled, c.name))
		least = d.Least
	}
	list = append(list, w.parting(m, least, "least undercut"))
	more, err := w.alongBack(ctx, m, list[0])
	if err != nil {
		return nil, err
	}
	list = distinct(append(list, more...), m.Bounds().Diagonal())
	slices.SortStableFunc(list, func(a, b Parting) int { return cmp.Compare(a.Penalty.Sum, b.Penalty.Sum) })
	for i := range list {
		list[i].Number = i + 1
	}
	return list, nil
}

// Along returns the number of the first parting of a list that is pulled along a
// direction, either way, and 1 when none is.
func Along(list []Parting, pull r3.Vector) int {
	pull = pull.Normalize()
	for _, p := range list {
		if math.Abs(vector.Of(p.Pull).Dot(pull)) > 1-1e-6 {
			return p.Number
		}
	}
	return 1
}

// alongBack are other planes for the pull along the back.
func (w Wanted) alongBack(ctx context.Context, m *mesh.Mesh, first Parting) ([]Parting, error) {
	names, heights := []string{"back, mid outline"}, []float64{outlineOf(m, w.Back).middle()}
	if w.Colours == 2 {
		names, heights = append(names, "back, colour line"), append(heights, w.LineMM)
	}
	undercuts, err := hollow.UndercutAt(ctx, m, w.Back, heights...)
	if err != nil {
		return nil, err
	}
	low, high := m.Span(w.Back)
	var list []Parting
	for i, h := range heights {
		if h > low && h < high {
			list = append(list, w.parting(m, hollow.Pull{Pull: first.Pull, PartingMM: h, UndercutMM2: undercuts[i]}, names[i]))
		}
	}
	return list, nil
}

// distinct drops partings that are the same but for their name: the later ones.
func distinct(list []Parting, size float64) []Parting {
	var out []Parting
	for _, p := range list {
		if !slices.ContainsFunc(out, func(o Parting) bool {
			d := vector.Of(p.Pull).Dot(vector.Of(o.Pull))
			return math.Abs(d) > 1-1e-6 && math.Abs(p.HeightMM-o.HeightMM*math.Copysign(1, d)) < 1e-3*size
		}) {
			out = append(out, p)
		}
	}
	return out
}

func (w Wanted) parting(m *mesh.Mesh, p hollow.Pull, name string) Parting {
	pull := vector.Of(p.Pull)
	size := m.Bounds().Size()
	longest := max(size.X, size.Y, size.Z)
	along := pull.Dot(w.Back)
	c := Parting{
		HeightMM: p.PartingMM, Pull: p.Pull, UndercutMM2: p.UndercutMM2, Name: name,
		UnevenMM: outlineOf(m, pull).rangeMM(), ColourLine: math.Abs(along) > 1-1e-9,
	}
	if shadow := shadowOf(m, pull); shadow > 0 {
		c.Penalty.Undercut = 100 * c.UndercutMM2 / shadow
	}
	c.Penalty.Uneven = 100 * c.UnevenMM / longest
	switch {
	case w.Colours == 2 && c.ColourLine:
		away := math.Abs(p.PartingMM*along - w.LineMM)
		c.LineAwayMM, c.Penalty.Line = &away, 100*away/longest
	case w.Colours == 2:
		c.Penalty.Line = 100
	}
	c.Penalty.Sum = c.Penalty.Undercut + c.Penalty.Uneven + c.Penalty.Line
	return c
}

// shadowOf is the area of what faces along a pull, seen along it: for a bait without
// undercut that of its shadow.
func shadowOf(m *mesh.Mesh, pull r3.Vector) float64 {
	area := 0.0
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		area += max(b.Sub(a).Cross(c.Sub(a)).Dot(pull)/2, 0)
	}
	return area
}

// outline is where a bait is widest seen along a pull: edges between what faces up
// and what faces down, by their height.
type outline []struct{ height, length float64 }

// outlineEnds of an outline's length may stray at each end: a few edges do in most
// models.
const outlineEnds = 0.01

// quantile is the height below which a share of the outline's length lies.
func (o outline) quantile(share float64) float64 {
	total, sum := 0.0, 0.0
	for _, e := range o {
		total += e.length
	}
	for _, e := range o {
		if sum += e.length; sum >= share*total {
			return e.height
		}
	}
	return 0
}

func (o outline) rangeMM() float64 { return o.quantile(1-outlineEnds) - o.quantile(outlineEnds) }
func (o outline) middle() float64 {
	return (o.quantile(1-outlineEnds) + o.quantile(outlineEnds)) / 2
}

// outlineOf finds the outline. A bait with upright walls all round has none, and its
// range is 0: it may part anywhere along them.
func outlineOf(m *mesh.Mesh, pull r3.Vector) outline {
	up := facing(m, pull)
	var list outline
	for side, twin := range halfedge.Twins(m.Triangles, len(m.Vertices)) {
		if t := side / 3; int(twin) > side && up[t]*up[twin/3] < 0 {
			p, q := m.Vertices[m.Triangles[t][side%3]], m.Vertices[m.Triangles[t][halfedge.After(side%3)]]
			list = append(list, struct{ height, length float64 }{p.Add(q).Mul(0.5).Dot(pull), q.Sub(p).Norm()})
		}
	}
	slices.SortFunc(list, func(a, b struct{ height, length float64 }) int {
		return cmp.Or(cmp.Compare(a.height, b.height), cmp.Compare(a.length, b.length))
	})
	return list
}

// facing tells of each facet whether it faces along a pull (1), against it (-1), or
// stands upright.
func facing(m *mesh.Mesh, pull r3.Vector) []int8 {
	const upright = 1e-6
	up := make([]int8, len(m.Triangles))
	for t := range up {
		a, b, c := m.Corners(t)
		n := b.Sub(a).Cross(c.Sub(a))
		switch rise := n.Dot(pull); {
		case rise > upright*n.Norm():
			up[t] = 1
		case rise < -upright*n.Norm():
			up[t] = -1
		}
	}
	return up
}
