package main

import (
	"encoding/binary"
	"math"
)

// ellipsoid is a closed body of about n facets, 100 x 20 x 30 mm, as a binary STL.
func ellipsoid(n int) []byte {
	rings := int(math.Sqrt(float64(n) / 4))
	segments := 2 * rings
	point := func(ring, segment int) [3]float32 {
		a := math.Pi * float64(ring) / float64(rings)
		b := 2 * math.Pi * float64(segment%segments) / float64(segments)
		s := math.Sin(a)
		if ring == 0 || ring == rings {
			s = 0
		}
		return [3]float32{float32(50 * math.Cos(a)), float32(10 * s * math.Cos(b)), float32(15 * s * math.Sin(b))}
	}
	out := append([]byte{}, make([]byte, 84)...)
	count := uint32(0)
	facet := func(corners ...[3]float32) {
		out = append(out, make([]byte, 12)...)
		for _, p := range corners {
			for _, x := range p {
				out = binary.LittleEndian.AppendUint32(out, math.Float32bits(x))
			}
		}
		out = append(out, 0, 0)
		count++
	}
	for r := range rings {
		for s := range segments {
			a, b, c, d := point(r, s), point(r+1, s), point(r+1, s+1), point(r, s+1)
			if r > 0 {
				facet(a, c, d)
			}
			if r < rings-1 {
				facet(a, b, c)
			}
		}
	}
	binary.LittleEndian.PutUint32(out[80:], count)
	return out
}
