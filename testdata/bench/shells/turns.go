package main

import (
	"fmt"
	"os/exec"
	"slices"
	"time"
)

// duel is one of our programs and the library on the same work.
type duel struct {
	name         string
	ours, theirs []string
}

// turns runs both sides of each duel one after the other, and prints medians in
// seconds and the median of theirs over ours.
func turns(duels []duel, runs int) error {
	type times struct{ ours, theirs, ratio []float64 }
	took := make([]times, len(duels))
	for turn := -1; turn < runs; turn++ { // the first warms the disk's cache
		for i, d := range duels {
			ours, err := seconds(d.ours)
			if err != nil {
				return err
			}
			theirs, err := seconds(d.theirs)
			if err != nil {
				return err
			}
			if turn >= 0 {
				t := &took[i]
				t.ours, t.theirs, t.ratio = append(t.ours, ours), append(t.theirs, theirs), append(t.ratio, theirs/ours)
			}
		}
	}
	fmt.Printf("  %-16s %12s %14s %18s\n", "", "bellyline s", "manifold-3d s", "manifold over ours")
	for i, d := range duels {
		fmt.Printf("  %-16s %12.3f %14.3f %18.2f\n", d.name, median(took[i].ours), median(took[i].theirs), median(took[i].ratio))
	}
	return nil
}

// seconds runs a whole process.
func seconds(args []string) (float64, error) {
	start := time.Now()
	if out, err := exec.Command(args[0], args[1:]...).CombinedOutput(); err != nil {
		return 0, fmt.Errorf("%v: %w: %s", args, err, out)
	}
	return time.Since(start).Seconds(), nil
}

func median(list []float64) float64 {
	sorted := slices.Sorted(slices.Values(list))
	return sorted[len(sorted)/2]
}
