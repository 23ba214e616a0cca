package hollow

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
)

// box is an axis-parallel box, corners in mm.
type box struct{ x0, y0, z0, x1, y1, z1 float64 }

func (b box) volume() float64 { return (b.x1 - b.x0) * (b.y1 - b.y0) * (b.z1 - b.z0) }

func (b box) holds(p r3.Vector) bool {
	return p.X > b.x0 && p.X < b.x1 && p.Y > b.y0 && p.Y < b.y1 && p.Z > b.z0 && p.Z < b.z1
}

// carving is a solid made of boxes, added and taken away in turn. Its surface is
// drawn cell by cell on the grid of all their faces, so it is closed, and its
// volumes are those of boxes.
type carving struct {
	boxes []box
	adds  []bool
}

func blockOf(b box) *carving { return &carving{[]box{b}, []bool{true}} }

func (c *carving) less(b ...box) *carving {
	for _, b := range b {
		c.boxes, c.adds = append(c.boxes, b), append(c.adds, false)
	}
	return c
}

func (c *carving) plus(b ...box) *carving {
	for _, b := range b {
		c.boxes, c.adds = append(c.boxes, b), append(c.adds, true)
	}
	return c
}

func (c *carving) solid(p r3.Vector) bool {
	in := false
	for i, b := range c.boxes {
		if b.holds(p) {
			in = c.adds[i]
		}
	}
	return in
}

// corners draws the surface, facets outward.
func (c *carving) corners() []r3.Vector {
	var xs, ys, zs []float64
	for _, b := range c.boxes {
		xs, ys, zs = append(xs, b.x0, b.x1), append(ys, b.y0, b.y1), append(zs, b.z0, b.z1)
	}
	for _, s := range []*[]float64{&xs, &ys, &zs} {
		slices.Sort(*s)
		*s = slices.Compact(*s)
	}
	cell := func(i, j, k int) bool {
		if i < 0 || j < 0 || k < 0 || i+1 >= len(xs) || j+1 >= len(ys) || k+1 >= len(zs) {
			return false
		}
		return c.solid(r3.Vector{X: (xs[i] + xs[i+1]) / 2, Y: (ys[j] + ys[j+1]) / 2, Z: (zs[k] + zs[k+1]) / 2})
	}
	var out []r3.Vector
	at := func(i, j, k int) r3.Vector { return r3.Vector{X: xs[i], Y: ys[j], Z: zs[k]} }
	quad := func(a, b, c, d r3.Vector) { out = append(out, a, b, c, a, c, d) }
	for i := range len(xs) - 1 {
		for j := range len(ys) - 1 {
			for k := range len(zs) - 1 {
				if !cell(i, j, k) {
					continue
				}
				if !cell(i-1, j, k) {
					quad(at(i, j, k), at(i, j, k+1), at(i, j+1, k+1), at(i, j+1, k))
				}
				if !cell(i+1, j, k) {
					quad(at(i+1, j, k), at(i+1, j+1, k), at(i+1, j+1, k+1), at(i+1, j, k+1))
				}
				if !cell(i, j-1, k) {
					quad(at(i, j, k), at(i+1, j, k), at(i+1, j, k+1), at(i, j, k+1))
				}
				if !cell(i, j+1, k) {
					quad(at(i, j+1, k), at(i, j+1, k+1), at(i+1, j+1, k+1), at(i+1, j+1, k))
				}
				if !cell(i, j, k-1) {
					quad(at(i, j, k), at(i, j+1, k), at(i+1, j+1, k), at(i+1, j, k))
				}
				if !cell(i, j, k+1) {
					quad(at(i, j, k+1), at(i+1, j, k+1), at(i+1, j+1, k+1), at(i, j+1, k+1))
				}
			}
		}
	}
	return out
}

// pose is a way in which a block may lie in its file.
type pose struct {
	name    string
	turn    func(r3.Vector) r3.Vector
	float32 bool
	inches  bool
}

// poses are all six faces up, and random turns and shifts, for double and for
// float32 coordinates, in mm and in inches.
func poses() []pose {
	list := []pose{
		{name: "+z", turn: func(p r3.Vector) r3.Vector { return p }},
		{name: "-z", turn: func(p r3.Vector) r3.Vector { return r3.Vector{X: p.X, Y: -p.Y, Z: -p.Z} }},
		{name: "+x", turn: func(p r3.Vector) r3.Vector { return r3.Vector{X: p.Z, Y: p.X, Z: p.Y} }},
		{name: "-x", turn: func(p r3.Vector) r3.Vector { return r3.Vector{X: -p.Z, Y: p.Y, Z: p.X} }},
		{name: "+y", turn: func(p r3.Vector) r3.Vector { return r3.Vector{X: p.Y, Y: p.Z, Z: p.X} }},
		{name: "-y", turn: func(p r3.Vector) r3.Vector { return r3.Vector{X: p.X, Y: -p.Z, Z: p.Y} }},
	}
	rng := rand.New(rand.NewPCG(4, 4))
	for _, name := range []string{"turned", "turned again"} {
		r := rotation(rng)
		shift := r3.Vector{X: 500 * rng.Float64(), Y: -300 * rng.Float64(), Z: 200 * rng.Float64()}
		list = append(list, pose{name: name, turn: func(p r3.Vector) r3.Vector { return r(p).Add(shift) }})
	}
	for _, p := range list {
		p.name, p.float32 = p.name+" float32", true
		list = append(list, p)
		p.name, p.inches = p.name+" in inches", true
		list = append(list, p)
	}
	return list
}

// rotation returns an evenly distributed rotation (Shoemake, Graphics Gems III,
// 1992; from memory).
func rotation(rng *rand.Rand) func(r3.Vector) r3.Vector {
	u, v, w := rng.Float64(), 2*math.Pi*rng.Float64(), 2*math.Pi*rng.Float64()
	a, b := math.Sqrt(1-u), math.Sqrt(u)
	q := r3.Vector{X: a * math.Sin(v), Y: a * math.Cos(v), Z: b * math.Sin(w)}
	t := b * math.Cos(w)
	return func(p r3.Vector) r3.Vector {
		c := q.Cross(p).Add(p.Mul(t))
		return p.Add(q.Cross(c).Mul(2))
	}
}

// posed puts a body into a pose as a file would keep it.
func (p pose) posed(corners []r3.Vector) *mesh.Mesh {
	out := make([]r3.Vector, len(corners))
	for i, c := range corners {
		c = p.turn(c)
		if p.float32 {
			unit := 1.0
			if p.inches {
				unit = 25.4
			}
			round := func(x float64) float64 { return float64(float32(x/unit)) * unit }
			c = r3.Vector{X: round(c.X), Y: round(c.Y), Z: round(c.Z)}
		}
		out[i] = c
	}
	return mesh.New(out)
}

func find(t *testing.T, m *mesh.Mesh, opts Options) *Half {
	t.Helper()
	h, err := Find(t.Context(), m, opts)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// near fails unless got is within a bound of want.
func near(t *testing.T, what string, got, want, bound float64) {
	t.Helper()
	if !(math.Abs(got-want) <= bound) {
		t.Errorf("%s is %.12g, want %.12g within %.2g (off by %.3g)", what, got, want, bound, got-want)
	}
}
