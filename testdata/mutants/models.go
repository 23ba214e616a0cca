package main

import (
	"bellyline/mesh/solids"
	"bellyline/testdata/shells"

	"github.com/golang/geo/r3"
)

// model is a sound body of one shell or more, and what it holds.
type model struct {
	name      string
	shells    [][]r3.Vector // three corners a facet
	volumeMM3 float64
	boxes     bool // all shells are boxes in whole millimetres
}

func (m model) corners() []r3.Vector { return solids.Join(m.shells...) }

// models draws the five bodies that are damaged. Volumes follow from how each is drawn:
// profiles turned about an axis, boxes counted in unit cells, a block less a cube. What
// nine shells hold together is known to no formula; volumeMM3 is 0 there until the
// program has measured the sound body.
func models() []model {
	const round = 24
	capsule, torus := solids.CapsuleProfile(8, 60, 8), solids.TorusProfile(20, 6, 16)
	blocks := shells.Blocks{
		{Low: [3]int{0, 0, 0}, High: [3]int{40, 14, 12}}, {Low: [3]int{31, 3, 2}, High: [3]int{55, 11, 9}},
		{Low: [3]int{10, 5, 7}, High: [3]int{20, 8, 19}}, {Low: [3]int{15, 6, 15}, High: [3]int{27, 10, 23}},
	}
	filled, _ := blocks.Union()
	pile := model{name: "four blocks", volumeMM3: float64(filled), boxes: true}
	for _, b := range blocks {
		pile.shells = append(pile.shells, b.Shell())
	}
	finned := model{name: "nine shells"}
	for _, s := range shells.Sized(shells.Finned, 1).Shells {
		finned.shells = append(finned.shells, s)
	}
	void := solids.Subdivide(solids.Flip(solids.Move(solids.Cube(0, 6), r3.Vector{X: 10, Y: 5, Z: 3})))
	return []model{
		{name: "capsule", shells: [][]r3.Vector{solids.Lathe(capsule, round)}, volumeMM3: solids.ProfileVolume(capsule) * solids.LatheShare(round)},
		{name: "ring", shells: [][]r3.Vector{solids.Lathe(torus, round)}, volumeMM3: solids.ProfileVolume(torus) * solids.LatheShare(round)},
		{name: "block with a void", shells: [][]r3.Vector{solids.Subdivide(solids.Subdivide(solids.Block(40, 20, 12))), void}, volumeMM3: 40*20*12 - 6*6*6},
		pile,
		finned,
	}
}
