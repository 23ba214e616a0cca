// Command draw writes the models of the invented shop in examples. All data are
// invented: none is measured from a real bait.
//
//	go run ./examples/draw [FOLDER]
//
// FOLDER is the folder of the examples, examples if it is not given. Corners
// come out the same on every machine, see grid.
//
// All baits are in millimetres, nose towards +x, back towards +z, and widest at
// z = 0, where the mold parts. Mold halves lie with their parting face up.
//
// A body is drawn in one of two ways: swept through control sections along a
// path (curve.go, sweep.go), or as a plan seen from above, with limbs, rounded by
// subdivision (plan.go, limb.go, subdivide.go). Reliefs are then carved into it
// (relief.go), and finish.go turns it into facets.
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"bellyline/mesh"
	"bellyline/mesh/stl"
)

// model is one file of the examples.
type model struct {
	path string // below the folder of the examples, with slashes
	draw func() *mesh.Mesh
}

func models() []model {
	return []model{
		{"paddletail/bait.stl", paddletail},
		{"paddletail/runner.stl", runner},
		{"ringgrub/bait.stl", ringgrub},
		{"clawcraw/bait.stl", clawcraw},
	}
}

// halves are the files that are mold halves and no bait.
func halves() []model {
	return []model{
		{"shadmold/plain-half.stl", func() *mesh.Mesh { return shadHalf(false) }},
		{"shadmold/marked-half.stl", func() *mesh.Mesh { return shadHalf(true) }},
	}
}

func main() {
	folder := "examples"
	switch {
	case len(os.Args) == 2:
		folder = os.Args[1]
	case len(os.Args) > 2:
		fmt.Fprintln(os.Stderr, "draw: error: more than one folder named")
		fmt.Fprintln(os.Stderr, "draw: hint: go run ./examples/draw [FOLDER]")
		os.Exit(2)
	}
	if err := write(folder); err != nil {
		fmt.Fprintln(os.Stderr, "draw: error:", err)
		fmt.Fprintln(os.Stderr, "draw: hint: run it at the top of the repository, or name the folder examples")
		os.Exit(1)
	}
}

// write draws all models into their subfolders of folder, which must be there.
func write(folder string) error {
	for _, m := range append(models(), halves()...) {
		path := filepath.Join(folder, filepath.FromSlash(m.path))
		if err := stl.WriteFile(path, m.header(), m.draw()); err != nil {
			return err
		}
		fmt.Println(path)
	}
	return nil
}

// header returns what the file says about itself before its facets.
func (m model) header() string {
	return "bellyline example " + m.path + ", mm, all data invented"
}
