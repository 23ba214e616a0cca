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

// draw places a drawn line: moved up or down as a whole, as given or for the share.
// Beyond its first and last point it runs on level.
func (p *placed) draw(ctx context.Context, c *cavity.Cavity, f frame) error {
	knots := p.line.Points
	if p.line.Smooth {
		var err error
		if knots, err = smooth(knots); err != nil {
			return err
		}
	}
	var err error
	if p.sheets, err = c.Folds(f.nose, f.back, knots); err != nil {
		return err
	}
	low, high := p.sheets.Range()
	p.level = p.line.HeightMM
	if !p.line.ByHeight {
		if !(p.line.BellyShare > 0 && p.line.BellyShare < 1) {
			return fmt.Errorf("%w: a share of the bait lies between 0 and 1, not %g", ErrJob, p.line.BellyShare)
		}
		if p.level, err = p.sheets.HeightFor(ctx, p.line.BellyShare); err != nil {
			return err
		}
	}
	if !(p.level > low && p.level < high) {
		return fmt.Errorf("%w: the drawn line misses the bait; it meets it when it is moved by %.3f to %.3f mm, not by %.3f", ErrJob, low, high, p.level)
	}
	p.middle = p.sheets.HeightMM(middleOf(c, f.nose)) + p.level
	for _, k := range knots {
		p.knots = append(p.knots, [2]float64{k.X, k.Y + p.level})
	}
	p.sheet = bentSheet(f.nose, f.back, p.knots)
	return nil
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
