package cavity

import "context"

// CurvePoint is how much of a cavity lies below a height.
type CurvePoint struct {
	HeightMM float64 `json:"height_mm"`
	BelowMM3 float64 `json:"below_mm3"`
	Share    float64 `json:"share"` // of what fills
	AreaMM2  float64 `json:"area_mm2"`
}

// Curve returns the volume below heights that part the cavity's range into the
// given number of equal steps, both ends included. It costs a Level at each.
func (c *Cavity) Curve(ctx context.Context, steps int) ([]CurvePoint, error) {
	low, high := c.Heights()
	points := make([]CurvePoint, 0, steps+1)
	for i := range steps + 1 {
		h := low + (high-low)*float64(i)/float64(steps)
		at, err := c.Level(ctx, h)
		if err != nil {
			return nil, err
		}
		points = append(points, CurvePoint{h, at.BelowMM3, at.BelowMM3 / c.FillMM3, at.AreaMM2})
	}
	return points, nil
}
