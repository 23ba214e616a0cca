package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"bellyline/testdata/shells"
)

// question is one way of asking about a model.
type question struct {
	name string
	args []string // the model's name goes after the first
}

// questions are asked in this order: what split and size say is held against measure.
func questions() []question {
	return []question{
		{"measure", []string{"measure", "--json"}},
		{"measure --mend", []string{"measure", "--mend", "--json"}},
		{"split", []string{"split", "--mend", "--belly-share", "40/60", "--json"}},
		{"size", []string{"size", "--mend", "--barrel", "120", "--json"}},
	}
}

// sizes says of which mutants size is asked. It lays out a whole mold, which takes a
// hundred times what the rest takes, and more where shells overlap.
type sizes string

const (
	sizeAll   sizes = "all"
	sizePlain sizes = "plain" // where no shells overlap
	sizeNone  sizes = "none"
)

func (s sizes) wants(overlaps bool) bool { return s == sizeAll || s == sizePlain && !overlaps }

// findings is what came of all mutants.
type findings struct {
	mutants  int
	answered map[string]int // by question
	refused  map[string]int
	known    int // answers that could be held against a known volume
	faults   []string
	slowest  named
	largest  named
}

// named is a number of one run.
type named struct {
	what  string
	value float64
}

// span is which mutants are drawn.
type span struct {
	from, n int
	size    sizes
}

// hunt draws mutants and asks about each, two at a time.
func hunt(ctx context.Context, program, dir string, chosen span) (*findings, error) {
	all := models()
	if err := measureSound(ctx, program, dir, all); err != nil {
		return nil, err
	}
	found := &findings{answered: map[string]int{}, refused: map[string]int{}}
	var mu sync.Mutex
	var group sync.WaitGroup
	var failed error
	numbers := make(chan int)
	for worker := range min(2, runtime.NumCPU()) {
		group.Go(func() {
			path := filepath.Join(dir, fmt.Sprintf("mutant%d.stl", worker))
			for i := range numbers {
				from := all[i%len(all)]
				one, err := asker{program, path, chosen.size}.ask(ctx, drawMutant(from, i), fmt.Sprintf("%d (%s", i, from.name))
				mu.Lock()
				if failed = firstError(failed, err); err == nil {
					found.add(one)
				}
				mu.Unlock()
			}
		})
	}
	for i := chosen.from; i < chosen.from+chosen.n; i++ {
		numbers <- i
	}
	close(numbers)
	group.Wait()
	slices.Sort(found.faults)
	return found, failed
}

func firstError(first, next error) error {
	if first != nil {
		return first
	}
	return next
}

// measureSound fills in the volume of the body that no formula knows.
func measureSound(ctx context.Context, program, dir string, all []model) error {
	for i := range all {
		path := filepath.Join(dir, "sound.stl")
		if err := os.WriteFile(path, shells.STL(all[i].corners()), 0o644); err != nil {
			return err
		}
		o, err := run(ctx, program, "measure", path, "--json")
		if err != nil {
			return err
		}
		held, wrong := judgeMeasure(o.stdout, &mutant{low: all[i].volumeMM3, high: all[i].volumeMM3})
		if wrong != "" {
			return fmt.Errorf("%s: %s", all[i].name, wrong)
		}
		if all[i].volumeMM3 == 0 {
			all[i].volumeMM3 = held.volumeMM3
		}
	}
	return nil
}

// asker asks about the mutants that it writes to a file.
type asker struct {
	program, path string
	size          sizes
}

// ask runs all questions about one mutant.
func (a asker) ask(ctx context.Context, m *mutant, name string) (*findings, error) {
	if err := os.WriteFile(a.path, m.file, 0o644); err != nil {
		return nil, err
	}
	one := &findings{mutants: 1, answered: map[string]int{}, refused: map[string]int{}}
	name += ", " + m.kind + ")"
	var held answer
	for _, q := range questions() {
		if q.args[0] == "size" && !a.size.wants(held.overlaps) {
			continue
		}
		args := append([]string{q.args[0], a.path}, q.args[1:]...)
		o, err := run(ctx, a.program, args...)
		if err != nil {
			return nil, err
		}
		what := fmt.Sprintf("%s: %s", name, q.name)
		one.note(what, o)
		if o.status != 0 {
			one.refused[q.name]++
			continue
		}
		one.answered[q.name]++
		var wrong string
		switch q.args[0] {
		case "measure":
			held, wrong = judgeMeasure(o.stdout, m)
			if m.high > 0 {
				one.known++
			}
		case "split":
			wrong = judgeSplit(o.stdout, held)
		case "size":
			wrong = judgeSize(o.stdout, held)
		}
		if wrong != "" {
			one.faults = append(one.faults, what+": "+wrong)
		}
	}
	return one, nil
}

// note takes down how a run ended.
func (f *findings) note(what string, o outcome) {
	if o.seconds > f.slowest.value {
		f.slowest = named{what, o.seconds}
	}
	if o.peakMiB > f.largest.value {
		f.largest = named{what, o.peakMiB}
	}
	switch line, _, _ := strings.Cut(o.stderr, "\n"); {
	case o.hung:
		f.faults = append(f.faults, what+": does not end in 20 s")
	case o.panicky || o.status < 0 || o.status > 2:
		f.faults = append(f.faults, fmt.Sprintf("%s: status %d, %s", what, o.status, line))
	case o.status == 2:
		f.faults = append(f.faults, what+": taken for wrong usage: "+line)
	case o.status == 1 && line == "":
		f.faults = append(f.faults, what+": refused without a word")
	}
	if o.peakMiB > limitMiB {
		f.faults = append(f.faults, fmt.Sprintf("%s: holds %.0f MiB", what, o.peakMiB))
	}
}

func (f *findings) add(one *findings) {
	f.mutants += one.mutants
	f.known += one.known
	for _, q := range questions() {
		f.answered[q.name] += one.answered[q.name]
		f.refused[q.name] += one.refused[q.name]
	}
	f.faults = append(f.faults, one.faults...)
	if one.slowest.value > f.slowest.value {
		f.slowest = one.slowest
	}
	if one.largest.value > f.largest.value {
		f.largest = one.largest
	}
}

func (f *findings) print(w io.Writer) {
	fmt.Fprintf(w, "%d mutants of %d models\n", f.mutants, len(models()))
	for _, name := range slices.Sorted(maps.Keys(f.answered)) {
		fmt.Fprintf(w, "  %-16s %5d answered, %5d refused\n", name, f.answered[name], f.refused[name])
	}
	fmt.Fprintf(w, "  %d volumes held against what is known\n", f.known)
	fmt.Fprintf(w, "  slowest %.1f s, %s\n  largest %.0f MiB, %s\n", f.slowest.value, f.slowest.what, f.largest.value, f.largest.what)
	fmt.Fprintf(w, "  %d faults\n", len(f.faults))
	for _, fault := range f.faults {
		fmt.Fprintln(w, "   ", fault)
	}
}
