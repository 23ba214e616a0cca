package fill

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"bellyline/mesh"
	"bellyline/mesh/solids"
)

// unionOfBoxes returns the volume of a union of boxes exactly: space is divided at
// all their face planes, and a cell counts if any box holds it.
func unionOfBoxes(boxes []mesh.Box) float64 {
	var xs, ys, zs []float64
	for _, b := range boxes {
		xs, ys, zs = append(xs, b.Min.X, b.Max.X), append(ys, b.Min.Y, b.Max.Y), append(zs, b.Min.Z, b.Max.Z)
	}
	for _, s := range [][]float64{xs, ys, zs} {
		slices.Sort(s)
	}
	volume := 0.0
	for i := 1; i < len(xs); i++ {
		for j := 1; j < len(ys); j++ {
			for k := 1; k < len(zs); k++ {
				cell := mesh.Box{Min: r3.Vector{X: xs[i-1], Y: ys[j-1], Z: zs[k-1]}, Max: r3.Vector{X: xs[i], Y: ys[j], Z: zs[k]}}
				if slices.ContainsFunc(boxes, func(b mesh.Box) bool {
					c := cell.Centre()
					return b.Min.X <= c.X && c.X <= b.Max.X && b.Min.Y <= c.Y && c.Y <= b.Max.Y && b.Min.Z <= c.Z && c.Z <= b.Max.Z
				}) {
					s := cell.Size()
					volume += s.X * s.Y * s.Z
				}
			}
		}
	}
	return volume
}

func drawBox(t *rapid.T, coordinate func(string) float64) mesh.Box {
	var b mesh.Box
	for _, axis := range []struct {
		lo, hi *float64
		name   string
	}{{&b.Min.X, &b.Max.X, "x"}, {&b.Min.Y, &b.Max.Y, "y"}, {&b.Min.Z, &b.Max.Z, "z"}} {
		*axis.lo, *axis.hi = coordinate(axis.name+" low"), coordinate(axis.name+" high")
		if *axis.lo > *axis.hi {
			*axis.lo, *axis.hi = *axis.hi, *axis.lo
		}
		if *axis.hi-*axis.lo < 0.01 {
			*axis.hi++ // no sheets: their bounds are wide next to what they hold
		}
	}
	return b
}

func checkBoxes(t *rapid.T, boxes []mesh.Box) {
	var corners []r3.Vector
	sum := 0.0
	for _, b := range boxes {
		corners = append(corners, solids.Box(b.Min, b.Max)...)
		s := b.Size()
		sum += s.X * s.Y * s.Z
	}
	fill, err := Volume(context.Background(), mesh.New(corners))
	if err != nil {
		t.Fatal(err)
	}
	want := unionOfBoxes(boxes)
	if diff := math.Abs(fill.VolumeMM3 - want); diff > 1e-9*want || diff > fill.ErrorMM3 {
		t.Fatalf("fill %.15g, want %.15g, bound %g", fill.VolumeMM3, want, fill.ErrorMM3)
	}
	if math.Abs(fill.SignedMM3-sum) > 1e-12*sum {
		t.Fatalf("signed %.15g, want %.15g", fill.SignedMM3, sum)
	}
}

// Boxes with whole-number coordinates share face planes, edges and corners all the
// time, and now and then two are the same.
func TestFillWholeNumberBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "boxes")
		boxes := make([]mesh.Box, n)
		for i := range boxes {
			boxes[i] = drawBox(t, func(name string) float64 { return float64(rapid.IntRange(0, 4).Draw(t, name)) })
		}
		checkBoxes(t, boxes)
	})
}

func TestFillBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "boxes")
		boxes := make([]mesh.Box, n)
		for i := range boxes {
			boxes[i] = drawBox(t, func(name string) float64 { return float64(rapid.IntRange(-3000, 3000).Draw(t, name)) / 1024 })
		}
		checkBoxes(t, boxes)
	})
}
