package halfedge_test

import (
	"math/rand/v2"
	"slices"

	"github.com/golang/geo/r3"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// body is a surface whose counts follow from how it is drawn.
type body struct {
	name                    string
	triangles               [][3]int32
	vertices                int
	facets, corners, shells int
	euler                   int // vertices - edges + facets: 2 less 2 a handle, for each shell
}

func numbered(corners []r3.Vector) ([][3]int32, int) {
	m := mesh.New(corners)
	return m.Triangles, len(m.Vertices)
}

// inOrder are surfaces without anything out of order.
func inOrder() []body {
	list := []body{
		// Counts of the regular bodies: Euclid, Elements XIII. A square is cut into 2
		// facets, a pentagon into 5 round a corner in its middle.
		{name: "tetrahedron", facets: 4, corners: 4, shells: 1, euler: 2},
		{name: "octahedron", facets: 8, corners: 6, shells: 1, euler: 2},
		{name: "box", facets: 12, corners: 8, shells: 1, euler: 2},
		{name: "icosahedron", facets: 20, corners: 12, shells: 1, euler: 2},
		{name: "dodecahedron", facets: 60, corners: 32, shells: 1, euler: 2},
		// Each halving makes four facets of one: 20 * 4^3, and by Euler's formula with
		// three half-edges a facet half as many corners as facets, and 2.
		{name: "ball", facets: 1280, corners: 642, shells: 1, euler: 2},
		{name: "large ball", facets: 20480, corners: 10242, shells: 1, euler: 2},
		// 24 round the ring by 8 round the tube: a corner each, two facets a corner.
		{name: "torus", facets: 384, corners: 192, shells: 1, euler: 0},
		// A fan of 100 at each end, two facets a side between: one vertex has many edges.
		{name: "prism", facets: 400, corners: 202, shells: 1, euler: 2},
		// Twice a box.
		{name: "two boxes", facets: 24, corners: 16, shells: 2, euler: 4},
		{name: "hollow box", facets: 24, corners: 16, shells: 2, euler: 4},
	}
	apart := solids.Move(solids.Cube(0, 1), r3.Vector{X: 5})
	inner := solids.Flip(solids.Move(solids.Cube(0, 1), r3.Vector{X: 1, Y: 1, Z: 1}))
	for i, c := range [][]r3.Vector{
		solids.Tetrahedron(1), solids.Octahedron(1), solids.Block(1, 2, 3), solids.Icosahedron(1), solids.Dodecahedron(1),
		solids.Icosphere(1, 3), solids.Icosphere(1, 5), solids.Torus(3, 1, 24, 8), solids.Prism(1, 1, 100),
		solids.Join(solids.Cube(0, 1), apart), solids.Join(solids.Cube(0, 3), inner),
	} {
		list[i].triangles, list[i].vertices = numbered(c)
	}
	return list
}

// shuffled returns facets in another order, each begun at another corner.
func shuffled(triangles [][3]int32, seed uint64) [][3]int32 {
	rng := rand.New(rand.NewPCG(seed, 1))
	out := slices.Clone(triangles)
	rng.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	for i, t := range out {
		k := rng.IntN(3)
		out[i] = [3]int32{t[k], t[(k+1)%3], t[(k+2)%3]}
	}
	return out
}

// openPrism is the wall of a prism of n sides without its ends: 2n facets, and two
// rims of n edges. Its first n vertices are the lower rim.
func openPrism(n int32) [][3]int32 {
	var wall [][3]int32
	for i := range n {
		j := (i + 1) % n
		wall = append(wall, [3]int32{i, j, n + j}, [3]int32{i, n + j, n + i})
	}
	return wall
}

// fan is n facets, all at the edge from vertex 0 to vertex 1, which every second one
// runs back.
func fan(n int32) [][3]int32 {
	var f [][3]int32
	for i := range n {
		if i%2 == 0 {
			f = append(f, [3]int32{0, 1, 2 + i})
		} else {
			f = append(f, [3]int32{1, 0, 2 + i})
		}
	}
	return f
}
