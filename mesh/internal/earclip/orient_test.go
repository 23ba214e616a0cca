package earclip

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"bellyline/mesh/internal/near"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

func exactTurn(a, b, c r2.Point) int {
	rat := func(f float64) *big.Rat { return new(big.Rat).SetFloat64(f) }
	diff := func(x, y float64) *big.Rat { return new(big.Rat).Sub(rat(x), rat(y)) }
	l := new(big.Rat).Mul(diff(b.X, a.X), diff(c.Y, a.Y))
	return l.Cmp(new(big.Rat).Mul(diff(b.Y, a.Y), diff(c.X, a.X)))
}

// Points on and beside a line by a last bit, where the float determinant is
// wrong, at all scales.
func TestOrientIsExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	var counts [3]int
	wrong := 0
	for i := range 30000 {
		scale := []float64{1, 1e5, 1e-9, 1e-170}[i%4]
		a := r2.Point{X: rng.NormFloat64() * scale, Y: rng.NormFloat64() * scale}
		way := r2.Point{X: rng.NormFloat64() * scale, Y: rng.NormFloat64() * scale}
		b, c := a.Add(way), a.Add(way.Mul(float64(rng.IntN(5))/2))
		if i%3 == 0 { // few bits: exactly on one line
			a = r2.Point{X: math.Round(8 * a.X), Y: math.Round(8 * a.Y)}
			way = r2.Point{X: math.Round(8 * way.X), Y: math.Round(8 * way.Y)}
			b, c = a.Add(way), a.Add(way.Mul(3))
		}
		c.X, c.Y = near.Nudge(c.X, rng.IntN(3)-1), near.Nudge(c.Y, rng.IntN(3)-1)
		want := exactTurn(a, b, c)
		for _, turn := range [][3]r2.Point{{a, b, c}, {b, c, a}, {c, a, b}} {
			if got := Orient2D(turn[0], turn[1], turn[2]); got != want {
				t.Fatalf("orient2D(%v) is %d, exactly %d", turn, got, want)
			}
		}
		if got := Orient2D(b, a, c); got != -want {
			t.Fatalf("orient2D(%v %v %v) is %d, exactly %d", b, a, c, got, -want)
		}
		if d := TwiceArea(a, b, c); d > 0 && want != 1 || d < 0 && want != -1 || d == 0 && want != 0 {
			wrong++
		}
		counts[want+1]++
	}
	if wrong < 1000 || slices.Min(counts[:]) < 1000 {
		t.Errorf("too easy: floats were wrong %d times, turns were %v", wrong, counts)
	}
}

// Leaving an axis out keeps what is counter-clockwise seen from above.
func TestDropAxisKeepsTheTurn(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	for range 1000 {
		n := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
		e := n.Ortho()
		f := n.Cross(e) // e, f, n is right-handed
		frame := NewDropAxis(n)
		if Orient2D(frame.Point(r3.Vector{}), frame.Point(e), frame.Point(f)) != 1 {
			t.Fatalf("normal %v: the frame turns the plane over", n)
		}
	}
}
