package layout

import (
	"context"
	"math"

	"github.com/golang/geo/r3"

	"bellyline/cavity/hollow"
	"bellyline/mesh"
)

// Parting is one way to part the mold.
type Parting struct {
	HeightMM    float64    `json:"height_mm"` // along the pull, in the model
	Pull        [3]float64 `json:"pull"`
	UndercutMM2 float64    `json:"undercut_mm2"` // seen along the pull
	UnevenMM    float64    `json:"uneven_mm"`    // how far the outline, where the bait is widest, strays from the plane: root mean square
	ColourLine  bool       `json:"colour_line"`  // a level colour line lies in it
	Name        string     `json:"name"`
}

// Partings returns candidates: along the back, to the side, along the nose, and the
// pull with the least undercut. They are scored openly; the first is taken: for two
// colours the one along the back, in whose face the colour line lies, otherwise
// that with the least undercut, and of equal ones the flattest outline. A pull that is
// asked for, not zero, comes before them all.
func Partings(ctx context.Context, m *mesh.Mesh, back, nose r3.Vector, colours int, asked r3.Vector) ([]Parting, error) {
	back, nose = back.Normalize(), nose.Normalize()
	side := back.Cross(nose).Normalize()
	var list []Parting
	var least hollow.Pull
	for _, c := range []struct {
		name string
		pull r3.Vector
	}{{"back from belly", back}, {"side from side", side}, {"nose from tail", nose.Sub(back.Mul(nose.Dot(back))).Normalize()}} {
		d, err := hollow.DraftOf(ctx, m, c.pull)
		if err != nil {
			return nil, err
		}
		list = append(list, newParting(m, d.Pulled, c.name, back))
		least = d.Least
	}
	odd := true
	for _, p := range list {
		if math.Abs(vector(p.Pull).Dot(vector(least.Pull))) > 1-1e-6 {
			odd = false
		}
	}
	if odd {
		list = append(list, newParting(m, least, "least undercut", back))
	}
	best := 0
	for i, p := range list {
		if colours < 2 && p.better(list[best], m) {
			best = i
		}
	}
	list[0], list[best] = list[best], list[0]
	if asked.Norm() > 0 {
		d, err := hollow.DraftOf(ctx, m, asked)
		if err != nil {
			return nil, err
		}
		list = append([]Parting{newParting(m, d.Pulled, "as asked for", back)}, list...)
	}
	return list, nil
}

func newParting(m *mesh.Mesh, p hollow.Pull, name string, back r3.Vector) Parting {
	pull := vector(p.Pull)
	return Parting{
		HeightMM: p.PartingMM, Pull: p.Pull, UndercutMM2: p.UndercutMM2, Name: name,
		UnevenMM: uneven(m, pull, p.PartingMM), ColourLine: math.Abs(pull.Dot(back)) > 1-1e-9,
	}
}

// better says whether p suits better: undercut first, down to a thousandth of the
// box's face, then the outline.
func (p Parting) better(o Parting, m *mesh.Mesh) bool {
	size := m.Bounds().Size()
	trifle := 1e-3 * max(size.X*size.Y, size.Y*size.Z, size.Z*size.X)
	if math.Abs(p.UndercutMM2-o.UndercutMM2) > trifle {
		return p.UndercutMM2 < o.UndercutMM2
	}
	return p.UnevenMM < o.UnevenMM
}

// uneven is how far edges between what faces up and what faces down stray from a
// height: root mean square by their length. It is 0 where the parting face is flat.
func uneven(m *mesh.Mesh, pull r3.Vector, height float64) float64 {
	up := make([]int8, len(m.Triangles))
	const upright = 1e-6
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
	owner := make(map[[2]int32]int, 3*len(m.Triangles)/2)
	sum, length := 0.0, 0.0
	for t, tri := range m.Triangles {
		for k := range tri {
			a, b := tri[k], tri[(k+1)%3]
			key := [2]int32{min(a, b), max(a, b)}
			other, ok := owner[key]
			if !ok {
				owner[key] = t
				continue
			}
			if up[t]*up[other] < 0 {
				p, q := m.Vertices[a], m.Vertices[b]
				l, h := q.Sub(p).Norm(), p.Add(q).Mul(0.5).Dot(pull)-height
				sum, length = sum+l*h*h, length+l
			}
		}
	}
	if length == 0 {
		return 0
	}
	return math.Sqrt(sum / length)
}

func vector(d [3]float64) r3.Vector { return r3.Vector{X: d[0], Y: d[1], Z: d[2]} }
