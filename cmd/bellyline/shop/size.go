package shop

import (
	"context"
	"errors"
	"fmt"

	"github.com/golang/geo/r3"

	"bellyline/cavity"
	"bellyline/cavity/cool"
	"bellyline/cavity/layout"
	"bellyline/cmd/bellyline/files"
	"bellyline/mesh"
)

// Sizing is a mold that is not cut yet, as it is asked for.
type Sizing struct {
	Model            Model
	Read             cavity.Options
	Back, Nose, Pull r3.Vector // Pull is zero when it is to be found
	Parting          int       // of the partings listed, from 1; 0: the first
	Limits           layout.Limits
	LengthMM         float64 // of the cold bait; 0: the model's
	Shrink           float64 // share of its length that the bait loses
	Cool             cool.Ask
	ExpansionPerC    float64     // of the plastic, by volume
	Ask              layout.Ask  // complete but for the time to open
	Shop             *files.Shop // nil: none
	Sources          string      // where the sizes of the mold come from, in words
}

// PartingError is returned for a number that no parting has.
type PartingError struct{ Asked, Most int }

func (e PartingError) Error() string {
	return fmt.Sprintf("there is no parting %d; there are %d", e.Asked, e.Most)
}

// NewMold is a mold that was sized.
type NewMold struct {
	*layout.Result
	asked Sizing
	bait  *cavity.Cavity
	model *mesh.Mesh // scaled
	laid  *layout.Bait
}

// Size lays a mold out for a model. The model is named where it is at fault, and not
// where temperatures are. Errors wrap those of cavity, cool and layout, or PartingError.
func Size(ctx context.Context, s Sizing) (*NewMold, error) {
	bait, err := s.Model.Bait(ctx, s.Read, s.Back, s.Nose)
	if err != nil {
		return nil, err
	}
	n := &NewMold{asked: s, bait: bait}
	err = n.size(ctx)
	if _, number := errors.AsType[PartingError](err); err == nil || number || errors.Is(err, cool.ErrNever) || errors.Is(err, cool.ErrTemperature) {
		return n, err
	}
	return nil, fmt.Errorf("%s: %w", s.Model.Name, err)
}

func (n *NewMold) size(ctx context.Context) error {
	s := n.asked
	scale, err := n.scale()
	if err != nil {
		return err
	}
	n.model = layout.Scaled(n.bait.Mesh, scale)
	thick, err := layout.FindThickness(ctx, n.model, s.Limits, s.Back, s.Nose, n.bait.Overlaps())
	if err != nil {
		return err
	}
	taken, all, err := n.parting(ctx, scale)
	if err != nil {
		return err
	}
	if n.laid, err = layout.NewBait(n.model, n.bait.FillMM3*scale*scale*scale, taken, s.Nose); err != nil {
		return err
	}
	if s.Ask.OpenAfterS, err = n.openAfter(ctx, scale); err != nil {
		return err
	}
	best, setups, err := layout.Size(n.laid, s.Ask)
	if err != nil {
		return err
	}
	n.asked = s
	r := layout.NewResult(n.laid, best, setups, taken, all, thick, s.Ask)
	r.File, r.OpenAfterS, r.Scale, r.Shrink, r.ShrinkVolume = s.Model.Name, &s.Ask.OpenAfterS, scale, s.Shrink, layout.VolumeShrink(s.Shrink)
	r.Sources = s.Sources
	if s.Shop != nil {
		r.Money = s.Shop.Money
	}
	low, high := n.model.Span(s.Nose.Normalize())
	r.ColdMM = (high - low) * (1 - s.Shrink)
	r.Warnings = append(append([]string{}, n.bait.Warnings...), r.Warnings...)
	if n.bait.Overlaps() {
		r.Warnings = append(r.Warnings, "parts of the model overlap: where they join, the bait reads thinner than it is")
	}
	n.Result = r
	return nil
}

// scale is by how much the model is drawn larger.
func (n *NewMold) scale() (float64, error) {
	scale, err := layout.ScaleForShrink(n.asked.Shrink)
	if err != nil {
		return 0, err
	}
	if want := n.asked.LengthMM; want > 0 {
		low, high := n.bait.Mesh.Span(n.asked.Nose.Normalize())
		scale *= want / (high - low)
	}
	return scale, nil
}

// parting takes the parting asked for, or that which the least speaks against.
func (n *NewMold) parting(ctx context.Context, scale float64) (taken layout.Parting, all []layout.Parting, err error) {
	s := n.asked
	want := layout.Wanted{Back: s.Back, Nose: s.Nose, Colours: s.Ask.Colours(), Asked: s.Pull}
	if want.Colours == 2 {
		height, err := n.bait.HeightFor(ctx, s.Ask.Injectors[0].Barrels[0].Share)
		if err != nil {
			return taken, nil, err
		}
		want.LineMM = height * scale
	}
	if all, err = layout.Partings(ctx, n.model, want); err != nil {
		return taken, nil, err
	}
	number := max(s.Parting, 1)
	if s.Parting < 0 || number > len(all) {
		return taken, nil, PartingError{s.Parting, len(all)}
	}
	if s.Pull.Norm() > 0 {
		number = layout.Along(all, s.Pull)
	}
	return all[number-1], all, nil
}

// openAfter is the setting time of the scaled bait: times go with the square of size.
func (n *NewMold) openAfter(ctx context.Context, scale float64) (float64, error) {
	body, err := cool.NewBody(ctx, n.bait.Mesh, n.bait.Overlaps())
	if err != nil {
		return 0, err
	}
	r, err := body.Cool(ctx, n.asked.Cool)
	if err != nil {
		return 0, err
	}
	return *r.TimeS * scale * scale, nil
}
