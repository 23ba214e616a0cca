package mesh

import (
	"fmt"
	"math"
)

// HeightFor returns the height with volumeMM3 of the body below it: the inverse
// of At, to the last digits of a height. Where shells overlap or are inside out
// the volume below may rise and fall; then it is one of the heights with that
// volume below.
//
// The error wraps ErrNoSuchVolume unless 0 <= volumeMM3 <= VolumeMM3(), a part in
// 1e12 more or less allowed for rounding. The cost is that of some ten queries.
//
// Newton's step is -(V-v)/A, since dV/dh = A. It is kept between the nearest
// heights known to be too low and too high, and replaced by their middle where
// it does not at least halve what is left: where a body begins in a tip V goes
// with the cube of h, and Newton alone would creep.
func (l *Levels) HeightFor(volumeMM3 float64) (h float64, err error) {
	whole := l.VolumeMM3()
	slack := math.Abs(whole) * 1e-12
	if !(volumeMM3 >= -slack && volumeMM3 <= whole+slack) {
		return 0, fmt.Errorf("%w: %g mm3 of %g mm3", ErrNoSuchVolume, volumeMM3, whole)
	}
	lowest, highest := l.Range()
	switch {
	case volumeMM3 <= 0:
		return lowest, nil
	case volumeMM3 >= whole:
		return highest, nil
	}
	return l.search(volumeMM3, lowest, highest), nil
}

// search finds the height for v between low, where there is too little below,
// and high.
func (l *Levels) search(v, low, high float64) float64 {
	h := low + (high-low)/2
	lastDigit := 0x1p-53 * max(math.Abs(low), math.Abs(high))
	missedBefore := math.Inf(1)
	for low < h && h < high {
		at := l.At(h)
		miss := at.VolumeBelowMM3 - v
		switch {
		case miss == 0:
			return h
		case miss < 0:
			low = h
		default:
			high = h
		}
		step := -miss / at.SectionAreaMM2
		next := h + step
		if math.Abs(step) <= lastDigit {
			return min(max(next, low), high)
		}
		if !(next > low && next < high) || math.Abs(miss) > missedBefore/2 {
			next = low + (high-low)/2
		}
		missedBefore = math.Abs(miss)
		h = next
	}
	return h
}
