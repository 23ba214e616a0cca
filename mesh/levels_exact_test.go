package mesh

import (
	"math/big"

	"github.com/golang/geo/r3"
)

// exactLevel is a level measured by clipping every facet in arithmetic of 300
// bits, which keeps all that matters of float64 coordinates: the oracle for
// Levels, which shares none of its formulas.
type exactLevel struct {
	below, area *big.Float
	lineMM      float64
}

type bigPoint [3]*big.Float

func wide(x float64) *big.Float { return new(big.Float).SetPrec(300).SetFloat64(x) }
func bigSum(a, b *big.Float) *big.Float {
	return new(big.Float).SetPrec(300).Add(a, b)
}
func bigGap(a, b *big.Float) *big.Float {
	return new(big.Float).SetPrec(300).Sub(a, b)
}
func bigTimes(a, b *big.Float) *big.Float {
	return new(big.Float).SetPrec(300).Mul(a, b)
}
func bigOver(a, b *big.Float) *big.Float {
	return new(big.Float).SetPrec(300).Quo(a, b)
}

func bigPointOf(v r3.Vector) bigPoint { return bigPoint{wide(v.X), wide(v.Y), wide(v.Z)} }

func (p bigPoint) minus(q bigPoint) bigPoint {
	return bigPoint{bigGap(p[0], q[0]), bigGap(p[1], q[1]), bigGap(p[2], q[2])}
}

func (p bigPoint) dot(q bigPoint) *big.Float {
	return bigSum(bigTimes(p[0], q[0]), bigSum(bigTimes(p[1], q[1]), bigTimes(p[2], q[2])))
}

func (p bigPoint) cross(q bigPoint) bigPoint {
	det := func(i, j int) *big.Float { return bigGap(bigTimes(p[i], q[j]), bigTimes(p[j], q[i])) }
	return bigPoint{det(1, 2), det(2, 0), det(0, 1)}
}

func (p bigPoint) times(f *big.Float) bigPoint {
	return bigPoint{bigTimes(p[0], f), bigTimes(p[1], f), bigTimes(p[2], f)}
}

func (p bigPoint) length() float64 {
	x, _ := new(big.Float).Sqrt(p.dot(p)).Float64()
	return x
}

// measureExactly measures below dir·p = h. Volumes are sums of tetrahedra with
// their tip in a point of the plane, so that the cap gives nothing. The line is
// that of crossing facets alone, so no edge may lie in the plane.
func measureExactly(m *Mesh, dir r3.Vector, h float64) exactLevel {
	u := bigPointOf(dir)
	tip := u.times(bigOver(wide(h), u.dot(u)))
	result := exactLevel{below: wide(0), area: wide(0)}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		corners := [3]bigPoint{bigPointOf(a), bigPointOf(b), bigPointOf(c)}
		kept, cut := clipBelow(corners, u, wide(h))
		for k := 2; k < len(kept); k++ {
			p, q, r := kept[0].minus(tip), kept[k-1].minus(tip), kept[k].minus(tip)
			result.below = bigSum(result.below, p.dot(q.cross(r)))
			result.area = bigGap(result.area, q.minus(p).cross(r.minus(p)).dot(u))
		}
		if len(cut) == 2 {
			result.lineMM += cut[0].minus(cut[1]).length()
		}
	}
	result.below = bigOver(result.below, wide(6))
	result.area = bigOver(result.area, wide(2*dir.Norm()))
	return result
}

// clipBelow returns the part of a facet below a plane and the points where its
// edges cross. A facet in the plane is below if it faces up.
func clipBelow(corners [3]bigPoint, u bigPoint, h *big.Float) (kept, cut []bigPoint) {
	var depth [3]*big.Float
	flat := true
	for i, p := range corners {
		depth[i] = bigGap(p.dot(u), h)
		flat = flat && depth[i].Sign() == 0
	}
	if flat {
		normal := corners[1].minus(corners[0]).cross(corners[2].minus(corners[0]))
		if normal.dot(u).Sign() > 0 {
			return corners[:], nil
		}
		return nil, nil
	}
	for i, p := range corners {
		j := (i + 1) % 3
		if depth[i].Sign() <= 0 {
			kept = append(kept, p)
		}
		switch {
		case depth[i].Sign()*depth[j].Sign() < 0:
			share := bigOver(depth[i], bigGap(depth[i], depth[j]))
			step := corners[j].minus(p).times(share)
			q := bigPoint{bigSum(p[0], step[0]), bigSum(p[1], step[1]), bigSum(p[2], step[2])}
			kept, cut = append(kept, q), append(cut, q)
		case depth[i].Sign() == 0:
			cut = append(cut, p)
		}
	}
	return kept, cut
}
