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
