package laminate

import (
	"context"
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"gonum.org/v1/gonum/interp"

	"bellyline/cavity"
)

// chordMM is how far the straight pieces that stand for a smooth line may lie off
// it: a tenth of what a cutter or a pour can hold.
const chordMM = 0.005

// Drawn is points in side view, extruded across the bait: belly, back. Beyond its
// first and last point it runs on level.
type Drawn struct {
	RaiseMM float64    // how far it is moved up from where it was drawn
	Points  []r2.Point // along the nose direction and height, in mm, from tail to nose
	Smooth  bool       // a smooth curve through the points
}

func (Drawn) Kind() Kind                    { return KindDrawn }
func (Drawn) Colours() (string, string)     { return "belly", "back" }
func (Drawn) Streams() bool                 { return true }
func (b Drawn) PlaceMM() float64            { return b.RaiseMM }
func (b Drawn) At(raiseMM float64) Boundary { b.RaiseMM = raiseMM; return b }

const mostPoints = 1000

func (b Drawn) check(bool) error {
	if n := len(b.Points); n < 2 || n > mostPoints {
		return fmt.Errorf("%w: a drawn line has 2 to %d points, not %d", ErrJob, mostPoints, n)
	}
	for i, p := range b.Points {
		if !sound(math.Abs(p.X)) || !sound(math.Abs(p.Y)) {
			return fmt.Errorf("%w: point %d of the line is (%g, %g)", ErrJob, i+1, p.X, p.Y)
		}
		if i > 0 && !(p.X > b.Points[i-1].X) {
			return fmt.Errorf("%w: point %d of the line at %g mm must lie nearer the nose than the one before it, at %g mm", ErrJob, i+1, p.X, b.Points[i-1].X)
		}
	}
	return nil
}

func (b Drawn) lay(ctx context.Context, c *cavity.Cavity, l Line) (laid, error) {
	f, err := c.Frame()
	if err != nil {
		return nil, err
	}
	knots, says := b.Points, SplitLine{}
	if b.Smooth {
		if knots, err = smooth(knots); err != nil {
			return nil, err
		}
		chord := chordMM
		says.ChordMM = &chord
	}
	sheets, err := c.Folds(f.Nose, f.Back, knots)
	if err != nil {
		return nil, err
	}
	s, err := family{
		surfaces: sheets, up: f.Back, along: f.Nose, knots: knots, scale: 1, ahead: sheets.HeightMM(middleOf(c, f.Nose)), says: says,
		missed: "the drawn line misses the bait; it meets it when it is moved by %.3[2]f to %.3[3]f mm, not by %.3[1]f",
	}.find(ctx, b, l)
	if err != nil {
		return nil, err
	}
	s.says.MovedMM, s.says.PointsMM = &s.level, s.surface().Knots
	return s, nil
}

// smooth returns straight pieces for a smooth curve through points: the monotone
// cubic of Fritsch and Butland (SIAM J. Sci. Stat. Comput. 5 (1984) 300; as the
// library has it), which rises and falls where the points do and nowhere swings
// past them.
func smooth(points []r2.Point) ([]r2.Point, error) {
	xs, ys := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		xs[i], ys[i] = p.X, p.Y
	}
	var curve interp.FritschButland
	if err := curve.Fit(xs, ys); err != nil {
		return nil, fmt.Errorf("%w: no smooth line goes through these points: %w", ErrJob, err)
	}
	knots := []r2.Point{points[0]}
	for i := 1; i < len(points); i++ {
		knots = append(knots, chords(&curve, points[i-1], points[i])...)
		knots = append(knots, points[i])
	}
	return knots, nil
}

// chords returns the points between a and b that keep straight pieces within chordMM
// of the curve. A cubic lies furthest off its chord by at most the span squared
// times its largest second derivative over 8, and that is largest at an end.
func chords(curve *interp.FritschButland, a, b r2.Point) []r2.Point {
	span := b.X - a.X
	slope := (b.Y - a.Y) / span
	from, to := curve.PredictDerivative(a.X), curve.PredictDerivative(b.X)
	bend := max(math.Abs(6*slope-4*from-2*to), math.Abs(6*slope-2*from-4*to)) / span
	n := int(math.Ceil(span * math.Sqrt(bend/(8*chordMM))))
	const mostChords = 200 // a kink that no pour shows
	n = min(n, mostChords)
	var between []r2.Point
	for k := 1; k < n; k++ {
		x := a.X + span*float64(k)/float64(n)
		between = append(between, r2.Point{X: x, Y: curve.Predict(x)})
	}
	return between
}
