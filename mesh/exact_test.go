package mesh

import "math/big"

// exactVolume is the volume that an oriented surface encloses, without rounding.
func exactVolume(m *Mesh) *big.Rat {
	v := new(big.Rat)
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		v.Add(v, rational(a).dot(rational(b).cross(rational(c))))
	}
	return v.Quo(v, big.NewRat(6, 1))
}

// exactArea is the area of all facets to 200 bits.
func exactArea(m *Mesh) *big.Float {
	area := new(big.Float).SetPrec(200)
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		n := rational(b).sub(rational(a)).cross(rational(c).sub(rational(a)))
		f := new(big.Float).SetPrec(200).SetRat(n.dot(n))
		area.Add(area, f.Sqrt(f))
	}
	return area.Quo(area, big.NewFloat(2))
}

// off is got-want without rounding it away first.
func off(got float64, want *big.Rat) float64 {
	d, _ := new(big.Rat).Sub(new(big.Rat).SetFloat64(got), want).Float64()
	return d
}

func ratOf(f *big.Float) *big.Rat {
	r, _ := f.Rat(nil)
	return r
}

func float(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}
