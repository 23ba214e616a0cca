package mend

import (
	"context"
	"math/rand/v2"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/solids"

	"github.com/golang/geo/r3"
)

// BenchmarkMend mends a torus of 100 k and 1 M facets: sound, with one facet
// missing, with defects all over. Check on the same body is the measure of it.
func BenchmarkMend(b *testing.B) {
	for _, n := range []int{224, 708} {
		body := solids.Torus(20, 6, n, n)
		damaged := map[string][]r3.Vector{
			"sound":                     body,
			"one facet missing":         body[3:],
			"every tenth missing":       everyTenth(body, false),
			"every tenth twice":         everyTenth(body, true),
			"seams open":                jittered(body, 1e-6, rand.New(rand.NewPCG(1, 1))),
			"half of it flipped, mixed": mixed(body),
		}
		for _, name := range []string{"sound", "one facet missing", "every tenth missing", "every tenth twice", "seams open", "half of it flipped, mixed"} {
			m := mesh.New(damaged[name])
			b.Run(name+"/"+size(n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, _, err := Surface(context.Background(), m, Options{Allow: true}); err != nil {
						b.Fatal(err)
					}
				}
			})
			if name == "sound" {
				b.Run("Check/"+size(n), func(b *testing.B) {
					b.ReportAllocs()
					for b.Loop() {
						m.Check()
					}
				})
			}
		}
	}
}

func size(n int) string {
	if n > 500 {
		return "1M"
	}
	return "100k"
}

// mixed turns facets over at random.
func mixed(corners []r3.Vector) []r3.Vector {
	rng := rand.New(rand.NewPCG(2, 3))
	var turned []int
	for f := range len(corners) / 3 {
		if rng.IntN(2) == 0 {
			turned = append(turned, f)
		}
	}
	return flipped(corners, turned...)
}
