package cool

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"
	"unsafe"

	"bellyline/mesh"
	"bellyline/mesh/parallel"
)

// benchBodies have a million cells or so: a bait ten times as long as thick, a ball.
func benchBodies() map[string]struct {
	model *mesh.Mesh
	cells float64 // from the thickest place to the wall
} {
	return map[string]struct {
		model *mesh.Mesh
		cells float64
	}{
		"bait": {capsule(6, 108, 96), 25.5},
		"ball": {ball(6, 96), 62},
	}
}

// BenchmarkToOpening lays a grid of a million cells and cools it from 170 to 60 C in a
// mold of 40 C, the model ready: what a user waits for but for reading.
func BenchmarkToOpening(b *testing.B) {
	for name, c := range benchBodies() {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				body := newBody(b, c.model, false)
				g, err := body.NewGrid(context.Background(), body.radiusMM/c.cells, 0)
				if err != nil {
					b.Fatal(err)
				}
				s := setting{meltC: 170, openC: 60, diffusivity: 0.1}
				if _, err := g.coolShot(context.Background(), s, newWall(40, nil, g)); err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(g.Cells()), "cells")
			}
		})
	}
}

// BenchmarkSweep does the cycles that a million cells are cooled by, in turns with a
// loop that moves memory in the way that a sweep must at least: for each cell it
// reads two numbers and writes one. Medians of the turns: nanoseconds for a cell and
// sweep, and for a cell and short step; bytes for a cell and sweep, with the tables of
// cells at the wall; how fast these are moved, as a share of the plain loop's pace.
func BenchmarkSweep(b *testing.B) {
	for name, c := range benchBodies() {
		b.Run(name, func(b *testing.B) {
			body := newBody(b, c.model, false)
			g, err := body.NewGrid(context.Background(), body.radiusMM/c.cells, 0)
			if err != nil {
				b.Fatal(err)
			}
			f := newField(g, 170, 40)
			steps := g.stepsToLook(math.Inf(1), 0)
			sweeps := cycleOf(steps).sweeps
			other := make([]float64, len(f.now))
			var cycles, paces []time.Duration
			for b.Loop() {
				begin := time.Now()
				f.advance(steps, 40)
				middle := time.Now()
				for range sweeps {
					moveMemory(f.now, other)
				}
				cycles, paces = append(cycles, middle.Sub(begin)), append(paces, time.Since(middle))
			}
			cells := float64(g.Cells())
			ns, pace := float64(median(cycles))/cells, float64(median(paces))/cells
			bytes := g.plan.bytesMoved() / cells
			b.ReportMetric(0, "ns/op")
			b.ReportMetric(ns/float64(sweeps), "ns/cell/sweep")
			b.ReportMetric(ns/float64(steps), "ns/cell/short-step")
			b.ReportMetric(bytes, "B/cell/sweep")
			b.ReportMetric(24/pace*float64(sweeps), "GB/s-of-plain-loop")
			b.ReportMetric(100*bytes/ns*pace/24, "%-of-that-pace")
		})
	}
}

// moveMemory reads two numbers and writes one for each cell.
func moveMemory(from, to []float64) {
	parallel.Blocks(len(from), 16384, func(_, first, last int) {
		from, to := from[first:last], to[first:last]
		for i, x := range from {
			to[i] = x - 0.5*to[i]
		}
	})
}

// bytesMoved is what a sweep moves at least: two numbers read and one written for
// each cell, and its tables read.
func (p *plan) bytesMoved() float64 {
	cells := int(p.blocks[len(p.blocks)-1].end)
	return float64(24*cells + len(p.runs)*int(unsafe.Sizeof(run{})) + len(p.cuts)*int(unsafe.Sizeof(cut{})))
}

func median(list []time.Duration) time.Duration {
	slices.Sort(list)
	return list[len(list)/2]
}
