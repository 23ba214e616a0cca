package stream

import (
	"fmt"
	"math"

	"github.com/golang/geo/r1"
)

// Parting is where two streams part in a section that they share in a given
// ratio of their flows, fully developed.
type Parting struct {
	HeightMM       float64 // of the interface
	BelowShare     float64 // of the flow
	BelowAreaShare float64 // of the section
	BelowMM        float64 // how thick each stream is at most
	AboveMM        float64
	CellMM         float64 // of the grid; a stream thinner than four is not resolved
	Flow           *Flow   // at that interface
}

// thinCells is how many cells a stream needs to be resolved.
const thinCells = 4

// Resolved tells whether both streams are at least four cells thick somewhere.
func (p *Parting) Resolved() bool { return min(p.BelowMM, p.AboveMM) >= thinCells*p.CellMM }

// ErrShare is wrapped where the share of a stream is none or all.
var ErrShare = fmt.Errorf("a stream's share of the flow lies between 0 and 1")

// PartingAt finds the height of a level interface at which belowShare of the flow
// passes below it. ratio is the viscosity of the stream above over that below.
// Cost: one solution for equal viscosities, else three to six.
func PartingAt(s Section, belowShare, ratio float64, opts Options) (*Parting, error) {
	v, err := newSolver(s, opts)
	if err != nil {
		return nil, err
	}
	return v.parting(belowShare, ratio)
}

func (v *solver) parting(belowShare, ratio float64) (*Parting, error) {
	if !(belowShare > 0 && belowShare < 1) {
		return nil, fmt.Errorf("%w, not %g", ErrShare, belowShare)
	}
	one, err := v.oneFluid()
	if err != nil {
		return nil, err
	}
	if ratio == 1 {
		return v.parted(one, v.heightIn(one, belowShare)), nil
	}
	return v.search(one, belowShare, viscosities{1, ratio})
}

// oneFluid is the flow of equal streams, on rows that lie alike above and below
// the middle, so that a symmetrical section stays so.
func (v *solver) oneFluid() (*Flow, error) {
	if v.plain == nil {
		f, err := v.flow(Interface{HeightMM: v.low + (v.high-v.low)/2}, viscosities{1, 1})
		if err != nil {
			return nil, err
		}
		v.plain = f
	}
	return v.plain, nil
}

// heightIn returns the height below which a share of a flow passes.
func (v *solver) heightIn(f *Flow, share float64) float64 {
	goal := share * f.TotalMM4
	near := 1e-13 * (v.high - v.low)
	lo, hi := v.low, v.high
	for hi-lo > near {
		mid := lo + (hi-lo)/2
		if mid <= lo || mid >= hi {
			break
		}
		if f.below(mid) < goal {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + (hi-lo)/2
}

// mostTries is more than a search takes that can end.
const mostTries = 40

// search finds the height by secants kept inside a bracket. The first guess moves
// the line as two viscosities would move it between plates.
func (v *solver) search(one *Flow, share float64, mu viscosities) (*Parting, error) {
	m := mu.below / mu.above
	like := slitShare(slitHeight(share, m), 1) // the share that one fluid has at that height
	bracket := r1.Interval{Lo: v.low, Hi: v.high}
	h := v.heightIn(one, clampShare(like))
	near := v.opts.LineTolerance * (v.high - v.low)
	lastH, lastMiss := math.NaN(), 0.0
	for range mostTries {
		f, err := v.flow(Interface{HeightMM: h}, mu)
		if err != nil {
			return nil, err
		}
		below, above := f.Streams()
		miss := below/(below+above) - share
		if miss > 0 {
			bracket.Hi = h
		} else {
			bracket.Lo = h
		}
		next := v.heightIn(one, clampShare(like-miss))
		if !math.IsNaN(lastH) {
			next = h - miss*(h-lastH)/(miss-lastMiss)
		}
		if !(next > bracket.Lo && next < bracket.Hi) {
			next = bracket.Center()
		}
		if math.Abs(next-h) <= near || miss == 0 || bracket.Length() <= near {
			return v.parted(f, h), nil
		}
		lastH, lastMiss, h = h, miss, next
	}
	return nil, fmt.Errorf("%w: the line for a share of %g", ErrNoConvergence, share)
}

func clampShare(s float64) float64 { return max(1e-6, min(1-1e-6, s)) }

func (v *solver) parted(f *Flow, height float64) *Parting {
	p := &Parting{HeightMM: height, Flow: f, CellMM: v.step}
	p.BelowShare = f.below(height) / f.TotalMM4
	p.BelowAreaShare = v.section.AreaBelowMM2(height) / v.area
	for i := range f.profiles {
		lo, hi := f.profiles[i].y[0], f.profiles[i].y[len(f.profiles[i].y)-1]
		p.BelowMM = max(p.BelowMM, min(hi, height)-lo)
		p.AboveMM = max(p.AboveMM, hi-max(lo, height))
	}
	return p
}
