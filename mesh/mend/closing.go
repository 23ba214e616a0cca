package mend

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
)

const (
	// farthestPart is the largest tolerance that is tried to close a surface, in parts
	// of the size: what is further apart is no rounding of a program.
	farthestPart = 0.01
	// closingShare is how much of the volume a tolerance that was found rather than
	// given may be worth.
	closingShare = 0.01
	// closingSteps is how often the range between a tolerance that closes the surface and
	// half of it is halved: to a sixteenth of it, as two digits tell no more.
	closingSteps = 4
)

// closing is a tolerance at which welding cracks and splitting edges closes a surface
// without a cap.
type closing struct {
	toleranceMM float64 // 0: there is none
	share       float64 // of the volume, that this may change it by
}

// NotClosedError says why a surface stays open at the tolerance that was given, and
// at which it closes.
type NotClosedError struct {
	Err         error
	ToleranceMM float64
	Share       float64 // of the volume, bounds what that can change
}

func (e *NotClosedError) Unwrap() error { return e.Err }

func (e *NotClosedError) Error() string {
	return fmt.Sprintf("%v; it closes if corners up to %g mm apart are one, which may change the volume by up to %s",
		e.Err, e.ToleranceMM, percent(e.Share))
}

// findTolerance takes the tolerance at which the surface closes, if what that can do to
// the volume is below closingShare. A surface that closes at none keeps what it has.
func (d *mender) findTolerance() error {
	c, err := d.findClosing()
	switch {
	case err != nil || c.toleranceMM == 0:
		return err
	case c.share >= closingShare:
		err := fmt.Errorf("%w: no size is taken by itself that may change the volume by %s and more", ErrBeyond, percent(closingShare))
		return &NotClosedError{err, c.toleranceMM, c.share}
	}
	d.tolerance, d.foundMM = c.toleranceMM, c.toleranceMM
	return nil
}

// withClosing adds to the reason why a surface stays open at which tolerance it closes.
func (d *mender) withClosing(reason error) error {
	if !errors.Is(reason, ErrBeyond) && !errors.Is(reason, ErrNeeded) {
		return reason
	}
	c, err := d.findClosing()
	if err != nil {
		return err
	}
	if c.toleranceMM == 0 {
		return reason
	}
	return &NotClosedError{reason, c.toleranceMM, c.share}
}

// findClosing looks for the smallest tolerance at which the surface closes: doubled
// until it does, then halved, then rounded up to a number that can be typed. It is
// nothing where the surface is closed or closes at the tolerance that it has.
func (d *mender) findClosing() (closing, error) {
	if d.survey().Boundary == 0 {
		return closing{}, nil
	}
	if c, err := d.closeWithin(d.tolerance); err != nil || c.toleranceMM > 0 {
		return closing{}, err
	}
	low, high, farthest := d.tolerance, 0.0, farthestPart*d.size
	for high == 0 {
		if low >= farthest {
			return closing{}, nil
		}
		t := min(2*low, farthest)
		c, err := d.closeWithin(t)
		switch {
		case err != nil:
			return c, err
		case c.toleranceMM > 0:
			high = t
		default:
			low = t
		}
	}
	for range closingSteps {
		c, err := d.closeWithin((low + high) / 2)
		switch {
		case err != nil:
			return c, err
		case c.toleranceMM > 0:
			high = c.toleranceMM
		default:
			low = (low + high) / 2
		}
	}
	for _, t := range []float64{roundedUp(high, 2), roundedUp(high, 4)} {
		if c, err := d.closeWithin(t); err != nil || c.toleranceMM > 0 {
			return c, err
		}
	}
	return d.closeWithin(high)
}

// roundedUp returns a number of so many digits that is not below x > 0.
func roundedUp(x float64, digits int) float64 {
	up, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
	if up >= x {
		return up
	}
	step := math.Pow(10, math.Floor(math.Log10(x))-float64(digits-1))
	up, _ = strconv.ParseFloat(strconv.FormatFloat(x+step, 'e', digits-1, 64), 64)
	return up
}

// closeWithin tries whether the surface closes at a tolerance without a cap.
func (d *mender) closeWithin(tolerance float64) (closing, error) {
	if err := d.ctx.Err(); err != nil {
		return closing{}, err
	}
	trial := *d
	trial.tolerance, trial.mends, trial.turned = tolerance, nil, slices.Clone(d.turned)
	if err := trial.weldCracks(); err != nil || trial.hasLoneCorner() {
		return closing{}, err
	}
	switch err := trial.run(trial.splitTJoints, trial.dropDuplicates, trial.turnFacets); {
	case errors.Is(err, ErrBeyond):
		return closing{}, nil
	case err != nil:
		return closing{}, err
	}
	s := trial.survey()
	volume := math.Abs(volumeOf(trial.m))
	if s.Boundary+s.Misoriented > 0 || volume <= trial.harmless {
		return closing{}, nil
	}
	return closing{tolerance, trial.missingMM3() / volume}, nil
}

// hasLoneCorner says whether some corner is used by one facet only. Splitting edges
// does not close a surface there.
func (d *mender) hasLoneCorner() bool {
	uses := make([]uint8, len(d.m.Vertices))
	for _, t := range d.m.Triangles {
		for _, v := range t {
			uses[v] = min(uses[v]+1, 2)
		}
	}
	return slices.Contains(uses, 1)
}
