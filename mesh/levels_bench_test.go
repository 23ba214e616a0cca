package mesh

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"bellyline/mesh/solids"
)

// benchmarkBody is a ring of about n facets, and benchmarkAxis a direction for
// which no shortcut holds.
func benchmarkBody(n int) *Mesh { return New(solids.Ring(n)) }

var benchmarkAxis = r3.Vector{X: 1, Y: 2, Z: 3}

var benchmarkSizes = []int{100_000, 1_000_000}

func BenchmarkLevelsBuild(b *testing.B) {
	for _, n := range benchmarkSizes {
		m := benchmarkBody(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := m.Levels(benchmarkAxis); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkLevelsAt(b *testing.B) {
	for _, n := range benchmarkSizes {
		l, err := benchmarkBody(n).Levels(benchmarkAxis)
		if err != nil {
			b.Fatal(err)
		}
		lowest, highest := l.Range()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			reached := 0
			for i := 0; b.Loop(); i++ {
				h := lowest + (highest-lowest)*math.Mod(float64(i)*math.Phi, 1)
				q := levelQuery{levels: l, plane: l.Plane(h), x: l.local(h)}
				q.gather()
				reached += q.reached
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(reached), "ns/facet")
			b.ReportMetric(float64(reached)/float64(b.N), "facets")
		})
	}
}

func BenchmarkLevelsHundredHeights(b *testing.B) {
	m := benchmarkBody(100_000)
	for b.Loop() {
		l, err := m.Levels(benchmarkAxis)
		if err != nil {
			b.Fatal(err)
		}
		lowest, highest := l.Range()
		for i := range 100 {
			l.At(lowest + (highest-lowest)*float64(i)/99)
		}
	}
}

func BenchmarkLevelsHeightFor(b *testing.B) {
	for _, n := range benchmarkSizes {
		l, err := benchmarkBody(n).Levels(benchmarkAxis)
		if err != nil {
			b.Fatal(err)
		}
		whole := l.VolumeMM3()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				if _, err := l.HeightFor(whole * math.Mod(float64(i)*math.Phi, 1)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
