package earclip

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

// BenchmarkCap cuts caps of many points: a comb of teeth, and a wavy outline.
func BenchmarkCap(b *testing.B) {
	for _, n := range []int{1000, 10000, 100000} {
		star := make([]r3.Vector, n)
		for i := range star {
			r := 10 + float64(i%2)*9
			star[i] = r3.Vector{X: r * math.Cos(2*math.Pi*float64(i)/float64(n)), Y: r * math.Sin(2*math.Pi*float64(i)/float64(n))}
		}
		r := flatRing(star)
		b.Run(map[int]string{1000: "star1k", 10000: "star10k", 100000: "star100k"}[n], func(b *testing.B) {
			for b.Loop() {
				Fill(r, nil)
			}
		})
	}
}

// BenchmarkCapHoles cuts a cap with 900 round holes.
func BenchmarkCapHoles(b *testing.B) {
	outer, holes := perforated(30, 12)
	for b.Loop() {
		Fill(outer, holes)
	}
}
