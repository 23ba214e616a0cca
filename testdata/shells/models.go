package shells

import (
	"math"

	"github.com/golang/geo/r3"
)

// Model is a bait of several shells.
type Model struct {
	Name   string
	Shells []Shell
}

// Facets returns how many facets all shells have.
func (m Model) Facets() int { return len(m.Corners()) / 3 }

// Corners returns all shells as one list, three corners a facet.
func (m Model) Corners() []r3.Vector {
	var all []r3.Vector
	for _, s := range m.Shells {
		all = append(all, s...)
	}
	return all
}

// Finned is a minnow of nine shells: body, paddle, four fins sunk into its skin, two
// eyes, and a keel that runs through the belly.
func Finned(fine float64) Model {
	f := fineness(fine)
	left, up := r3.Vector{Y: 1}, r3.Vector{Z: 1}
	return Model{"finned", []Shell{
		f.body(95, 7, 10),
		f.fin(r3.Vector{X: 9, Z: 1}, r3.Vector{X: -9, Z: 1.3}, left, 1.6, 7.5),
		f.fin(r3.Vector{X: 60, Z: 4}, r3.Vector{X: 49, Y: 0.1, Z: 15}, left, 1.3, 6),
		f.fin(r3.Vector{X: 33, Z: 1}, r3.Vector{X: 27, Y: -0.1, Z: 10}, left, 1, 4),
		f.fin(r3.Vector{X: 68, Y: 3, Z: -2}, r3.Vector{X: 58, Y: 13, Z: -6}, up, 0.9, 4),
		f.fin(r3.Vector{X: 68, Y: -3, Z: -2}, r3.Vector{X: 58, Y: -13, Z: -6}, up, 0.9, 4),
		f.ball(r3.Vector{X: 84, Y: 4.4, Z: 4}, r3.Vector{X: 2.2, Y: 1.6, Z: 2.2}),
		f.ball(r3.Vector{X: 84, Y: -4.4, Z: 4}, r3.Vector{X: 2.2, Y: 1.6, Z: 2.2}),
		f.fin(r3.Vector{X: 74, Z: -4}, r3.Vector{X: 22, Z: -5.5}, left, 1.2, 4.5),
	}}
}

// Toothed is a predator of 94 shells: body, two jaws, four fins, two eyes with pupils,
// a tongue, 48 teeth in the jaws, and 34 scales that overlap along the back.
func Toothed(fine float64) Model {
	f := fineness(fine)
	left := r3.Vector{Y: 1}
	m := Model{"toothed", []Shell{
		f.body(100, 8, 9),
		f.fin(r3.Vector{X: 86, Z: 4}, r3.Vector{X: 112, Z: 6.5}, r3.Vector{Z: 1}, 2.2, 6),
		f.fin(r3.Vector{X: 86, Z: -1}, r3.Vector{X: 109, Z: -3}, r3.Vector{Z: 1}, 2, 5.5),
		f.fin(r3.Vector{X: 6, Z: 1}, r3.Vector{X: -12, Z: 2}, left, 1.5, 8),
		f.fin(r3.Vector{X: 40, Z: 2}, r3.Vector{X: 31, Z: 14}, left, 1.1, 5),
		f.fin(r3.Vector{X: 66, Y: 4, Z: -2}, r3.Vector{X: 55, Y: 14, Z: -5}, r3.Vector{Z: 1}, 1, 4),
		f.fin(r3.Vector{X: 66, Y: -4, Z: -2}, r3.Vector{X: 55, Y: -14, Z: -5}, r3.Vector{Z: 1}, 1, 4),
		f.fin(r3.Vector{X: 88, Z: 1.2}, r3.Vector{X: 107, Z: 1.6}, r3.Vector{Z: 1}, 1, 2.5),
	}}
	for _, y := range []float64{1, -1} {
		m.Shells = append(m.Shells,
			f.ball(r3.Vector{X: 80, Y: 5.2 * y, Z: 5.5}, r3.Vector{X: 2.4, Y: 1.8, Z: 2.4}),
			f.ball(r3.Vector{X: 80.2, Y: 6.8 * y, Z: 5.8}, r3.Vector{X: 1, Y: 0.7, Z: 1}))
	}
	for i := range 48 {
		upper, y, at := i%2 == 0, float64(i/2%2)*2-1, float64(i/4)
		root := r3.Vector{X: 93 + 1.3*at, Y: y * (4.6 - 0.25*at), Z: 4.6}
		tip := root.Add(r3.Vector{X: 0.3, Y: 0.2 * y, Z: -3.3})
		if !upper {
			root.Z, tip.Z = -1.4, 1.7
		}
		m.Shells = append(m.Shells, f.spike(root, tip, 0.7, r3.Vector{X: 0.2}))
	}
	for i := range 34 {
		along, y := float64(i/2), float64(i%2)*2-1
		m.Shells = append(m.Shells,
			f.ball(r3.Vector{X: 22 + 2.6*along, Y: 2.1 * y, Z: 5.5 + 3*math.Sin(along/6)}, r3.Vector{X: 2.2, Y: 2.4, Z: 3.1}))
	}
	return m
}

// Skirted is a craw of 103 shells: body, two claws of two shells each, two eyes, 36
// beads that make up a tail, 18 legs and 42 strings of a skirt, many of which cross.
func Skirted(fine float64) Model {
	f := fineness(fine)
	m := Model{"skirted", []Shell{f.body(70, 8, 8)}}
	for _, y := range []float64{1, -1} {
		m.Shells = append(m.Shells,
			f.fin(r3.Vector{X: 60, Y: 4 * y}, r3.Vector{X: 88, Y: 16 * y, Z: 2}, r3.Vector{Z: 1}, 2.4, 5),
			f.spike(r3.Vector{X: 76, Y: 11 * y, Z: 1}, r3.Vector{X: 95, Y: 9 * y, Z: 2.5}, 2.2, r3.Vector{Y: -2 * y}),
			f.ball(r3.Vector{X: 64, Y: 3.5 * y, Z: 5.5}, r3.Vector{X: 1.5, Y: 1.5, Z: 1.7}))
	}
	for i := range 36 {
		x := 4 - 1.1*float64(i)
		wide := 4 - 0.07*float64(i)
		m.Shells = append(m.Shells, f.ball(r3.Vector{X: x, Z: 0.5 * math.Sin(float64(i)/4)}, r3.Vector{X: 1, Y: wide, Z: 0.8 * wide}))
	}
	for i := range 18 {
		x, y := 16+4.5*float64(i/2), float64(i%2)*2-1
		root := r3.Vector{X: x, Y: 2.5 * y, Z: -2}
		m.Shells = append(m.Shells, f.spike(root, root.Add(r3.Vector{X: -5, Y: 14 * y, Z: -5}), 1, r3.Vector{Z: 2}))
	}
	for i := range 42 {
		turn := 2 * math.Pi * float64(i) / 42
		sin, cos := math.Sincos(turn)
		root := r3.Vector{X: 50, Y: 3 * cos, Z: 1.5 + 3*sin}
		tip := r3.Vector{X: 6 + 4*math.Sin(5*turn), Y: 21 * cos, Z: 1.5 + 21*sin}
		m.Shells = append(m.Shells, f.spike(root, tip, 0.8, r3.Vector{Y: -4 * sin, Z: 4 * cos}))
	}
	return m
}

// All draws the three models.
func All(fine float64) []Model { return []Model{Finned(fine), Toothed(fine), Skirted(fine)} }

// Sized draws a model with about so many facets, never fewer than at fineness 1.
func Sized(draw func(fine float64) Model, facets int) Model {
	fine := 1.0
	for range 3 { // counts of corners are whole numbers: the square law is a first guess
		fine = max(1, fine*math.Sqrt(float64(facets)/float64(draw(fine).Facets())))
	}
	return draw(fine)
}
