// Command mutants damages five sound models in some twenty ways, runs the program on
// each damaged file, and counts what must not be: panics, runs past 20 s or 1 GiB, and
// numbers beyond their own bound.
//
//	go run ./testdata/mutants                 5000 mutants
//	go run ./testdata/mutants -n 60 -from 0
//	go run ./testdata/mutants -from 1234 -n 1 -keep mutant.stl
//
// Mutants are numbered, and each is the same every time.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

func main() {
	n := flag.Int("n", 5000, "how many mutants")
	from := flag.Int("from", 0, "number of the first")
	size := flag.String("size", string(sizeAll), "of which mutants size is asked: all, plain (where no shells overlap) or none")
	keep := flag.String("keep", "", "write the first mutant to this file, and run nothing")
	flag.Parse()
	if err := mutate(span{*from, *n, sizes(*size)}, *keep); err != nil {
		fmt.Fprintln(os.Stderr, "mutants:", err)
		os.Exit(1)
	}
}

func mutate(chosen span, keep string) error {
	all := models()
	if keep != "" {
		return os.WriteFile(keep, drawMutant(all[chosen.from%len(all)], chosen.from).file, 0o644)
	}
	dir, err := os.MkdirTemp("", "bellyline-mutants")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "bellyline")
	if out, err := exec.Command("go", "build", "-o", program, "bellyline/cmd/bellyline").CombinedOutput(); err != nil {
		return fmt.Errorf("building bellyline: %w: %s", err, out)
	}
	found, err := hunt(context.Background(), program, dir, chosen)
	if err != nil {
		return err
	}
	found.print(os.Stdout)
	if len(found.faults) > 0 {
		return fmt.Errorf("%d faults", len(found.faults))
	}
	return nil
}
