package main

import (
	"fmt"
	"io"
	"os/exec"
	"slices"
	"time"
)

// pair is a program under a name.
type pair struct {
	name string
	args []string
}

// timing is what one run of a process took.
type timing struct {
	seconds float64
	peakMiB float64 // 0 where the system does not tell
}

// comparePrograms runs all in turns and prints medians, and the ratio of each
// reference to each of ours.
func comparePrograms(ours, others []pair, runs int) error {
	all := slices.Concat(ours, others)
	times := make([][]timing, len(all))
	for turn := -1; turn < runs; turn++ {
		for i, p := range all {
			t, err := once(p)
			if err != nil {
				return err
			}
			if turn >= 0 {
				times[i] = append(times[i], t)
			}
		}
	}
	fmt.Printf("  %-34s %9s %9s", "", "median s", "peak MiB")
	for _, p := range ours {
		fmt.Printf("  times %-26s", p.name)
	}
	fmt.Println()
	for i, p := range all {
		fmt.Printf("  %-34s %9.4f %9.0f", p.name, median(times[i], func(t timing) float64 { return t.seconds }),
			median(times[i], func(t timing) float64 { return t.peakMiB }))
		for k := range ours {
			fmt.Printf("  %-32.2f", ratio(times[i], times[k]))
		}
		fmt.Println()
	}
	return nil
}

func once(p pair) (timing, error) {
	cmd := exec.Command(p.args[0], p.args[1:]...)
	cmd.Stdout, cmd.Stderr = io.Discard, io.Discard
	start := time.Now()
	if err := cmd.Run(); err != nil {
		return timing{}, fmt.Errorf("%s: %w", p.name, err)
	}
	return timing{time.Since(start).Seconds(), peakMiB(cmd.ProcessState)}, nil
}

// ratio is the median, turn by turn, of a's time over b's.
func ratio(a, b []timing) float64 {
	var list []float64
	for i := range a {
		list = append(list, a[i].seconds/b[i].seconds)
	}
	slices.Sort(list)
	return list[len(list)/2]
}

func median(times []timing, of func(timing) float64) float64 {
	var list []float64
	for _, t := range times {
		list = append(list, of(t))
	}
	slices.Sort(list)
	return list[len(list)/2]
}
