package bvh

import (
	"math"

	"github.com/golang/geo/r3"
)

// NormalCone holds the outward normals of some facets: all of them are within an
// angle of the axis. In float32, with the angle a little too wide to make up for it.
type NormalCone struct {
	Axis   [3]float32 // unit vector
	Cos    float32    // of the angle, -1 if nothing is known
	weight float32    // length of the sum of the normals, as vector areas
}

// coneSlack is more than float32 loses of the cosine between two unit vectors.
const coneSlack = 1e-5

// noCone is for facets that face every way, or of which one has no way to face.
var noCone = NormalCone{Cos: -1}

// coneOfNormals returns the cone of some normals, of any length but zero.
func coneOfNormals(normals []r3.Vector) NormalCone {
	var sum r3.Vector
	for _, n := range normals {
		sum = sum.Add(n)
	}
	weight := sum.Norm()
	if !(weight > 0) {
		return noCone
	}
	axis := sum.Mul(1 / weight)
	squared := 1.0 // of the smallest cosine
	for _, n := range normals {
		along := n.Dot(axis)
		if along < 0 {
			return noCone
		}
		if s := along * along / n.Norm2(); s < squared {
			squared = s
		}
	}
	return NormalCone{
		Axis: [3]float32{float32(axis.X), float32(axis.Y), float32(axis.Z)},
		Cos:  float32(math.Sqrt(squared)) - coneSlack, weight: float32(weight),
	}
}

// coneOfCones returns a cone around others.
func coneOfCones(cones []NormalCone) NormalCone {
	var sum [3]float32
	for i := range cones {
		if cones[i].Cos < 0 {
			return noCone
		}
		for k, x := range cones[i].Axis {
			sum[k] += x * cones[i].weight
		}
	}
	weight := float32(math.Sqrt(float64(Dot32(&sum, &sum))))
	if !(weight > 0) {
		return noCone
	}
	c := NormalCone{Cos: 1, weight: weight}
	for k := range sum {
		c.Axis[k] = sum[k] / weight
	}
	for i := range cones {
		c.Cos = min(c.Cos, cones[i].Least(&c.Axis))
	}
	if c.Cos < 0 {
		return noCone
	}
	return c
}

// Least returns the smallest cosine between a unit vector and a normal in the cone:
// that of the sum of the angles from the vector to the axis and on to the rim.
func (c *NormalCone) Least(to *[3]float32) float32 {
	along := min(Dot32(&c.Axis, to), 1)
	if c.Cos < 0 || along < 0 {
		return -1
	}
	sines := (1 - c.Cos*c.Cos) * (1 - along*along)
	return c.Cos*along - float32(math.Sqrt(float64(max(sines, 0)))) - coneSlack
}

// Dot32 returns the scalar product of two vectors.
func Dot32(a, b *[3]float32) float32 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
