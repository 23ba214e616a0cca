package cool

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r3"
)

// Moment is one point of the cooling curve.
type Moment struct {
	TimeS    float64 `json:"time_s"`
	HottestC float64 `json:"hottest_c"`
	MeanC    float64 `json:"mean_c"`
	MoldC    float64 `json:"mold_c"`
}

// shot is one bait cooled until it can be opened.
type shot struct {
	curve []Moment
	time  float64 // NaN: the mold passed the opening temperature
	spot  r3.Vector
	moldC float64 // when it is opened
	meanC float64
}

// Errors of a run.
var (
	ErrNever       = errors.New("never: cool the mold")
	ErrTemperature = errors.New("temperatures do not fit")
)

// longestSteps bounds a run: it is reached only where the opening temperature is
// next to the mold's.
const longestSteps = 20_000_000

// A look at the hottest place follows each advance. Its length in time is a share
// of what has passed since the bait was poured, sampleShare at most, so that the
// layer at the wall has spread far enough for it, and until the hottest has fallen by
// a twentieth or so: that is sampleFo, in steps of diffusivity by time over half the
// thickness squared, or longer behind a contact that holds the heat.
const (
	sampleShare = 0.125
	sampleFo    = 0.0075
	sampleFall  = 0.04 // of the logarithm of the hottest's height over the mold
	surelyFalls = 0.9  // of that height are left: from here on it tells how fast it falls
)

// setting is the plain numbers of a run.
type setting struct {
	meltC, openC float64
	diffusivity  float64 // mm2/s
}

func (s setting) stepS(g *Grid) float64 { return stepShare * g.h * g.h / s.diffusivity }

// coolShot cools one bait from the melt until its hottest place is below the
// opening temperature.
func (g *Grid) coolShot(ctx context.Context, s setting, wall *wallState) (*shot, error) {
	f := newField(g, s.meltC, wall.c)
	dt := s.stepS(g)
	r := &shot{curve: []Moment{{TimeS: 0, HottestC: s.meltC, MeanC: s.meltC, MoldC: wall.c}}}
	hot, heat := s.meltC, s.meltC*g.total
	done, steps := startShare/stepShare, startShare/stepShare // short steps since the pour, since the last look
	for {
		last, was := hot, heat
		heat = f.heat(wall.c)
		wall.take(was, heat, steps*dt)
		var at r3.Vector
		hot, at = f.hottest()
		hot = min(hot, s.meltC)
		if hot <= s.openC {
			r.finish(s, done*dt, steps*dt, last, hot, heat/g.total, wall.c, at)
			return r, nil
		}
		r.curve = append(r.curve, Moment{TimeS: done * dt, HottestC: hot, MeanC: heat / g.total, MoldC: wall.c})
		if wall.c >= s.openC {
			r.time, r.moldC = math.NaN(), wall.c
			return r, nil
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if done > longestSteps {
			return nil, fmt.Errorf("%w: the opening temperature of %.4g C is too near to the mold's %.4g C to be waited for", ErrTemperature, s.openC, wall.c)
		}
		n := g.stepsToLook(done, fall((last-wall.c)/(s.meltC-wall.c), (hot-wall.c)/(s.meltC-wall.c))/steps)
		f.advance(n, wall.c)
		steps = float64(n)
		done += steps
	}
}

// stepsToLook is how many short steps to do at once after so many since the pour, in
// the last of which the hottest fell by so much.
func (g *Grid) stepsToLook(done, fall float64) int {
	cells := g.body.radiusMM / g.h
	most := sampleFo * cells * cells / stepShare
	if fall > 0 {
		most = max(most, sampleFall/fall)
	}
	return fullCycle(int(min(sampleShare*done, most)))
}

// fall is by how much the logarithm fell from one share of the first height over
// the mold that is left to another; 0 where that says nothing yet.
func fall(from, to float64) float64 {
	if to > surelyFalls || !(to > 0) {
		return 0
	}
	return math.Log(from / to)
}

// finish finds the time between two looks: the hottest falls nearly by the same
// share of its height over the mold in each step.
func (r *shot) finish(s setting, t, every, last, hot, mean, mold float64, at r3.Vector) {
	share := 1.0
	if last > hot && hot > mold {
		share = math.Log((last-mold)/(s.openC-mold)) / math.Log((last-mold)/(hot-mold))
	}
	r.time, r.spot, r.moldC = t-every*(1-share), at, mold
	before := r.curve[len(r.curve)-1]
	r.meanC = before.MeanC + share*(mean-before.MeanC)
	r.curve = append(r.curve, Moment{TimeS: r.time, HottestC: s.openC, MeanC: r.meanC, MoldC: mold})
}
