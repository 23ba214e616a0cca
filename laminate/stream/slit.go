package stream

// slitShare is the share of the flow that passes below the interface at part x of
// the gap between two wide plates, for a viscosity below of m times that above:
// both layers' quadratic profiles with equal speed and shear stress at the
// interface (Bird, Stewart and Lightfoot, Transport Phenomena, section 2.5, for
// x = 1/2; from memory).
func slitShare(x, m float64) float64 {
	a := (x*x/(2*m) + (1-x*x)/2) / (x/m + 1 - x)
	below := -x*x*x/(6*m) + a*x*x/(2*m)
	above := -(1-x*x*x)/6 + a*(1-x*x)/2 + (0.5-a)*(1-x)
	return below / (below + above)
}

// slitHeight is the inverse of slitShare, by bisection.
func slitHeight(share, m float64) float64 {
	return bisect(0, 1, func(x float64) bool { return slitShare(x, m) < share })
}

// bisect returns where below turns from true to false, to the last bit.
func bisect(lo, hi float64, below func(float64) bool) float64 {
	for {
		mid := lo + (hi-lo)/2
		if !(mid > lo && mid < hi) {
			return mid
		}
		if below(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
}
