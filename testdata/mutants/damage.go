package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"bellyline/mesh/solids"
	"bellyline/testdata/shells"

	"github.com/golang/geo/r3"
)

// mutant is a damaged model on its way into a file. Between low and high lies what the
// body holds by any reading that makes sense; both are 0 where that is not known.
type mutant struct {
	kind      string
	corners   []r3.Vector
	ascii     bool
	file      []byte
	low, high float64
}

func (m *mutant) unknown() { m.low, m.high = 0, 0 }

// damage is one kind of fault. Those of a body change corners, those of a file its bytes.
type damage struct {
	name string
	body func(m *mutant, from model, rng *rand.Rand)
	file func(m *mutant, rng *rand.Rand)
}

func damages() []damage {
	return []damage{
		{name: "facets dropped", body: func(m *mutant, _ model, rng *rand.Rand) {
			for range 1 + rng.IntN(4) {
				f := m.someFacet(rng)
				m.corners = slices.Delete(m.corners, f, f+3)
			}
		}},
		{name: "facets turned", body: func(m *mutant, _ model, rng *rand.Rand) {
			for range 1 + rng.IntN(6) {
				f := m.someFacet(rng)
				m.corners[f], m.corners[f+1] = m.corners[f+1], m.corners[f]
			}
		}},
		{name: "facets doubled", body: func(m *mutant, _ model, rng *rand.Rand) {
			for range 1 + rng.IntN(4) {
				f := m.someFacet(rng)
				m.corners = append(m.corners, m.corners[f:f+3]...)
			}
		}},
		{name: "vertices moved", body: moveVertices},
		{name: "one corner of a facet moved", body: func(m *mutant, _ model, rng *rand.Rand) {
			m.corners[rng.IntN(len(m.corners))] = m.corners[rng.IntN(len(m.corners))].Add(someWay(rng).Mul(math.Pow(10, 2-6*rng.Float64())))
		}},
		{name: "facets that miss each other", body: func(m *mutant, _ model, rng *rand.Rand) {
			reach := math.Pow(10, -1-4*rng.Float64())
			for i := range m.corners {
				m.corners[i] = m.corners[i].Add(someWay(rng).Mul(reach))
			}
			m.low, m.high = m.low*(1-1e-2), m.high*(1+1e-2) // what the moves themselves may do to it
		}},
		{name: "shells turned", body: turnShells},
		{name: "all turned", body: func(m *mutant, _ model, _ *rand.Rand) { m.corners = solids.Flip(m.corners) }},
		{name: "shells sunk into each other", body: sinkShells},
		{name: "drawn twice", body: func(m *mutant, _ model, _ *rand.Rand) { m.corners = solids.Join(m.corners, m.corners) }},
		{name: "in another order", body: func(m *mutant, _ model, rng *rand.Rand) { m.corners = solids.Shuffle(m.corners, rng) }},
		{name: "no numbers", body: func(m *mutant, _ model, rng *rand.Rand) {
			odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 3e38, 1e-45}
			m.corners[rng.IntN(len(m.corners))].Y = odd[rng.IntN(len(odd))]
		}},
		{name: "huge or tiny", body: func(m *mutant, _ model, rng *rand.Rand) {
			by := math.Pow(10, 70*rng.Float64()-35)
			m.corners = solids.Scale(m.corners, by, by, by)
			m.unknown()
		}},
		{name: "far off", body: func(m *mutant, _ model, rng *rand.Rand) {
			m.corners = solids.Move(m.corners, someWay(rng).Mul(math.Pow(10, 2+5*rng.Float64())))
			m.unknown() // float32 steps move its corners
		}},
		{name: "bytes flipped", file: func(m *mutant, rng *rand.Rand) {
			for range 1 + rng.IntN(3) {
				m.file[rng.IntN(len(m.file))] ^= byte(1 << rng.IntN(8))
			}
		}},
		{name: "bytes at random", file: func(m *mutant, rng *rand.Rand) {
			for range 1 + rng.IntN(40) {
				m.file[rng.IntN(len(m.file))] = byte(rng.IntN(256))
			}
			m.unknown()
		}},
		{name: "truncated", file: func(m *mutant, rng *rand.Rand) { m.file = m.file[:rng.IntN(len(m.file))]; m.unknown() }},
		{name: "bytes lost within", file: func(m *mutant, rng *rand.Rand) {
			at := rng.IntN(len(m.file))
			m.file = slices.Delete(m.file, at, min(len(m.file), at+1+rng.IntN(200)))
			m.unknown()
		}},
		{name: "a piece put in again", file: func(m *mutant, rng *rand.Rand) {
			at, n := rng.IntN(len(m.file)), 1+rng.IntN(400)
			m.file = slices.Insert(m.file, rng.IntN(len(m.file)), m.file[at:min(len(m.file), at+n)]...)
			m.unknown()
		}},
		{name: "noise in text", file: noise},
	}
}

// someFacet returns where a facet begins; the last one is never taken away.
func (m *mutant) someFacet(rng *rand.Rand) int { return 3 * rng.IntN(max(1, len(m.corners)/3)) }

func someWay(rng *rand.Rand) r3.Vector {
	return r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Normalize().Mul(rng.Float64())
}

// moveVertices moves some corners with all facets at them.
func moveVertices(m *mutant, _ model, rng *rand.Rand) {
	reach := math.Pow(10, 2-5*rng.Float64())
	for range 1 + rng.IntN(3) {
		from := m.corners[rng.IntN(len(m.corners))]
		to := from.Add(someWay(rng).Mul(reach))
		for i, p := range m.corners {
			if p == from {
				m.corners[i] = to
			}
		}
	}
	m.unknown()
}

// turnShells turns some shells over. Each may be meant as a body, a void or a cut, so
// what the body holds may be less by all of them.
func turnShells(m *mutant, from model, rng *rand.Rand) {
	m.corners = nil
	for _, s := range from.shells {
		if rng.IntN(2) == 0 {
			m.corners = append(m.corners, s...)
			continue
		}
		m.corners = append(m.corners, solids.Flip(s)...)
		m.high += math.Abs(signedSum(s)) // a void may be a body
	}
}

// sinkShells puts the body into itself, shifted, so that it holds between what it held
// and twice that; boxes are counted.
func sinkShells(m *mutant, from model, rng *rand.Rand) {
	way := [3]int{rng.IntN(21) - 10, rng.IntN(15) - 7, rng.IntN(11) - 5}
	m.corners = solids.Join(m.corners, solids.Move(m.corners, r3.Vector{X: float64(way[0]), Y: float64(way[1]), Z: float64(way[2])}))
	m.high *= 2
	if !from.boxes {
		return
	}
	var all shells.Blocks
	for _, s := range from.shells {
		low, high := s[0], s[0]
		for _, p := range s {
			low = r3.Vector{X: min(low.X, p.X), Y: min(low.Y, p.Y), Z: min(low.Z, p.Z)}
			high = r3.Vector{X: max(high.X, p.X), Y: max(high.Y, p.Y), Z: max(high.Z, p.Z)}
		}
		b := shells.Block{Low: [3]int{int(low.X), int(low.Y), int(low.Z)}, High: [3]int{int(high.X), int(high.Y), int(high.Z)}}
		moved := b
		for k := range 3 {
			moved.Low[k] += way[k]
			moved.High[k] += way[k]
		}
		all = append(all, b, moved)
	}
	filled, _ := all.Union()
	m.low, m.high = float64(filled), float64(filled)
}

// noise changes, drops and adds characters of an ASCII file, few or many.
func noise(m *mutant, rng *rand.Rand) {
	if !m.ascii {
		m.file = text(m.corners, 9)
		m.ascii = true
	}
	const with = "0123456789-+.eE \n\tnaifvx#\x00\xff,"
	for range 1 + rng.IntN(8) {
		at := rng.IntN(len(m.file))
		switch rng.IntN(3) {
		case 0:
			m.file[at] = with[rng.IntN(len(with))]
		case 1:
			m.file = slices.Insert(m.file, at, with[rng.IntN(len(with))])
		default:
			m.file = slices.Delete(m.file, at, at+1)
		}
	}
	m.unknown() // a digit lost from a number used once may move a corner by any length
}

// text writes facets as ASCII STL with so many digits.
func text(corners []r3.Vector, digits int) []byte {
	var out bytes.Buffer
	out.WriteString("solid m\n")
	for i := 0; i+2 < len(corners); i += 3 {
		out.WriteString("facet normal 0 0 0\nouter loop\n")
		for _, p := range corners[i : i+3] {
			fmt.Fprintf(&out, "vertex %.*g %.*g %.*g\n", digits, p.X, digits, p.Y, digits, p.Z)
		}
		out.WriteString("endloop\nendfacet\n")
	}
	out.WriteString("endsolid m\n")
	return out.Bytes()
}

// signedSum is the plain sum of tetrahedra about the origin.
func signedSum(corners []r3.Vector) float64 {
	var six float64
	for i := 0; i+2 < len(corners); i += 3 {
		six += corners[i].Dot(corners[i+1].Cross(corners[i+2]))
	}
	return six / 6
}

// drawMutant draws the n-th mutant of a model: the same each time. One in four has two
// kinds of damage; one in three is text.
func drawMutant(from model, n int) *mutant {
	rng := rand.New(rand.NewPCG(uint64(n), 20))
	m := &mutant{corners: from.corners(), ascii: rng.IntN(3) == 0, low: from.volumeMM3, high: from.volumeMM3}
	all := damages()
	chosen := []damage{all[rng.IntN(len(all))]}
	if rng.IntN(4) == 0 {
		chosen = append(chosen, all[rng.IntN(len(all))])
	}
	// Faults of the whole body go before those of its facets, those before the file's.
	for _, d := range chosen {
		m.kind += "+" + d.name
		if d.body != nil && !(d.name == "shells turned" && len(chosen) > 1) {
			d.body(m, from, rng)
		}
	}
	m.kind = m.kind[1:]
	if m.file = shells.STL(m.corners); m.ascii {
		m.file = text(m.corners, 9)
	}
	for _, d := range chosen {
		if d.file != nil && len(m.file) > 0 {
			d.file(m, rng)
		}
	}
	if len(chosen) > 1 {
		m.unknown() // two faults together can look like something meant
	}
	return m
}
