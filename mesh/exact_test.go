package mesh

import (
	"math/big"

	"github.com/golang/geo/r3"
)

// ratVector is a vector in exact rational arithmetic.
type ratVector [3]*big.Rat

func rational(p r3.Vector) ratVector {
	return ratVector{new(big.Rat).SetFloat64(p.X), new(big.Rat).SetFloat64(p.Y), new(big.Rat).SetFloat64(p.Z)}
}

func (a ratVector) sub(b ratVector) (d ratVector) {
	for i := range d {
		d[i] = new(big.Rat).Sub(a[i], b[i])
	}
	return d
}

func (a ratVector) dot(b ratVector) *big.Rat {
	d := new(big.Rat)
	for i := range a {
		d.Add(d, new(big.Rat).Mul(a[i], b[i]))
	}
	return d
}

func (a ratVector) cross(b ratVector) (c ratVector) {
	for i := range c {
		j, k := (i+1)%3, (i+2)%3
		c[i] = new(big.Rat).Sub(new(big.Rat).Mul(a[j], b[k]), new(big.Rat).Mul(a[k], b[j]))
	}
	return c
}

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
