package cavity

import (
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"gonum.org/v1/gonum/interp"
)

// Profile is a line in side view: X along the nose and Y along the back, in mm of the
// model, X rising. It is straight between points and level beyond both ends, and
// goes straight across the bait.
type Profile []r2.Point

// ErrProfile is wrapped by errors about a profile that is no line in side view.
var ErrProfile = errors.New("not a line in side view")

// mostPoints is past any line that is drawn by hand.
const mostPoints = 200

// Check says whether the points are a profile.
func (p Profile) Check() error {
	switch {
	case len(p) < 2:
		return fmt.Errorf("%w: it takes at least two points", ErrProfile)
	case len(p) > mostPoints:
		return fmt.Errorf("%w: %d points are more than %d", ErrProfile, len(p), mostPoints)
	}
	for i, q := range p {
		switch {
		case !sound(math.Abs(q.X)) || !sound(math.Abs(q.Y)):
			return fmt.Errorf("%w: point %d is (%g, %g)", ErrProfile, i+1, q.X, q.Y)
		case i > 0 && !(q.X > p[i-1].X):
			return fmt.Errorf("%w: point %d at %g mm does not lie nearer to the nose than the one before it at %g mm", ErrProfile, i+1, q.X, p[i-1].X)
		}
	}
	return nil
}

// piece returns the number of the piece that x lies on: piece i ends at point i, piece
// 0 and the last one are the level ends.
func (p Profile) piece(x float64) int {
	i := 0
	for i < len(p) && x > p[i].X {
		i++
	}
	return i
}

// At returns the height of the line at x.
func (p Profile) At(x float64) float64 {
	switch i := p.piece(x); i {
	case 0:
		return p[0].Y
	case len(p):
		return p[len(p)-1].Y
	default:
		a, b := p[i-1], p[i]
		return a.Y + (b.Y-a.Y)*((x-a.X)/(b.X-a.X))
	}
}

// along returns the length of the line from its first point to x, negative before it.
func (p Profile) along(x float64) float64 {
	if x <= p[0].X {
		return x - p[0].X
	}
	length := 0.0
	for i := 1; i < len(p); i++ {
		if step := p[i].Sub(p[i-1]); x > p[i].X {
			length += step.Norm()
		} else {
			return length + step.Norm()*(x-p[i-1].X)/step.X
		}
	}
	return length + x - p[len(p)-1].X
}

// smoothPieces is how many straight pieces stand for a curve between two points. The
// curve strays from them by about 1/(8·smoothPieces²) of how far it strays from the
// straight line between the points.
const smoothPieces = 8

// Smooth returns a profile in straight pieces along a curve through the points, which
// rises and falls only where they do (Fritsch and Butland 1984, "A method for
// constructing local monotone piecewise cubic interpolants", SIAM J. Sci. Stat.
// Comput. 5(2)).
func (p Profile) Smooth() (Profile, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if len(p) == 2 {
		return p, nil
	}
	var xs, ys []float64
	for _, q := range p {
		xs, ys = append(xs, q.X), append(ys, q.Y)
	}
	var curve interp.FritschButland
	if err := curve.Fit(xs, ys); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrProfile, err)
	}
	var fine Profile
	for i := 1; i < len(p); i++ {
		for k := range smoothPieces {
			x := p[i-1].X + (p[i].X-p[i-1].X)*float64(k)/smoothPieces
			fine = append(fine, r2.Point{X: x, Y: curve.Predict(x)})
		}
	}
	return append(fine, p[len(p)-1]), nil
}
