// Command shells times the union of many shells against another program: bellyline
// and the library manifold-3d under node, whole processes on the same drawn files,
// in turns, in one run.
//
//	.ci/manifold DIR
//	BELLYLINE_MANIFOLD=DIR go run ./testdata/bench/shells [-facets 100000] [-runs 5]
//
// The ratio given is the median of the ratios turn by turn, so that a noisy machine
// tells as little as possible. "unite and save" reads a file, makes the union's mesh
// and writes it, which is all that the library is asked for too; "measure" does
// without the file but tells more.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"bellyline/testdata/manifold"
	"bellyline/testdata/shells"
)

func main() {
	facets := flag.Int("facets", 100_000, "about how many facets each bait has")
	runs := flag.Int("runs", 5, "counted turns, after one that is not")
	flag.Parse()
	if err := bench(*facets, max(1, *runs)); err != nil {
		fmt.Fprintln(os.Stderr, "shells:", err)
		os.Exit(1)
	}
}

func bench(facets, runs int) error {
	dir, err := os.MkdirTemp("", "bellyline-shells")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	measure, err := build(dir, "bellyline/cmd/bellyline")
	if err != nil {
		return err
	}
	unite, err := build(dir, "bellyline/testdata/bench/shells/unite")
	if err != nil {
		return err
	}
	for _, draw := range []func(float64) shells.Model{shells.Finned, shells.Toothed, shells.Skirted} {
		m := shells.Sized(draw, facets)
		file, saved := filepath.Join(dir, m.Name+".stl"), filepath.Join(dir, "saved.stl")
		if err := os.WriteFile(file, shells.STL(m.Corners()), 0o600); err != nil {
			return err
		}
		library, err := manifold.Command(dir, file, "")
		if err != nil {
			return err
		}
		saving, err := manifold.Command(dir, file, saved)
		if err != nil {
			return err
		}
		fmt.Printf("\n%s: %d shells, %d facets\n", m.Name, len(m.Shells), m.Facets())
		err = turns([]duel{
			{"measure", []string{measure, "measure", "--json", file}, library},
			{"unite and save", []string{unite, file, saved}, saving},
		}, runs)
		if err != nil {
			return err
		}
	}
	return nil
}

// build compiles a program of this module into dir and returns its path.
func build(dir, pkg string) (string, error) {
	path := filepath.Join(dir, filepath.Base(pkg))
	if out, err := exec.Command("go", "build", "-trimpath", "-o", path, pkg).CombinedOutput(); err != nil {
		return "", fmt.Errorf("building %s: %w: %s", pkg, err, strings.TrimSpace(string(out)))
	}
	return path, nil
}
