package lattice

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"bellyline/mesh"
	"bellyline/mesh/vector"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// latticePoint returns a point that the lattice may have.
func latticePoint(rng *rand.Rand, most int64) r3.Vector {
	c := func() float64 { return float64(rng.Int64N(2*most+1) - most) }
	return r3.Vector{X: c(), Y: c(), Z: c()}
}

// heightByRationals is the determinant of four homogeneous points, by expansion.
func heightByRationals(p [4]r3.Vector) *big.Rat {
	var rows [4][4]*big.Rat
	for i, v := range p {
		for j, x := range append(append([]float64{}, v.X, v.Y, v.Z), 1) {
			rows[i][j] = new(big.Rat).SetFloat64(x)
		}
	}
	var expand func(row int, columns []int) *big.Rat
	expand = func(row int, columns []int) *big.Rat {
		if row == 4 {
			return big.NewRat(1, 1)
		}
		sum := new(big.Rat)
		for i, c := range columns {
			rest := append(append([]int{}, columns[:i]...), columns[i+1:]...)
			term := new(big.Rat).Mul(rows[row][c], expand(row+1, rest))
			if i%2 == 1 {
				term.Neg(term)
			}
			sum.Add(sum, term)
		}
		return sum
	}
	// The first three points counter-clockwise seen from the fourth: with the 1 in the
	// last column the sign is the other way round.
	d := expand(0, []int{0, 1, 2, 3})
	return d.Neg(d)
}

// Signs and sizes of heights are right for any corners, and for a fourth point that
// is on the plane of the others or a step beside it.
func TestHeightAgainstRationals(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	zeros, unsure := 0, 0
	for i := range 3000 {
		most := int64(1) << (2 + rng.IntN(48))
		c := Corners{latticePoint(rng, most), latticePoint(rng, most), latticePoint(rng, most)}
		x := latticePoint(rng, most)
		if i%3 > 0 {
			x = c[1].Add(c[2]).Sub(c[0]) // a whole multiple of the sides keeps to the plane
		}
		if i%3 > 1 {
			x = x.Add(latticePoint(rng, 1))
		}
		want := heightByRationals([4]r3.Vector{c[0], c[1], c[2], x})
		if got := c.Side(x); got != want.Sign() {
			t.Fatalf("side %d, want %d", got, want.Sign())
		}
		if whole := new(big.Rat).SetInt(c.ExactHeight(x)); whole.Cmp(want) != 0 {
			t.Fatalf("exact height %v, want %v", whole, want)
		}
		for name, got := range map[string]Approx{"height": c.height(x), "sharp height": c.SharpHeight(x)} {
			off := new(big.Rat).Sub(new(big.Rat).SetFloat64(got.V), want)
			if off.Abs(off).Cmp(new(big.Rat).SetFloat64(got.E)) > 0 {
				t.Fatalf("%s %g with error %g, want %v", name, got.V, got.E, want.FloatString(3))
			}
		}
		if s := c.SharpHeight(x); s.E > math.Abs(s.V)*0x1p-39 {
			t.Fatalf("sharp height %g with error %g", s.V, s.E)
		}
		if want.Sign() == 0 {
			zeros++
		}
		if c.height(x).Sign() == 0 {
			unsure++
		}
	}
	if zeros < 1000 || unsure < zeros+10 {
		t.Errorf("%d points on the plane, the filter left %d", zeros, unsure)
	}
}

// The error carried along covers the true value.
func TestApproxCoversTheTrueValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := Approx{V: 3}
		truth := big.NewInt(3)
		for range rapid.IntRange(1, 4).Draw(t, "steps") {
			n := rapid.Int64Range(-1<<53, 1<<53).Draw(t, "n")
			m := rapid.Int64Range(-1<<53, 1<<53).Draw(t, "m")
			value = value.Times(Approx{V: float64(n)}).Minus(Approx{V: float64(m)}.Times(Approx{V: float64(n)}))
			truth.Sub(truth.Mul(truth, big.NewInt(n)), new(big.Int).Mul(big.NewInt(m), big.NewInt(n)))
		}
		off := new(big.Rat).Sub(new(big.Rat).SetFloat64(value.V), new(big.Rat).SetInt(truth))
		if off.Abs(off).Cmp(new(big.Rat).SetFloat64(value.E)) > 0 {
			t.Fatalf("%g with error %g, is %v", value.V, value.E, truth)
		}
		if s := value.Sign(); s != 0 && s != truth.Sign() {
			t.Fatalf("sign %d of %v", s, truth)
		}
	})
}

// Lattice coordinates are whole, and corners keep within the longest move.
func TestLatticeMovesLittle(t *testing.T) {
	box := mesh.Box{Min: r3.Vector{X: 1000.5, Y: -3, Z: 7}, Max: r3.Vector{X: 1090.25, Y: 44, Z: 19}}
	l := New(box, 5)
	if half := 90.0 / 2; l.StepMM > half*0x1p-49 || l.StepMM < half*0x1p-51 {
		t.Errorf("step %g", l.StepMM)
	}
	for id := range int32(1000) {
		p := box.Min.Add(box.Size().Mul(float64(id) / 1000))
		q := l.Corner(id, p).Add(l.Shell(id % 7))
		for _, x := range vector.XYZ(q) {
			if x != math.Trunc(x) || math.Abs(x) > 1<<latticeBits+1<<12 {
				t.Fatalf("coordinate %g", x)
			}
		}
		if d := l.ToMM(q).Sub(p).Norm(); d > LongestMove*l.StepMM || d == 0 {
			t.Fatalf("moved by %g, at most %g", d, LongestMove*l.StepMM)
		}
	}
}
