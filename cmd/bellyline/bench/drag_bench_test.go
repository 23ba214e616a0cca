package bench

import (
	"math"
	"slices"
	"testing"
	"time"

	"bellyline/cmd/bellyline/shop"
)

// BenchmarkDrag answers a dragged line of a model of about a million facets.
func BenchmarkDrag(b *testing.B) {
	s, o := openModel(b, ball(1_000_000))
	for i := 0; b.Loop(); i++ {
		o.drag(b, s, linePart{}, i)
	}
}

// BenchmarkDragSunk drags lines of each kind, in turns over one body of 200,000 facets
// and over two of 100,000 sunk far into each other: milliseconds of either at the
// median, and how many times as long the two take.
//
//	go test ./cmd/bellyline/bench -run '^$' -bench DragSunk -benchtime 60x
func BenchmarkDragSunk(b *testing.B) {
	half := [3]float64{30, 12, 8}
	one, two := asSTL(egg(200_000, half, 0)), asSTL(append(egg(100_000, half, 0), egg(100_000, half, 18)...))
	for _, line := range []struct {
		name string
		linePart
	}{
		{"level", linePart{}}, {"tilted", linePart{Kind: "tilted", TiltDeg: 4, RollDeg: -3}},
		{"drawn", linePart{Kind: "drawn", Points: [][2]float64{{-25, -1}, {5, 1}, {35, 0}}}},
	} {
		b.Run(line.name, func(b *testing.B) {
			var servers [2]*Server
			var models [2]opened
			for k, data := range [][]byte{one, two} {
				servers[k], models[k] = openModel(b, data)
			}
			var took [2][]time.Duration
			for i := 0; b.Loop(); i++ {
				for k, o := range models {
					began := time.Now()
					o.drag(b, servers[k], line.linePart, i)
					took[k] = append(took[k], time.Since(began))
				}
			}
			var median [2]float64
			for k := range took {
				slices.Sort(took[k])
				median[k] = took[k][len(took[k])/2].Seconds() * 1000
			}
			b.ReportMetric(median[0], "ms-one")
			b.ReportMetric(median[1], "ms-sunk")
			b.ReportMetric(median[1]/median[0], "times-as-long")
			b.ReportMetric(0, "ns/op")
		})
	}
}

func openModel(b *testing.B, data []byte) (*Server, opened) {
	b.Helper()
	s, err := New(b.Context(), Options{})
	if err != nil {
		b.Fatal(err)
	}
	from, err := shop.Dropped(map[string][]byte{"bait.stl": data})
	if err != nil {
		b.Fatal(err)
	}
	w, err := open(b.Context(), from, nil, nil)
	if err != nil {
		b.Fatal(err)
	}
	return s, w.opened(s.sessions.add(w))
}

// drag asks for a line at the i-th of heights that do not repeat.
func (o opened) drag(b *testing.B, s *Server, line linePart, i int) {
	b.Helper()
	ask := o.Settings
	if line.Kind != "" {
		ask.Line = line
	}
	h := o.LowMM + (o.HighMM-o.LowMM)*(0.2+0.6*math.Mod(float64(i)*math.Phi, 1))
	ask.HeightMM = &h
	if a := answerTo(b, s, o.ID, ask); a.Error != "" {
		b.Fatal(a.Error)
	}
}

// ball is a closed surface of about n facets, 30 mm across.
func ball(n int) []byte { return asSTL(egg(n, [3]float64{15, 15, 15}, 0)) }

// egg is an ellipsoid of about n facets with half axes in mm, moved ahead.
func egg(n int, half [3]float64, ahead float64) [][3][3]float32 {
	rings := int(math.Sqrt(float64(n) / 4))
	at := func(ring, segment int) [3]float32 {
		a, b := math.Pi*float64(ring)/float64(rings), math.Pi*float64(segment%(2*rings))/float64(rings)
		across := math.Sin(a)
		if ring == rings {
			across = 0 // a last bit would leave a hole
		}
		return [3]float32{float32(half[0]*math.Cos(a) + ahead), float32(half[1] * across * math.Cos(b)), float32(half[2] * across * math.Sin(b))}
	}
	var facets [][3][3]float32
	for r := range rings {
		for k := range 2 * rings {
			a, b, c, d := at(r, k), at(r+1, k), at(r+1, k+1), at(r, k+1)
			if r > 0 {
				facets = append(facets, [3][3]float32{a, c, d})
			}
			if r < rings-1 {
				facets = append(facets, [3][3]float32{a, b, c})
			}
		}
	}
	return facets
}
