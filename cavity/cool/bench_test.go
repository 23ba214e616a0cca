package cool

import (
	"context"
	"math"
	"testing"

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
				s := setting{meltC: 170, openC: 60, diffusivity: 0.1, workers: workers()}
				if _, err := g.coolShot(context.Background(), s, newWall(40, nil, g)); err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(g.Cells()), "cells")
			}
		})
	}
}

// BenchmarkStep is one step of a million cells; each cell is read and written once
// from memory at least, 16 bytes.
func BenchmarkStep(b *testing.B) {
	for name, c := range benchBodies() {
		b.Run(name, func(b *testing.B) {
			body := newBody(b, c.model, false)
			g, err := body.NewGrid(context.Background(), body.radiusMM/c.cells, 0)
			if err != nil {
				b.Fatal(err)
			}
			f := newField(g, 170, 40, workers())
			b.SetBytes(16 * int64(g.Cells()))
			for b.Loop() {
				f.step(40)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(g.Cells()), "ns/cell")
		})
	}
}

// BenchmarkMemory copies as much as one step reads and writes: the machine's own pace.
func BenchmarkMemory(b *testing.B) {
	from, to := make([]float64, 1_000_000), make([]float64, 1_000_000)
	for i := range from {
		from[i] = math.Sqrt(float64(i))
	}
	b.SetBytes(16 * int64(len(from)))
	for b.Loop() {
		parallel.Blocks(len(from), 16384, func(_, first, last int) { copy(to[first:last], from[first:last]) })
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(from)), "ns/cell")
}
