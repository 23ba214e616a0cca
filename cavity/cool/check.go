package cool

import (
	"fmt"
	"math"
)

// Outside of these a number is a slip, and the grid would run for hours.
const (
	slowestMM2S, fastestMM2S = 1e-4, 1e4
	widestContactMM          = 1e4
	coldestC, hottestC       = -100, 5000
	longestS                 = 1e9
	// nearestShare of the difference between melt and mold must be left at opening.
	nearestShare = 1e-6
	mostShots    = 1000
	largest      = 1e9
)

// check refuses what cannot be answered. Errors wrap ErrTemperature, ErrNever or
// ErrBody.
func (a Ask) check() error {
	for _, c := range []float64{a.MeltC, a.MoldC, a.OpenC} {
		if !(c >= coldestC && c <= hottestC) {
			return fmt.Errorf("%w: %g C", ErrTemperature, c)
		}
	}
	switch {
	case a.OpenC >= a.MeltC:
		return fmt.Errorf("%w: the bait is opened at %.4g C and poured at %.4g C: it is to cool in between", ErrTemperature, a.OpenC, a.MeltC)
	case a.MoldC >= a.OpenC:
		return fmt.Errorf("%w below the opening temperature: at %.4g C it cannot bring the bait below %.4g C", ErrNever, a.MoldC, a.OpenC)
	case a.OpenC-a.MoldC < nearestShare*(a.MeltC-a.MoldC):
		return fmt.Errorf("%w: the opening temperature %.6g C is next to the mold's %.6g C", ErrTemperature, a.OpenC, a.MoldC)
	case a.DiffusivityMM2S != 0 && !(a.DiffusivityMM2S >= slowestMM2S && a.DiffusivityMM2S <= fastestMM2S):
		return fmt.Errorf("%w: a diffusivity of %g mm2/s; soft vinyl has about 0.1", ErrBody, a.DiffusivityMM2S)
	case !(a.ContactMM >= 0 && a.ContactMM <= widestContactMM):
		return fmt.Errorf("%w: a contact of %g mm of plastic", ErrBody, a.ContactMM)
	case !(a.GridMM >= 0) || math.IsInf(a.GridMM, 0):
		return fmt.Errorf("%w: a grid of %g mm", ErrBody, a.GridMM)
	case !(a.OpensAfterS >= 0 && a.OpensAfterS <= longestS):
		return fmt.Errorf("%w: opened after %g s", ErrBody, a.OpensAfterS)
	case a.Shots < 0 || a.Shots > mostShots:
		return fmt.Errorf("%w: %d shots; at most %d are followed", ErrBody, a.Shots, mostShots)
	}
	return a.Block.check()
}

// check says whether a block is one.
func (b *Block) check() error {
	if b == nil {
		return nil
	}
	for _, x := range []struct {
		name  string
		value float64
		none  bool // it may be 0
	}{
		{"mass in g", b.MassG, false}, {"specific heat in J/(g K)", b.HeatJPerGC, false}, {"bait in mL", b.BaitML, false},
		{"heat of the plastic in J/(mL K)", b.PlasticJMLC, false}, {"loss in W/K", b.LossWPerC, true},
		{"time between shots in s", b.BetweenS, true}, {"runner in mL", b.ExtraML, true}, {"baits", float64(b.Baits), false},
	} {
		if !(x.value >= 0 && x.value <= largest) || x.value == 0 && !x.none {
			return fmt.Errorf("%w: the block's %s cannot be %g", ErrBody, x.name, x.value)
		}
	}
	if !(b.AirC >= coldestC && b.AirC <= hottestC) {
		return fmt.Errorf("%w: air at %g C", ErrTemperature, b.AirC)
	}
	return nil
}
