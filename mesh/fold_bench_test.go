package mesh

import (
	"fmt"
	"math"
	"testing"

	"bellyline/mesh/vector"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// A share solved once the surface is read: a tilted plane, and a line of twenty
// pieces that has to be made level first.
func BenchmarkShareOfATiltedPlane(b *testing.B) {
	for _, n := range benchmarkSizes {
		m := benchmarkBody(n)
		dir, _ := vector.Unit(benchmarkAxis)
		volume := 0.4 * m.Moments().VolumeMM3
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := m.HeightFor(dir, volume); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func benchmarkFold(b *testing.B) *Fold {
	b.Helper()
	var knots []r2.Point
	for x := -40.0; x <= 40; x += 4 {
		knots = append(knots, r2.Point{X: x, Y: 2 * math.Sin(x/10)})
	}
	f, err := NewFold(r3.Vector{X: 1}, r3.Vector{Z: 1}, knots)
	if err != nil {
		b.Fatal(err)
	}
	return f
}

func BenchmarkShareOfADrawnLine(b *testing.B) {
	f := benchmarkFold(b)
	for _, n := range benchmarkSizes {
		m := benchmarkBody(n)
		volume := 0.4 * m.Moments().VolumeMM3
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := f.Flatten(m).HeightFor(volume); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The same with all that a split says of it: volumes, skin, section, outline. That the
// surface is closed is known from when it was opened.
func BenchmarkSplitByADrawnLine(b *testing.B) {
	f := benchmarkFold(b)
	for _, n := range benchmarkSizes {
		levels, err := benchmarkBody(n).Levels(r3.Vector{Z: 1})
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				flat := f.FlattenLevels(levels)
				h, err := flat.HeightFor(0.4 * levels.VolumeMM3())
				if err != nil {
					b.Fatal(err)
				}
				if _, err := flat.Cut(h); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
