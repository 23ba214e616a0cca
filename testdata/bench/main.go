// Command bench times bellyline against the other programs that it finds, on a
// bait-like closed body drawn at several sizes, one after the other in one run:
//
//	go run ./testdata/bench                 100 k and 1 M facets
//	go run ./testdata/bench -sizes 10000000 -runs 3
//
// Every program is a whole process reading the same file. Runs take turns, and
// the ratio given is the median of the ratios turn by turn, so that a noisy or
// drifting machine tells as little as possible. It needs some 500 MB of disk for
// 10 M facets.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

func main() {
	sizes := flag.String("sizes", "100000,1000000", "facets, separated by commas")
	runs := flag.Int("runs", 5, "counted runs of each program, after one that is not")
	flag.Parse()
	if err := bench(*sizes, *runs); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func bench(sizes string, runs int) error {
	dir, err := os.MkdirTemp("", "bellyline-bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	ours := filepath.Join(dir, "bellyline")
	if out, err := exec.Command("go", "build", "-trimpath", "-o", ours, "bellyline/cmd/bellyline").CombinedOutput(); err != nil {
		return fmt.Errorf("building bellyline: %w: %s", err, out)
	}
	plain := buildPlain(dir)
	for size := range strings.SplitSeq(sizes, ",") {
		facets, err := strconv.Atoi(strings.TrimSpace(size))
		if err != nil || facets < 100 {
			return fmt.Errorf("%q is no number of facets of at least 100", size)
		}
		if err := benchSize(dir, ours, plain, facets, runs); err != nil {
			return err
		}
	}
	return nil
}

// mostText is the largest body that is also written as text: more takes minutes.
const mostText = 1_000_000

func benchSize(dir, ours, plain string, facets, runs int) error {
	binary := filepath.Join(dir, "body.stl")
	drawn, err := writeBody(binary, facets, false)
	if err != nil {
		return err
	}
	fmt.Printf("\n%d facets, binary\n", drawn)
	pairs := []pair{
		{"read, weld, check, volume", []string{ours, "measure", "--quick", "--json", binary}},
		{"all of measure", []string{ours, "measure", "--json", binary}},
	}
	if err := comparePrograms(pairs, references(plain, binary), runs); err != nil {
		return err
	}
	full, err := once(pairs[1])
	if err != nil {
		return err
	}
	if err := timeInterrupts(pairs[1], time.Duration(full.seconds*float64(time.Second))); err != nil {
		return err
	}
	if drawn > mostText {
		return os.Remove(binary)
	}
	text := filepath.Join(dir, "body-text.stl")
	if _, err := writeBody(text, facets, true); err != nil {
		return err
	}
	fmt.Printf("\n%d facets, text\n", drawn)
	pairs = []pair{{"read, weld, check, volume", []string{ours, "measure", "--quick", "--json", text}}}
	return comparePrograms(pairs, references("", text), runs)
}

// references lists the other programs that are here.
func references(plain, file string) []pair {
	var list []pair
	if path, err := exec.LookPath("admesh"); err == nil {
		list = append(list,
			pair{"admesh", []string{path, file}},
			pair{"admesh -e (exact match only)", []string{path, "-e", file}})
	}
	if plain != "" {
		list = append(list, pair{"plain C (hash weld, edge check)", []string{plain, file}})
	}
	return list
}
