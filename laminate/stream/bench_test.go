package stream

import (
	"fmt"
	"testing"
)

// BenchmarkSolve is one section's flow against the size of the grid: cost should
// grow as the number of cells.
func BenchmarkSolve(b *testing.B) {
	for _, cells := range []int{16, 32, 64, 128, 256} {
		b.Run(fmt.Sprint(cells), func(b *testing.B) {
			v, err := newSolver(turned(ellipse(2, 1), 20), Options{CellsAcross: cells})
			if err != nil {
				b.Fatal(err)
			}
			nodes := 0
			for b.Loop() {
				f, err := v.flow(Interface{HeightMM: -.1}, viscosities{2, 1})
				if err != nil {
					b.Fatal(err)
				}
				nodes = f.Nodes
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(nodes), "ns/node")
		})
	}
}
