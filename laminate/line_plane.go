package laminate

import (
	"context"

	"bellyline/cavity"
)

// Level is a plane across the back direction: belly, back.
type Level struct {
	HeightMM float64 // along the back direction, in model coordinates
}

func (Level) Kind() Kind                     { return KindLevel }
func (Level) Colours() (string, string)      { return "belly", "back" }
func (Level) Streams() bool                  { return true }
func (b Level) PlaceMM() float64             { return b.HeightMM }
func (b Level) At(heightMM float64) Boundary { b.HeightMM = heightMM; return b }
func (Level) check(bool) error               { return nil }

func (b Level) lay(ctx context.Context, c *cavity.Cavity, l Line) (laid, error) {
	return found(planes(levels{c}, c.Back(), "").find(ctx, b, l))
}

// Crosswise is a plane across the nose direction: tail, head.
type Crosswise struct {
	AlongMM float64 // the nose direction, in model coordinates
}

func (Crosswise) Kind() Kind                    { return KindCrosswise }
func (Crosswise) Colours() (string, string)     { return "tail", "head" }
func (Crosswise) Streams() bool                 { return false }
func (b Crosswise) PlaceMM() float64            { return b.AlongMM }
func (b Crosswise) At(alongMM float64) Boundary { b.AlongMM = alongMM; return b }
func (Crosswise) check(bool) error              { return nil }

func (b Crosswise) lay(ctx context.Context, c *cavity.Cavity, l Line) (laid, error) {
	f, err := c.Frame()
	if err != nil {
		return nil, err
	}
	s, err := c.Planes(f.Nose)
	if err != nil {
		return nil, err
	}
	return found(planes(s, f.Nose, " along the nose direction").find(ctx, b, l))
}
