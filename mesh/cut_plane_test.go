package mesh

import (
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"bellyline/mesh/internal/near"

	"github.com/golang/geo/r3"
)

// exactSide is Side in rational arithmetic.
func exactSide(p Plane, v r3.Vector) int {
	rat := func(f float64) *big.Rat { return new(big.Rat).SetFloat64(f) }
	sum := new(big.Rat).Neg(rat(p.HeightMM))
	for _, pair := range [][2]float64{{p.Normal.X, v.X}, {p.Normal.Y, v.Y}, {p.Normal.Z, v.Z}} {
		sum.Add(sum, new(big.Rat).Mul(rat(pair[0]), rat(pair[1])))
	}
	return sum.Sign()
}

func TestSideIsExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	var counts [3]int
	for i := range 40000 {
		scale := []float64{1, 1e5, 1e-5, 1e12}[i%4]
		v := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Mul(scale)
		n := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
		switch i % 5 {
		case 1: // whole numbers: many points exactly on the plane
			v = r3.Vector{X: math.Round(v.X), Y: math.Round(v.Y), Z: math.Round(v.Z)}
			n = r3.Vector{X: math.Round(3 * n.X), Y: math.Round(3 * n.Y), Z: 1}
		case 2: // axes
			n = [...]r3.Vector{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}}[rng.IntN(6)]
		case 3: // far from unit length
			n = n.Mul(math.Ldexp(1, rng.IntN(160)-80))
		case 4: // two components that cancel
			n.Y, v.Y = n.X, -v.X
		}
		p := Plane{Normal: n, HeightMM: near.Nudge(n.Dot(v), rng.IntN(5)-2)}
		want := exactSide(p, v)
		if got := p.Side(v); got != want {
			t.Fatalf("%v: side of %v is %d, exactly %d", p, v, got, want)
		}
		if got := p.Flip().Side(v); got != -want {
			t.Fatalf("%v flipped: side of %v is %d, exactly %d", p, v, got, -want)
		}
		counts[want+1]++
	}
	for i, n := range counts {
		if n < 2000 {
			t.Errorf("only %d points on side %d: the test does not try enough", n, i-1)
		}
	}
}

// The naive sign of Normal·v - HeightMM is wrong for such points; if it were
// not, the exact path would not be needed and the test above would prove little.
func TestNaiveSideIsWrongSomewhere(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	wrong := 0
	for range 1000 {
		v := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
		n := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
		p := Plane{Normal: n, HeightMM: n.Dot(v)}
		naive := 0
		if d := n.Dot(v) - p.HeightMM; d != 0 {
			naive = int(math.Copysign(1, d))
		}
		if naive != exactSide(p, v) {
			wrong++
		}
		if p.Side(v) != exactSide(p, v) {
			t.Fatalf("%v: side of %v is wrong", p, v)
		}
	}
	if wrong == 0 {
		t.Error("the naive sign was right 1000 times")
	}
}

func TestSideWhereFloatsUnderflowAndOverflow(t *testing.T) {
	for _, c := range []struct {
		p Plane
		v r3.Vector
	}{
		{Plane{r3.Vector{X: 1e-200, Y: 1e-200}, 0}, r3.Vector{X: 1e-200, Y: -1e-200}},
		{Plane{r3.Vector{X: 1e-200, Y: 1e-200}, 0}, r3.Vector{X: 1e-200, Y: 0}},
		{Plane{r3.Vector{X: 1e-200, Y: 1e-200}, 0}, r3.Vector{X: -1e-200, Y: 0}},
		{Plane{r3.Vector{X: 1e200, Y: 1e200}, 1}, r3.Vector{X: 1e200, Y: -1e200}},
		{Plane{r3.Vector{X: 1e200, Y: 1e200}, 1}, r3.Vector{X: 1e200, Y: 1e200}},
		{Plane{r3.Vector{X: 1, Y: 1}, 0}, r3.Vector{X: 5e-324, Y: 0}},
	} {
		if got, want := c.p.Side(c.v), exactSide(c.p, c.v); got != want {
			t.Errorf("%v: side of %v is %d, exactly %d", c.p, c.v, got, want)
		}
	}
}

func TestPlaneThatIsNone(t *testing.T) {
	m := &Mesh{}
	for _, p := range []Plane{
		{},
		{Normal: r3.Vector{X: math.NaN()}},
		{Normal: r3.Vector{X: math.Inf(1)}},
		{Normal: r3.Vector{X: 1}, HeightMM: math.NaN()},
		{Normal: r3.Vector{X: 1}, HeightMM: math.Inf(-1)},
		{Normal: r3.Vector{X: 1e-100}},
		{Normal: r3.Vector{X: 1e100}},
	} {
		if _, err := m.Cut(p); !errors.Is(err, ErrPlane) {
			t.Errorf("Cut(%v): %v, want ErrPlane", p, err)
		}
		if _, _, err := m.CutSolids(p); !errors.Is(err, ErrPlane) {
			t.Errorf("CutSolids(%v): %v, want ErrPlane", p, err)
		}
	}
}
