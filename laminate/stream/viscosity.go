package stream

import (
	"errors"
	"fmt"
	"math"
)

// gasConstant is R in J/(mol K) (CODATA 2018).
const gasConstant = 8.314462618

// kelvin is 0 C.
const kelvin = 273.15

// Activation is how fast a melt thins as it gets hotter, in J/mol, with what it
// may be at least and at most.
type Activation struct{ J, LowJ, HighJ float64 }

// DefaultActivation is that of a hot, very soft plastisol: no published figure was
// found; between its plasticizer's 19 kJ/mol and a soft PVC melt's 80 (both
// unverified). An editable default, not a fact.
func DefaultActivation() Activation { return Activation{J: 40e3, LowJ: 19e3, HighJ: 80e3} }

// Ratio is the viscosity of the back over that of the belly, with its band.
type Ratio struct {
	Back float64 `json:"back"` // over belly
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// EqualRatio is that of two streams alike.
func EqualRatio() Ratio { return Ratio{1, 1, 1} }

// ErrViscosity is wrapped by errors about viscosities that cannot be.
var ErrViscosity = errors.New("viscosities cannot be told")

// RatioAt returns what two temperatures in C do to one material: Arrhenius' law.
func (a Activation) RatioAt(backC, bellyC float64) (Ratio, error) {
	if !(a.LowJ >= 0 && a.LowJ <= a.J && a.J <= a.HighJ) || !(backC > -kelvin && bellyC > -kelvin) {
		return Ratio{}, fmt.Errorf("%w from %g to %g J/mol at %g C and %g C", ErrViscosity, a.LowJ, a.HighJ, backC, bellyC)
	}
	at := func(j float64) float64 { return math.Exp(j / gasConstant * (1/(backC+kelvin) - 1/(bellyC+kelvin))) }
	r := Ratio{Back: at(a.J), Low: at(a.LowJ), High: at(a.HighJ)}
	if r.Low > r.High {
		r.Low, r.High = r.High, r.Low
	}
	return r, r.check()
}

// Emptying is one run of a ladle with a small hole.
type Emptying struct{ Seconds, C float64 }

// handSeconds is how well a hand stops a watch at both ends of a run together.
const handSeconds = 0.5

// leastApartC is what two emptying times must lie apart for anything to be told.
const leastApartC = 2

// FromEmptying works the activation energy out of two emptying times of one ladle
// at two temperatures: the time goes as viscosity over density, and density, which
// changes by some thousandths, is left out. The spread is that of a hand on a watch.
func FromEmptying(one, two Emptying) (Activation, error) {
	if one.C > two.C {
		one, two = two, one
	}
	switch {
	case !(one.Seconds > 2*handSeconds && two.Seconds > 2*handSeconds):
		return Activation{}, fmt.Errorf("%w: emptying must take longer than %g s; use a smaller hole", ErrViscosity, 2*handSeconds)
	case !(two.C-one.C >= leastApartC && one.C > -kelvin):
		return Activation{}, fmt.Errorf("%w: the two emptyings are at %.1f C and %.1f C; take them %d C or more apart", ErrViscosity, one.C, two.C, leastApartC)
	case one.Seconds < two.Seconds:
		return Activation{}, fmt.Errorf("%w: at %.1f C it emptied in %.1f s, hotter at %.1f C it took %.1f s; were they mixed up?", ErrViscosity, one.C, one.Seconds, two.C, two.Seconds)
	}
	over := gasConstant / (1/(one.C+kelvin) - 1/(two.C+kelvin))
	at := func(cold, hot float64) float64 { return max(0, over*math.Log(cold/hot)) }
	return Activation{
		J:     at(one.Seconds, two.Seconds),
		LowJ:  at(one.Seconds-handSeconds, two.Seconds+handSeconds),
		HighJ: at(one.Seconds+handSeconds, two.Seconds-handSeconds),
	}, nil
}

// The most that a ratio of viscosities may be: past it the thicker colour does not
// flow like the other at all.
const mostRatio = 1000

func (r Ratio) check() error {
	for _, x := range []float64{r.Back, r.Low, r.High} {
		if !(x >= 1./mostRatio && x <= mostRatio) {
			return fmt.Errorf("%w: a ratio of %.3g; give one from 1/%d to %d", ErrViscosity, x, mostRatio, mostRatio)
		}
	}
	if !(r.Low <= r.Back && r.Back <= r.High) {
		return fmt.Errorf("%w: %.3g does not lie in its own band, %.3g to %.3g", ErrViscosity, r.Back, r.Low, r.High)
	}
	return nil
}

// PushedFeed is the back's share when each plunger is pushed by hand as hard as the
// other: flows then go as 1/viscosity through like passages, and as the push.
// back is the share at equal viscosities, harder the back's push over the belly's.
func PushedFeed(back, ratio, harder float64) float64 {
	odds := back / (1 - back) * harder / ratio
	return odds / (1 + odds)
}

// wraps is the ratio of viscosities, or of flows, past which the thinner stream is
// said to wrap the thicker one early (an extrusion handbook's advice, EH-V27-2-A:
// beyond a factor of 10 in either keep the streams apart until late).
const wraps = 10
