package bench

import (
	"math"
	"testing"
)

// BenchmarkDrag answers a dragged line of a model of about a million facets.
func BenchmarkDrag(b *testing.B) {
	s, err := New(b.Context(), Options{})
	if err != nil {
		b.Fatal(err)
	}
	from, err := fromModel(model{name: "ball.stl", data: ball(1_000_000)})
	if err != nil {
		b.Fatal(err)
	}
	w, err := opener{}.open(b.Context(), from, nil)
	if err != nil {
		b.Fatal(err)
	}
	o := w.opened(s.sessions.add(w))
	ask := o.Settings
	for i := 0; b.Loop(); i++ {
		h := o.LowMM + (o.HighMM-o.LowMM)*(0.1+0.8*math.Mod(float64(i)*math.Phi, 1))
		ask.HeightMM = &h
		answerTo(b, s, o.ID, ask)
	}
}

// ball is a closed surface of about n facets, 30 mm across.
func ball(n int) []byte {
	rings := int(math.Sqrt(float64(n) / 4))
	at := func(ring, segment int) [3]float32 {
		a, b := math.Pi*float64(ring)/float64(rings), math.Pi*float64(segment%(2*rings))/float64(rings)
		across := math.Sin(a)
		if ring == rings {
			across = 0 // a last bit would leave a hole
		}
		return [3]float32{float32(15 * across * math.Cos(b)), float32(15 * across * math.Sin(b)), float32(15 * math.Cos(a))}
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
	return asSTL(facets)
}
