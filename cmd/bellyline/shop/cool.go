package shop

import (
	"context"
	"errors"
	"fmt"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/cool"
)

// Cooling is a bait of which somebody asks when it can be taken out.
type Cooling struct {
	Model Model
	Read  cavity.Options
	// Ask is complete but for what the bait holds.
	Ask cool.Ask
	// Like is another bait in the same mold and plastic, whose time Ask knows: the plastic's
	// diffusivity is made to fit that one. nil: Ask's time is the bait's own.
	Like *Model
}

// Cool works the time out in which a bait sets. Errors wrap those of cavity and cool.
func Cool(ctx context.Context, c Cooling) (*cool.Result, error) {
	body, bait, err := setting(ctx, c.Model, c.Read)
	if err != nil {
		return nil, err
	}
	ask := holding(c.Ask, bait)
	calibrated := ask.OpensAfterS > 0
	if c.Like != nil {
		if ask.DiffusivityMM2S, err = fitted(ctx, *c.Like, c); err != nil {
			return nil, err
		}
		ask.OpensAfterS = 0
	}
	result, err := body.Cool(ctx, ask)
	if err != nil {
		return nil, ofBody(c.Model, err)
	}
	result.File, result.Calibrated = c.Model.Name, calibrated
	result.Warnings = append(append([]string{}, bait.Warnings...), result.Warnings...)
	return result, nil
}

// setting makes a closed model ready to cool.
func setting(ctx context.Context, m Model, read cavity.Options) (*cool.Body, *cavity.Cavity, error) {
	bait, err := m.Bait(ctx, read, r3.Vector{Z: 1}, r3.Vector{X: 1})
	if err != nil {
		return nil, nil, err
	}
	body, err := cool.NewBody(ctx, bait.Mesh, bait.Overlaps())
	return body, bait, ofBody(m, err)
}

// holding is a question about a bait of what it holds.
func holding(ask cool.Ask, bait *cavity.Cavity) cool.Ask {
	if ask.Block != nil {
		block := *ask.Block
		block.BaitML = bait.FillMM3 / 1000
		ask.Block = &block
	}
	return ask
}

// fitted is the diffusivity that another bait's time tells, in mm2/s.
func fitted(ctx context.Context, like Model, c Cooling) (float64, error) {
	body, bait, err := setting(ctx, like, c.Read)
	if err != nil {
		return 0, err
	}
	known := holding(c.Ask, bait)
	if known.Block != nil {
		known.Shots = 1
	}
	known.GridMM = 0
	found, err := body.Cool(ctx, known)
	if err != nil {
		return 0, ofBody(like, err)
	}
	return found.DiffusivityMM2S, nil
}

// ofBody names the model where it is at fault; temperatures are not its fault.
func ofBody(m Model, err error) error {
	if errors.Is(err, cool.ErrBody) {
		return fmt.Errorf("%s: %w", m.Name, err)
	}
	return err
}
