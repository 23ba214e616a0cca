// Command draw writes the baits of many shells as binary STL:
//
//	go run ./testdata/shells/draw [-facets 100000] DIR
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"bellyline/testdata/shells"
)

func main() {
	facets := flag.Int("facets", 0, "about how many facets each; 0 is as few as they can be drawn with")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "draw: error: name the folder to draw into")
		os.Exit(2)
	}
	if err := draw(flag.Arg(0), *facets); err != nil {
		fmt.Fprintln(os.Stderr, "draw: error:", err)
		os.Exit(1)
	}
}

func draw(dir string, facets int) error {
	for _, kind := range []func(float64) shells.Model{shells.Finned, shells.Toothed, shells.Skirted} {
		m := shells.Sized(kind, facets)
		path := filepath.Join(dir, m.Name+".stl")
		if err := os.WriteFile(path, shells.STL(m.Corners()), 0o644); err != nil {
			return err
		}
		fmt.Printf("%s: %d shells, %d facets\n", path, len(m.Shells), m.Facets())
	}
	return nil
}
